//! `ovenbell rehearse`: gaps in watching counted anew from what `plan --json`
//! says, everything called at its minute, and what it refuses.

use serde_json::Value;

use super::answers::{json, lesson, ovenbell, status, text, written};

const FEW: [&str; 2] = ["--decodings", "200"];

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap()
}

/// The sample lesson, its technician there until a minute only, and its plan.
fn planned_with_technician_until(
    folder: &tempfile::TempDir,
    until: i64,
) -> (String, String, Value) {
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let hours = "hours: [(-60, 30), (45, 65)]";
    assert!(demo.contains(hours));
    let changed = demo.replace(hours, &format!("hours: [(-30, {until})]"));
    let file = written(folder, "lesson.ron", &changed);
    let plan = folder.path().join("plan.ron").to_str().unwrap().to_owned();
    let args = [&["plan", file.as_str(), "--save", plan.as_str(), "--json"][..], &FEW].concat();
    let answer = json(&ovenbell(&args));
    (file, plan, answer)
}

/// Minutes at which an oven is on and nobody is free, with the number of such
/// ovens: by jobs that the lesson gives the teacher, who is always there, and by
/// the technician's hours.
fn unwatched(plan: &Value, technician_until: i64) -> Vec<(i64, usize)> {
    let during = |of: &Value, from: &str, minute| {
        number(&of[from]) <= minute && minute < number(&of["until"])
    };
    let has = |who: &str, minute: i64| {
        plan["jobs"].as_array().unwrap().iter().any(|job| {
            job["adult"] == who
                && job["assumed"] == false
                && (job["task"] == "class-step" || job["task"] == "with-group")
                && during(job, "start_by", minute)
        })
    };
    let mut found = Vec::new();
    for minute in -30..65 {
        let there = (-30..technician_until).contains(&minute);
        let free = !has("teacher", minute) || (there && !has("technician", minute));
        let settings = plan["settings"].as_array().unwrap().iter();
        let hot = settings.filter(|s| during(s, "on", minute)).count();
        if hot > 0 && !free {
            found.push((minute, hot));
        }
    }
    found
}

#[test]
fn when_nobody_is_free_is_what_the_plans_own_figures_say() {
    let folder = tempfile::tempdir().unwrap();
    for technician_until in [10, 65] {
        let (file, kept, plan) = planned_with_technician_until(&folder, technician_until);
        let answer = json(&ovenbell(&["rehearse", &file, "--plan", &kept, "--json"]));
        let mut told = Vec::new();
        for gap in answer["gaps"].as_array().unwrap() {
            let hot = gap["what_is_hot"].as_array().unwrap().len();
            told.extend((number(&gap["from"])..number(&gap["until"])).map(|m| (m, hot)));
            assert_eq!(gap["why_nobody"].as_array().unwrap().len(), 2, "{gap}");
        }
        let expected = unwatched(&plan, technician_until);
        assert_eq!(told, expected, "technician there until {technician_until}");
        assert_eq!(expected.is_empty(), technician_until == 65);
        let words = ovenbell(&["rehearse", &file, "--plan", &kept]);
        let asks = text(&words.stdout).contains("Who watches Oven");
        assert_eq!(asks, !expected.is_empty(), "{}", text(&words.stdout));
    }
}

#[test]
fn everything_is_called_at_its_minute_and_one_minute_is_told_in_full() {
    let folder = tempfile::tempdir().unwrap();
    let (file, kept, plan) = planned_with_technician_until(&folder, 65);
    let answer = json(&ovenbell(&["rehearse", &file, "--plan", &kept, "--json"]));
    let minutes = answer["minutes"].as_array().unwrap();
    let said = |minute: i64, word: &str| {
        let card = minutes.iter().find(|card| number(&card["minute"]) == minute).unwrap();
        let say = card["teacher"]["say"].as_array().unwrap();
        assert!(say.iter().any(|line| line.as_str().unwrap().contains(word)), "{minute}: {card}");
    };
    for load in plan["loads"].as_array().unwrap() {
        said(number(&load["in"]), load["oven"].as_str().unwrap());
    }
    said(0, "Register");
    // The technician weighs before the bell, for all eight, by the file's own hours.
    let weigh = |job: &&Value| job["what"].as_str().unwrap().starts_with("weigh beforehand");
    let jobs = answer["jobs"].as_array().unwrap();
    let weigh: Vec<&Value> = jobs.iter().filter(weigh).collect();
    // One after another, five minutes each, that of the unit that is kept apart first.
    let names: Vec<&str> = weigh.iter().map(|job| job["what"].as_str().unwrap()).collect();
    assert_eq!(names[0], "weigh beforehand for Unit 8");
    assert!(names.iter().all(|n| n.ends_with("5 minutes each") || *n == names[0]), "{names:?}");
    let long = |job: &&Value| number(&job["until"]) - number(&job["start_by"]);
    assert_eq!(weigh.iter().map(long).sum::<i64>(), 8 * 5);
    for (one, next) in weigh.iter().zip(&weigh[1..]) {
        assert!(number(&one["until"]) <= number(&next["start_by"]), "{names:?}");
    }
    assert!(weigh.iter().all(|job| job["who"] == "technician"));
    assert!(weigh.iter().all(|job| number(&job["until"]) <= 0));
    // 10:05 and 25 minutes.
    let card = ovenbell(&["rehearse", &file, "--plan", &kept, "--at", "10:30"]);
    let told = text(&card.stdout);
    assert_eq!(status(&card), 0, "{}", text(&card.stderr));
    for word in ["10:30", "Unit 8: ", "Oven 4: ", "teacher: "] {
        assert!(told.contains(word), "{word}: {told}");
    }
    let one = json(&ovenbell(&["rehearse", &file, "--plan", &kept, "--at", "10:30", "--json"]));
    assert_eq!(one["minutes"].as_array().unwrap().len(), 1);
    assert_eq!(one["minutes"][0]["minute"], 25);
}

#[test]
fn the_teachers_notes_are_told_at_the_minutes_the_plan_gives_them() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let notes = r#"    teacher: [
        (at: "demo", say: "Eyes on my hands."),
        (at: "load Oven 2", say: "Gloves on, tin level.", do: "Stand beside it."),
        (at: "load Oven 77", do: "There is none."),
    ],
    groups: ["#;
    assert_eq!(demo.matches("\n    groups: [").count(), 1);
    let file = written(&folder, "lesson.ron", &demo.replace("    groups: [", notes));
    let plan = folder.path().join("plan.ron").to_str().unwrap().to_owned();
    let args = [&["plan", file.as_str(), "--save", plan.as_str(), "--json"][..], &FEW].concat();
    let planned = ovenbell(&args);
    assert!(text(&planned.stderr).contains("belongs nowhere now"), "{}", text(&planned.stderr));
    let loads = json(&planned)["loads"].as_array().unwrap().clone();
    let first =
        loads.iter().filter(|load| load["oven"] == "Oven 2").map(|l| number(&l["in"])).min();
    let answer = json(&ovenbell(&["rehearse", &file, "--plan", &plan, "--json"]));
    let minutes: Vec<&Value> =
        answer["notes"].as_array().unwrap().iter().map(|note| &note["minute"]).collect();
    // Register and aprons take seven minutes.
    assert_eq!(minutes, [&Value::from(7), &Value::from(first.unwrap()), &Value::Null]);
    let cards = answer["minutes"].as_array().unwrap();
    let has = |part: &str, words: &str| -> Vec<i64> {
        let of = cards.iter().filter(|card| {
            card["teacher"][part].as_array().unwrap().iter().any(|line| line == words)
        });
        of.map(|card| number(&card["minute"])).collect()
    };
    assert_eq!(has("say", "Eyes on my hands."), [7]);
    assert_eq!(has("say", "Gloves on, tin level."), [first.unwrap()]);
    assert_eq!(has("do", "Stand beside it."), [first.unwrap()]);
    assert!(has("do", "There is none.").is_empty());
    let told = text(&ovenbell(&["rehearse", &file, "--plan", &plan]).stdout);
    assert!(told.contains("10:12  My words: Eyes on my hands."), "{told}");
    assert!(told.contains("Belongs nowhere now: load Oven 77 (There is none.)"), "{told}");
    let one = text(&ovenbell(&["rehearse", &file, "--plan", &plan, "--at", "10:12"]).stdout);
    assert!(one.contains("My words\n  Eyes on my hands."), "{one}");
}

#[test]
fn a_time_outside_the_lesson_is_refused_with_what_there_is() {
    let demo = lesson("demo.ron");
    let out = ovenbell(&[&["rehearse", &demo, "--at", "14:00"][..], &FEW].concat());
    assert_eq!(status(&out), 2);
    let told = text(&out.stderr);
    assert!(told.contains("nothing happens at 14:00") && told.contains("to 11:10"), "{told}");
    assert!(out.stdout.is_empty());
}

#[test]
fn a_slip_is_thrown_in_and_answered_and_nothing_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let file = written(&folder, "lesson.ron", &demo);
    let slip = |slip: &str| {
        let args = ["rehearse", &file, "--at", "10:26", "--slip", slip, "--json"];
        ovenbell(&[&args[..], &FEW].concat())
    };
    let none = json(&slip("Unit 3 behind 0"));
    assert_eq!(none["responses"], serde_json::json!([]));
    assert_eq!(none["behind"], serde_json::json!([]));
    let late = json(&slip("Unit 3 behind 20"));
    let behind = late["behind"][0].as_str().unwrap();
    assert!(behind.starts_with("Unit 3 is 20 behind"), "{behind}");
    assert!(!late["if_nothing"].as_array().unwrap().is_empty());
    for response in late["responses"].as_array().unwrap() {
        for field in ["what", "asks", "moves", "ready", "keeps"] {
            assert!(response.get(field).is_some(), "no {field} in {response}");
        }
    }
    assert_eq!(late["help"], serde_json::json!([]), "nobody makes up twenty minutes");
    // Of some who are a little late it is said what an adult's help would have to bring.
    let mut helped = 0;
    for unit in 1..=8 {
        let slip = format!("Unit {unit} behind 4");
        let args = ["rehearse", &file, "--at", "10:18", "--slip", &slip];
        let answer = json(&ovenbell(&[&args[..], &["--json"], &FEW].concat()));
        for help in answer["help"].as_array().unwrap() {
            assert_eq!(help["group"], format!("Unit {unit}"));
            assert!((1..=4).contains(&number(&help["minutes"])), "{help}");
            for free in help["free"].as_array().unwrap() {
                let (from, until) = (free["from"].as_str().unwrap(), free["until"].as_str());
                assert!("10:18" <= from && until <= help["by"].as_str(), "{help}");
            }
            let what = help["what"].as_str().unwrap();
            let words = text(&ovenbell(&[&args[..], &FEW].concat()).stdout);
            let told = words.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(told.contains(what), "{what} is missing from\n{words}");
            helped += 1;
        }
    }
    assert!(helped > 0);
    let words = ovenbell(
        &[&["rehearse", &file, "--at", "10:26", "--slip", "Unit 3 behind 20"][..], &FEW].concat(),
    );
    assert!(text(&words.stdout).contains("If nothing is done"), "{}", text(&words.stdout));
    assert_eq!(status(&slip("Unit 9 behind 4")), 2);
    assert!(text(&slip("Unit 9 behind 4").stderr).contains("there are: Unit 1"));
    assert_eq!(status(&slip("Unit 3 ahead 4")), 2);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), demo);
}
