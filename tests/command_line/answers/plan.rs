//! `plan`: exit status, JSON, seeds, time.

use std::process::Command;

use super::{json, lesson, ovenbell, status, text, written};

#[test]
fn exit_status_tells_how_it_went() {
    let few = ["--decodings", "200"];
    let plan = |name: &str| ovenbell(&[&["plan", &lesson(name)], &few[..]].concat());
    assert_eq!(status(&plan("a-scones-hour.ron")), 0);
    assert_eq!(status(&plan("f-lemon-all-in-one.ron")), 0, "tight is in time");
    assert_eq!(status(&plan("c-rolls-single.ron")), 1);
    assert_eq!(status(&plan("no-such-lesson.ron")), 2);
    assert_eq!(status(&ovenbell(&["plan"])), 2);
    assert_eq!(status(&ovenbell(&["bake"])), 2);
    assert_eq!(status(&ovenbell(&["plan", &lesson("demo.ron"), "--within", "soon"])), 2);
    assert_eq!(status(&ovenbell(&["--help"])), 0);
}

#[test]
fn the_answer_in_json_has_what_it_promises() {
    let output = ovenbell(&["plan", &lesson("demo.ron"), "--json", "--decodings", "2000"]);
    let answer = json(&output);
    for field in [
        "lesson",
        "verdict",
        "served",
        "of",
        "groups",
        "steps",
        "loads",
        "class_steps",
        "objective",
        "proved",
        "assumed",
        "first_plan_ms",
        "elapsed_ms",
    ] {
        assert!(answer.get(field).is_some(), "no {field}");
    }
    assert_eq!(answer["verdict"], "fits");
    assert_eq!(answer["groups"].as_array().unwrap().len(), 8);
    for field in ["name", "verdict", "tin", "method", "departure", "ready", "spare", "by", "reason"]
    {
        assert!(answer["groups"][0].get(field).is_some(), "no {field} of a group");
    }
    for field in ["group", "step", "pupils", "start", "end"] {
        assert!(answer["steps"][0].get(field).is_some(), "no {field} of a step");
    }
    for load in answer["loads"].as_array().unwrap() {
        let round = load["tin"].as_str().unwrap().contains("sandwich");
        let corner: &[&str] = &["x_mm", "y_mm", "turned"];
        let (place, other) = if round {
            (&["centre_x_mm", "centre_y_mm"][..], corner)
        } else {
            (corner, &["centre_x_mm", "centre_y_mm"][..])
        };
        let always = ["oven", "shelf", "group", "tin", "in", "out", "celsius", "dial"];
        for field in always.iter().chain(place) {
            assert!(load.get(field).is_some(), "no {field} of a load");
        }
        assert!(other.iter().all(|field| load.get(field).is_none()), "{load}");
    }
    for field in ["served", "departures", "shortfall", "calls", "latest_ready", "sum_ready", "ends"]
    {
        assert!(answer["objective"].get(field).is_some(), "no {field} of the objective");
    }
    // Two sandwich tins a sponge, one tin for each of the others.
    assert_eq!(answer["loads"].as_array().unwrap().len(), 14);
}

#[test]
fn a_kept_plan_is_judged_again() {
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("plan.ron");
    let kept = kept.to_str().unwrap();
    let few = ["--decodings", "300", "--save", kept];
    assert_eq!(status(&ovenbell(&[&["plan", &lesson("demo.ron")], &few[..]].concat())), 0);
    let judged = ovenbell(&["check", &lesson("demo.ron"), "--plan", kept]);
    assert_eq!(status(&judged), 0, "{}", text(&judged.stderr));

    let plan = std::fs::read_to_string(kept).unwrap();
    let whisk = plan.lines().find(|l| l.contains("electric whisk")).unwrap();
    let bent = written(&folder, "bent.ron", &plan.replace(whisk, ""));
    let judged = ovenbell(&["check", &lesson("demo.ron"), "--plan", &bent, "--json"]);
    assert_eq!(status(&judged), 1);
    let breaches = json(&judged);
    assert_eq!(breaches["ok"], false);
    assert_eq!(breaches["breaches"][0]["rule"], "kit");

    let other = ovenbell(&["check", &lesson("a-scones-hour.ron"), "--plan", kept]);
    assert_eq!(status(&other), 2, "a plan of another lesson names what is not there");
}

#[test]
fn the_same_seed_and_decodings_print_the_same_plan() {
    let answer = |seed: &str| {
        let path = lesson("demo.ron");
        let mut answer =
            json(&ovenbell(&["plan", &path, "--json", "--decodings", "700", "--seed", seed]));
        answer.as_object_mut().unwrap().retain(|field, _| !field.ends_with("_ms"));
        answer
    };
    assert_eq!(answer("4"), answer("4"));
}

#[test]
fn where_no_window_can_be_opened_the_plan_is_told_in_words() {
    let output = Command::new(env!("CARGO_BIN_EXE_ovenbell"))
        .args(["--forget", "--text", "120", "--size", "1280x800", "--theme", "dark", "--contrast"])
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .unwrap();
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    assert!(text(&output.stdout).contains("All eight groups are out by the bell."));
}

#[test]
fn sentences_are_in_the_english_asked_for_and_json_never_changes() {
    let demo = lesson("demo.ron");
    let plan = |more: &[&str]| {
        let args = [&["plan", demo.as_str(), "--decodings", "300"], more].concat();
        text(&ovenbell(&args).stdout)
    };
    let british = plan(&[]);
    assert!(british.contains("160 °C fan") && british.contains("Top shelf"), "{british}");
    assert_eq!(plan(&["--english", "british"]), british);
    let american = plan(&["--english", "american"]);
    assert!(american.contains("325 °F convection") && american.contains("Top rack"), "{american}");
    assert!(!american.contains("°C") && !american.contains("shelf"), "{american}");
    // Names are the lesson's own.
    assert!(american.contains("two 18 cm sandwich tins"));
    let answer = |english: &str| {
        let args = ["tins", demo.as_str(), "--json", "--english", english];
        text(&ovenbell(&args).stdout)
    };
    assert_eq!(answer("american"), answer("british"));
    assert_eq!(status(&ovenbell(&["plan", &demo, "--english", "french"])), 2);
}

#[test]
fn where_time_runs_out_the_answer_says_so() {
    let few = lesson("c-rolls-single.ron");
    let output = ovenbell(&["why", &few, "--within", "0"]);
    assert_eq!(status(&output), 1);
    assert!(text(&output.stdout).contains("Time ran out"), "{}", text(&output.stdout));
    let answer = json(&ovenbell(&["why", &few, "--within", "0", "--json"]));
    assert_eq!(answer["time_ran_out"], true);
    let answer = json(&ovenbell(&["changes", &few, "--within", "0", "--json"]));
    assert_eq!(answer["enough"], "not all tried");
    for command in ["plan", "today"] {
        assert_eq!(status(&ovenbell(&[command, &few, "--within", "0"])), 1, "{command}");
    }
}
