//! `ovenbell odds`: what it answers, and what it refuses.

use super::answers::{json, lesson, ovenbell, status, text, written};

#[test]
fn odds_are_told_as_a_range_and_the_same_every_time() {
    let demo = lesson("demo.ron");
    let args = ["odds", &demo, "--decodings", "200", "--runs", "300", "--at", "30", "--json"];
    let out = ovenbell(&args);
    assert_eq!(status(&out), 0, "{}", text(&out.stderr));
    let answer = json(&out);
    assert_eq!(answer["model"]["spreads"], serde_json::json!([1.0, 0.5]));
    assert_eq!(answer["model"]["runs"], 300);
    let out_of_it = &answer["class"]["before_closing"];
    assert_eq!(out_of_it["basis"], "listed, half");
    assert!(out_of_it["low"].as_f64().unwrap() <= out_of_it["high"].as_f64().unwrap());
    // Its plenary lies while bakes cool: nothing of the closing can be dropped.
    assert!(answer["class"]["by_bell_without_plenary"].is_null());
    assert_eq!(answer["groups"].as_array().unwrap().len(), 8);
    for group in answer["groups"].as_array().unwrap() {
        assert!(group["early"].as_f64() <= group["late"].as_f64(), "{group}");
        assert!(group["to_give"].as_i64().unwrap() >= 0);
    }
    assert!(!answer["causes"].as_array().unwrap().is_empty());
    assert!(answer["checkpoints"].as_array().unwrap().len() <= 4);
    assert_eq!(answer["true_at"]["minute"], 30);
    assert_eq!(text(&ovenbell(&args).stdout), text(&out.stdout));
    let closing = lesson("a-scones-hour.ron");
    let out = ovenbell(&["odds", &closing, "--decodings", "50", "--runs", "50", "--json"]);
    assert!(json(&out)["class"]["by_bell_without_plenary"].is_object());
}

#[test]
fn a_plan_with_better_odds_is_kept_and_played_again() {
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("better.ron").to_str().unwrap().to_owned();
    let lesson = lesson("demo.ron");
    let args = ["odds", &lesson, "--decodings", "60", "--runs", "200", "--better", "--json"];
    let out = ovenbell(&[&args[..], &["--save", &kept]].concat());
    assert_eq!(status(&out), 0, "{}", text(&out.stderr));
    let answer = json(&out);
    let better = &answer["better"];
    assert_eq!(better["plans_built"], 600);
    let found = better["found"].as_bool().unwrap();
    assert_eq!(std::path::Path::new(&kept).exists(), found, "{better}");
    if found {
        let listed = |way: usize| better["groups_out"][way][0].as_f64().unwrap();
        assert!(listed(1) >= listed(0), "{better}");
        let again = ovenbell(&["odds", &lesson, "--plan", &kept, "--runs", "200", "--json"]);
        assert_eq!(json(&again)["class"]["groups_out"][0], better["groups_out"][1][0]);
    }
    // A file is kept of what was looked for, and never over the lesson.
    let out = ovenbell(&["odds", &lesson, "--save", &kept]);
    assert_eq!(status(&out), 2);
    let out = ovenbell(&["odds", &lesson, "--better", "--save", &lesson]);
    assert_eq!(status(&out), 2);
    assert!(text(&out.stderr).contains("is read by the command"), "{}", text(&out.stderr));
}

#[test]
fn odds_in_words_have_no_percentages() {
    let demo = lesson("demo.ron");
    let out = ovenbell(&["odds", &demo, "--decodings", "200", "--runs", "200"]);
    let told = text(&out.stdout);
    assert_eq!(status(&out), 0);
    for part in ["All out before the closing steps: ", "Unit 5: out ", "to give", "not measured"] {
        assert!(told.contains(part), "no \"{part}\" in {told}");
    }
    assert!(!told.contains('%'), "{told}");
    // One spread, one figure.
    let out = ovenbell(&["odds", &demo, "--decodings", "200", "--runs", "200", "--spread", "0"]);
    assert!(text(&out.stdout).contains("All out before the closing steps: nearly always."));
}

#[test]
fn what_cannot_be_played_is_refused_with_its_range() {
    let demo = lesson("demo.ron");
    for (option, value, part) in [
        ("--runs", "0", "from 1 to 200000 times"),
        ("--runs", "1000000000", "from 1 to 200000 times"),
        ("--runs", "many", "from 1 to 200000 times"),
        ("--spread", "-1", "a factor from 0 to 3"),
        ("--spread", "wide", "a factor from 0 to 3"),
        ("--spread", "NaN", "a factor from 0 to 3"),
        ("--at", "noon", "invalid"),
    ] {
        let out = ovenbell(&["odds", &demo, option, value]);
        assert_eq!(status(&out), 2, "{option} {value}");
        assert!(text(&out.stderr).contains(part), "{}", text(&out.stderr));
        assert!(out.stdout.is_empty());
    }
    let folder = tempfile::tempdir().unwrap();
    let original = std::fs::read_to_string(&demo).unwrap();
    let turned = original.replacen("minutes: (4, 5, 8)", "minutes: (6, 5, 8)", 1);
    let out = ovenbell(&["odds", &written(&folder, "turned.ron", &turned)]);
    assert_eq!(status(&out), 2);
    assert!(text(&out.stderr).contains("must not decrease"), "{}", text(&out.stderr));
}

#[test]
fn a_kept_plan_is_played_unless_it_breaks_a_rule() {
    let folder = tempfile::tempdir().unwrap();
    let demo = lesson("demo.ron");
    let kept = folder.path().join("plan.ron").to_str().unwrap().to_owned();
    let out = ovenbell(&["plan", &demo, "--decodings", "200", "--save", &kept]);
    assert_eq!(status(&out), 0, "{}", text(&out.stderr));
    let out = ovenbell(&["odds", &demo, "--plan", &kept, "--runs", "50"]);
    assert_eq!(status(&out), 0, "{}", text(&out.stderr));
    // In a lesson that begins its closing sooner the plan is too late.
    let original = std::fs::read_to_string(&demo).unwrap();
    let shorter = original.replacen("end: \"11:10\"", "end: \"10:56\"", 1);
    let shorter = written(&folder, "shorter.ron", &shorter);
    let out = ovenbell(&["odds", &shorter, "--plan", &kept, "--runs", "50"]);
    assert_eq!(status(&out), 2, "{}", text(&out.stderr));
    assert!(text(&out.stderr).contains("plan.ron: ["), "{}", text(&out.stderr));
    assert!(out.stdout.is_empty());
    // Where nobody is served there is nothing to play.
    let out = ovenbell(&["odds", &lesson("c-rolls-single.ron"), "--decodings", "50"]);
    assert_eq!(status(&out), 1);
    assert!(text(&out.stderr).contains("nothing to play"), "{}", text(&out.stderr));
}

#[test]
fn what_the_lesson_says_of_playing_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let original = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let says = |more: &str| {
        let text = original.replacen("    groups: [", &format!("    {more}\n    groups: ["), 1);
        let path = written(&folder, "says.ron", &text);
        json(&ovenbell(&["odds", &path, "--decodings", "50", "--runs", "20", "--json"]))
    };
    let usual = says("");
    assert!(usual["model"]["call"].as_str().unwrap().starts_with("nobody is waited for"));
    let own = says("together: (class: 0, group: 0.5),");
    assert_eq!(own["model"]["factors"]["class"], 0.0);
    assert_eq!(own["model"]["factors"]["group"], 0.5);
    assert_eq!(own["model"]["factors"]["oven"], usual["model"]["factors"]["oven"]);
    let waiting = original.replacen("rules: (", "rules: (call_waits: true, ", 1);
    assert_ne!(waiting, original);
    let path = written(&folder, "waits.ron", &waiting);
    let few = ["--decodings", "50", "--runs", "20"];
    let waits = json(&ovenbell(&[&["odds", &path, "--json"][..], &few].concat()));
    assert!(waits["model"]["call"].as_str().unwrap().starts_with("waiting"));
    let told = ovenbell(&[&["odds", &path][..], &few].concat());
    let told = text(&told.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("A call waits for its slowest group, for 3 minutes at most."), "{told}");
}
