//! The day of the lesson: facts, and plans from there.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::common::how_many::how_many;

use super::{demo_text, json, lesson, ovenbell, status, text, written};

#[test]
fn a_day_is_planned_and_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let [day, plan] = ["day.ron", "plan.ron"].map(|name| folder.path().join(name));
    let [day, plan] = [day.to_str().unwrap(), plan.to_str().unwrap()];
    let few = ["--decodings", "500"];
    let keep = ["--save", day, "--save-plan", plan, "--at", "10:09"];
    let absent = ["today", &lesson("demo.ron"), "--absent", "Unit 3"];
    let output = ovenbell(&[&absent[..], &few, &keep].concat());
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    let told = text(&output.stdout);
    for said in [
        "10:09 A pupil of Unit 3 is absent: one goes on.",
        "All eight groups are out by the bell.",
        "All others keep their times.",
    ] {
        assert!(told.contains(said), "{said} is missing from\n{told}");
    }
    assert!(told.lines().all(|l| l.chars().count() <= 100));
    let kept = std::fs::read_to_string(day).unwrap();
    assert!(kept.contains("// Lemon bakes"), "comments stay");

    let on = ["today", day, "--plan", plan, "--joined", "Unit 1+Unit 2", "--json"];
    let output = ovenbell(&[&on[..], &few].concat());
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    let answer = json(&output);
    for field in ["lesson", "outcome", "next", "verdict", "served", "of", "ready", "others", "kept"]
    {
        assert!(answer.get(field).is_some(), "no {field}");
    }
    assert_eq!(answer["happened"][0]["at"], "10:09");
    assert_eq!(answer["happened"][1]["at"], serde_json::Value::Null);
    assert_eq!(answer["spare_sets"], 1);
    assert_eq!(answer["changes"][0]["group"], "Unit 1");
    assert_eq!(answer["changes"][0]["change"], "Unit 1 works with Unit 2.");
    assert_eq!(answer["kept"]["all"], answer["kept"]["others"]);
}

#[test]
fn what_cannot_happen_is_refused_with_its_reason() {
    let today = |what: &[&str]| ovenbell(&[&["today", &lesson("demo.ron")], what].concat());
    for (what, reason) in [
        (&["--absent", "Unit 9"][..], "There is no group \"Unit 9\"."),
        (&["--joined", "Unit 8+Unit 1"], "Unit 8 is kept apart"),
        (&["--joined", "Unit 6+Unit 1"], "Unit 6 makes whisked sponge"),
        (&["--oven-out", "Oven 9"], "There is no oven \"Oven 9\"."),
        (&["--late", "55"], "no time is left to bake"),
        (&["--reserve", "Unit 1=trifle"], "There is no recipe \"trifle\"."),
        (&["--adult-away", "caretaker"], "There is no adult \"caretaker\"."),
        (&["--adult-away", "caretaker", "--at", "10:20"], "There is no adult \"caretaker\"."),
        (&["--adult-away", "teacher"], "The teacher is named for \"demo\""),
        (
            &["--adult-away", "teacher", "--at", "10:20"],
            "The teacher is named for \"stop and look\"",
        ),
        (&["--forgotten", "Unit 1", "--forgotten", "Unit 2"], "No spare set is left for Unit 2."),
    ] {
        let output = today(what);
        let told = text(&output.stderr);
        assert_eq!(status(&output), 2, "{what:?}");
        assert!(told.contains(reason), "{what:?}: {told}");
        assert!(output.stdout.is_empty());
    }
    // Of the demo's groups the first begin at 10:15.
    let at =
        |time: &str, what: &[&str]| today(&[what, &["--at", time, "--decodings", "500"]].concat());
    for (time, refused) in [("09:30", false), ("10:16", false), ("12:00", true)] {
        let output = at(time, &["--absent", "Unit 3"]);
        assert_eq!(status(&output) == 2, refused, "{time}");
        let told = text(&output.stderr);
        assert_eq!(told.contains("The lesson is over by 12:00."), refused, "{time}: {told}");
    }
    let late = at("10:16", &["--late", "5"]);
    assert!(status(&late) < 2, "five minutes late nobody has begun: {}", text(&late.stderr));
    let late = at("10:22", &["--late", "5"]);
    let told = text(&late.stderr);
    assert_eq!(status(&late), 2);
    assert!(told.contains("the first at 10:15") && told.contains("which steps are done"), "{told}");
    let spoiled = at("10:30", &["--forgotten", "Unit 1"]);
    assert_eq!(status(&spoiled), 2);
    assert!(text(&spoiled.stderr).contains("Unit 1 has begun by 10:30"));
    assert_eq!(status(&today(&["--joined", "Unit 1"])), 2, "two names are wanted");
    assert_eq!(status(&today(&["--at", "noon"])), 2);
}

#[test]
fn in_mid_lesson_the_answer_says_what_is_presumed_and_what_a_failing_oven_loses() {
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "500"];
    let demo = lesson("demo.ron");
    let told = folder.path().join("told.ron").to_str().unwrap().to_owned();
    let plan = ["plan", demo.as_str(), "--save", told.as_str(), "--json"];
    let plan = json(&ovenbell(&[&plan[..], &few].concat()));
    let minute = |of: &serde_json::Value, field: &str| of[field].as_i64().unwrap();
    let loads = plan["loads"].as_array().unwrap();
    let first = loads.iter().min_by_key(|l| minute(l, "in")).unwrap();
    let (oven, now) = (first["oven"].as_str().unwrap(), minute(first, "in") + 5);
    let at = format!("{:02}:{:02}", 10 + (5 + now) / 60, (5 + now) % 60);
    let inside = loads
        .iter()
        .filter(|l| l["oven"] == first["oven"] && minute(l, "in") < now && now < minute(l, "out"));
    let mut inside: Vec<&str> = inside.map(|l| l["group"].as_str().unwrap()).collect();
    inside.dedup();
    let asked = ["today", &demo, "--oven-out", oven, "--at", &at, "--save", &day, "--json"];
    let output = ovenbell(&[&asked[..], &["--plan", &told], &few].concat());
    assert_eq!(status(&output), 1, "{}", text(&output.stderr));
    let answer = json(&output);
    assert_eq!(answer["presumed"], at.as_str());
    for group in inside {
        let change = answer["changes"].as_array().unwrap().iter().find(|c| c["group"] == group);
        let told = change.unwrap()["change"].as_str().unwrap();
        let expected =
            format!("{group} loses its bake: its tins are in {oven}, which failed at {at}.");
        assert_eq!(told, expected);
    }
    // Kept, it is gone on with, and says so in words.
    let later = format!("{:02}:{:02}", 10 + (6 + now) / 60, (6 + now) % 60);
    let asked = ["today", &day, "--oven-works", oven, "--at", &later];
    let output = ovenbell(&[&asked[..], &few].concat());
    let told = text(&output.stdout);
    assert!(told.contains("is presumed by the plan"), "{told}{}", text(&output.stderr));
    assert!(!told.contains("goes in at"), "{told}");
}

#[test]
fn an_adult_who_is_called_away_is_planned_around() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let doors = demo.replace("rules: (call: 3,", "rules: (adult_at_doors: true, call: 3,");
    assert_ne!(demo, doors);
    let file = written(&folder, "lesson.ron", &doors);
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "300"];
    let away = ["today", &file, "--adult-away", "technician", "--save", &day, "--json"];
    let output = ovenbell(&[&away[..], &["--at", "10:20"], &few].concat());
    assert!(status(&output) < 2, "{}", text(&output.stderr));
    let answer = json(&output);
    assert_eq!(answer["presumed"], "10:20");
    let log = serde_json::json!({"at": "10:20", "what": "The technician is away from 10:20 on."});
    assert_eq!(answer["happened"][0], log);
    assert!(std::fs::read_to_string(&day).unwrap().contains("(-60, 15)"));
    let plan = json(&ovenbell(&["plan", &day, "--json"]));
    let jobs = plan["jobs"].as_array().unwrap();
    let theirs = |who: &str| jobs.iter().filter(|j| j["adult"] == who).collect::<Vec<_>>();
    assert!(!theirs("teacher").is_empty());
    for job in theirs("technician") {
        assert!(job["until"].as_i64().unwrap() <= 15, "{job}");
    }
    let again = ["today", &day, "--adult-away", "technician", "--at", "10:25"];
    let output = ovenbell(&[&again[..], &few].concat());
    assert_eq!(status(&output), 2);
    let told = text(&output.stderr);
    assert!(told.contains("The technician is not there from 10:25 on as it is."), "{told}");
    // Before anybody has begun: not at all.
    let away = ["today", &file, "--adult-away", "technician", "--json"];
    let answer = json(&ovenbell(&[&away[..], &few].concat()));
    assert_eq!(answer["happened"][0]["what"], "The technician is away.");
}

#[test]
fn facts_are_written_into_the_copy_at_once_and_answered() {
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "300"];
    let begin = ["today", &lesson("demo.ron"), "--oven-out", "Oven 4", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day], &few].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    let tell = |more: &[&str]| ovenbell(&[&["today", day.as_str()], more, &few].concat());
    let answer = json(&tell(&["--tell", "Unit 3=late 30", "--at", "10:20", "--json"]));
    let kept = std::fs::read_to_string(&day).unwrap();
    assert!(kept.contains("who: \"Unit 3\"") && kept.contains("late 30"), "{kept}");
    assert!(kept.contains("// Lemon bakes"), "comments stay");
    assert_eq!(answer["now"], "10:20");
    assert_eq!(answer["told"][0]["what"], "late 30");
    assert_eq!(answer["behind"][0]["minutes"], 30);
    assert_eq!(answer["kept"], true);
    assert!(answer["question"]["if_nothing"].as_array().is_some_and(|all| !all.is_empty()));
    let presumed = answer["presumed"].as_array().unwrap();
    assert!(presumed.iter().all(|p| p["group"] != "Unit 3") && !presumed.is_empty());

    let output = tell(&["--tell", "Unit 3=late 0", "--tell", "Unit 1=out", "--at", "10:21"]);
    let words = text(&output.stdout);
    assert!(words.contains("Presumed by the plan: nothing was told"), "{words}");
    assert!(words.contains("\"Unit 1\" was not told to be in"), "{words}");
    assert!(!words.contains("If nothing is done"), "{words}");
    assert_eq!(status(&output), 0, "{words}");

    let before = std::fs::read_to_string(&day).unwrap();
    for (told, says) in
        [("Unit 3=soon", "go, in, out, ready"), ("Unit 30=go", "There is no group \"Unit 30\".")]
    {
        let output = tell(&["--tell", told]);
        assert_eq!(status(&output), 2);
        assert!(text(&output.stderr).contains(says), "{}", text(&output.stderr));
    }
    let lesson_itself = written(&folder, "lesson.ron", &demo_text());
    let output = ovenbell(&["today", &lesson_itself, "--tell", "Unit 3=go"]);
    assert_eq!(status(&output), 2);
    assert!(text(&output.stderr).contains("not a copy for the day"));
    assert_eq!(std::fs::read_to_string(&lesson_itself).unwrap(), demo_text());
    assert_eq!(std::fs::read_to_string(&day).unwrap(), before);
}

#[test]
fn a_fact_that_was_shown_as_told_is_in_the_copy_though_the_command_is_killed() {
    use std::io::{BufRead as _, BufReader};
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let begin = ["today", &lesson("demo.ron"), "--oven-out", "Oven 4", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day, "--decodings", "200"]].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    let fresh = std::fs::read_to_string(&day).unwrap();
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let (mut shown, kills) = (0, how_many("OVENBELL_KILLS", 4));
    for number in 1..=kills {
        // Each of the eight units is late once, then the day is begun anew.
        let late = 1 + (number - 1) % 8;
        if late == 1 {
            std::fs::write(&day, &fresh).unwrap();
        }
        let fact = format!("Unit {late}=late {late}");
        let args = ["today", &day, "--tell", &fact, "--at", "10:20", "--decodings", "1"];
        let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
        program.args(args).env("OVENBELL_DATA", &nowhere).stderr(Stdio::null());
        let mut child = program.stdout(Stdio::piped()).spawn().unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        // Half of them as soon as they have shown it, the others whenever.
        let told = if number % 2 == 0 {
            lines.map_while(Result::ok).any(|l| l.contains(&format!("late {late} at 10:20")))
        } else {
            std::thread::sleep(Duration::from_millis(number * 7 % 90));
            false
        };
        child.kill().unwrap();
        child.wait().unwrap();
        let kept = std::fs::read_to_string(&day).unwrap();
        ovenbell::file::read_lesson(&kept).unwrap();
        assert!(!told || kept.contains(&format!("what: \"late {late}\"")), "{kept}");
        shown += u64::from(told);
    }
    assert_eq!(shown, kills / 2);
    let answer = json(&ovenbell(&[
        "today",
        &day,
        "--tell",
        "Unit 8=go",
        "--at",
        "10:20",
        "--json",
        "--decodings",
        "200",
    ]));
    assert!(answer["told"].as_array().unwrap().iter().any(|t| t["group"] == "Unit 8"));
    // Who wrote last has cleared away what those before left.
    let lies_about = |name: &String| !["day.ron", "day.ron.bak"].contains(&name.as_str());
    let names = std::fs::read_dir(folder.path()).unwrap();
    let names = names.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    assert_eq!(names.filter(lies_about).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn a_day_that_is_over_is_noted_once_and_only_as_it_was_told() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (day, outcomes, few) = (at("day.ron"), at("outcomes.csv"), ["--decodings", "100"]);
    let begin = ["today", &lesson("demo.ron"), "--forgotten", "Unit 2", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day], &few].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    for (at, told) in [("10:13", "Unit 1=go"), ("10:31", "Unit 1=in"), ("10:49", "Unit 1=out")] {
        let tell = ["today", &day, "--tell", told, "--at", at];
        assert!(status(&ovenbell(&[&tell[..], &few].concat())) < 2);
    }
    let asked = |more: &[&str]| {
        ovenbell(&[&["afterwards", day.as_str(), "--outcomes", &outcomes], more].concat())
    };
    let answer = json(&asked(&["--last", "Unit 1", "11:01", "--next", "Demo shorter.", "--json"]));
    assert_eq!(answer["told"], 4);
    assert_eq!(answer["next"], "Demo shorter.");
    assert_eq!(answer["bakes"][0]["minutes"], 18.0);
    let learned = answer["learned"].as_array().unwrap();
    assert!(learned.iter().any(|l| l["what"] == "making up lemon bake (all-in-one)"), "{answer}");
    assert!(
        learned.iter().all(|l| l["lessons"] == 1) && answer["offered"] == serde_json::json!([])
    );
    let lines = |name: &str| std::fs::read_to_string(at(name)).unwrap().lines().count();
    let before = (lines("minutes.csv"), lines("outcomes.csv"));
    assert_eq!(before.1, 2);
    let again = asked(&[]);
    assert_eq!(status(&again), 0, "{}", text(&again.stderr));
    assert!(text(&again.stdout).contains("Next time: Demo shorter."));
    assert_eq!((lines("minutes.csv"), lines("outcomes.csv")), before, "noted once");
    let of_lesson = ovenbell(&["afterwards", &lesson("demo.ron"), "--outcomes", &outcomes]);
    assert_eq!(status(&of_lesson), 2);
}
