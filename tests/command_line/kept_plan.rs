//! A plan kept with its lesson: what commands go by from then on.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn ovenbell(args: &[&str]) -> Output {
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args).env("OVENBELL_DATA", nowhere).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn json(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", err(output)))
}

/// A folder with a copy of a lesson, and the copy's path.
fn copied(lesson: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.ron");
    let lesson = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(lesson);
    fs::copy(lesson, &path).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path)
}

#[test]
fn a_plan_kept_with_its_lesson_is_its_plan_until_the_best_is_asked_for() {
    let (_folder, lesson) = copied("demo.ron");
    let plan = |more: &[&str]| ovenbell(&[&["plan", &lesson, "--decodings", "60"], more].concat());
    assert_eq!(json(&plan(&["--json"]))["kept"], false);
    let kept = json(&plan(&["--seed", "7", "--keep", "--json"]));
    assert_eq!(kept["kept"], false, "it was looked for");
    let again = plan(&["--json"]);
    assert!(err(&again).contains("goes by the plan kept with the lesson"), "{}", err(&again));
    let again = json(&again);
    assert_eq!((&again["kept"], &again["decodings"]), (&true.into(), &0.into()));
    for part in ["steps", "loads", "class_steps", "objective"] {
        assert_eq!(again[part], kept[part], "{part}");
    }
    assert!(out(&plan(&[])).contains("goes by the plan kept with the lesson"));
    let anew = json(&plan(&["--anew", "--json"]));
    assert_eq!(anew["kept"], false);
    assert_ne!(anew["loads"], kept["loads"], "another seed, another plan");
    assert!(
        out(&ovenbell(&["check", &lesson])).contains("The plan kept with it keeps every rule.")
    );
    for command in [["why", &lesson], ["changes", &lesson]] {
        let said = out(&ovenbell(&command));
        assert!(said.contains("goes by the plan kept with the lesson"), "{command:?}: {said}");
        let anew = out(&ovenbell(&[command[0], command[1], "--anew"]));
        assert!(!anew.contains("goes by the plan kept"), "{command:?}");
    }
}

#[test]
fn the_day_is_planned_from_what_was_told_and_keeps_its_own_plan() {
    let (folder, lesson) = copied("demo.ron");
    let few = ["--decodings", "60"];
    let kept = ovenbell(&[&["plan", &lesson, "--keep", "--json"], &few[..]].concat());
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let args = ["today", &lesson, "--absent", "Unit 7", "--save", &day];
    let today = ovenbell(&[&args[..], &few[..]].concat());
    let said = out(&today);
    assert!(said.contains("goes by the plan kept with the lesson"), "{said}{}", err(&today));
    assert!(out(&today).contains("All keep their times."), "{}{}", out(&today), err(&today));
    let plan = ovenbell(&["plan", &day, "--json"]);
    assert_eq!(json(&plan)["loads"], json(&kept)["loads"]);
    assert_eq!(json(&plan)["kept"], true);
    // It says which lesson it is the day of; that lesson's file is only read.
    let of = fs::read_to_string(&day).unwrap();
    assert!(of.contains("of: (file: \"lesson.ron\")"), "{of}");
    fs::rename(&lesson, folder.path().join("moved.ron")).unwrap();
    let told = err(&ovenbell(&["check", &day]));
    assert!(told.contains("[pointer] today.of: \"lesson.ron\" is not there"), "{told}");
}

#[test]
fn a_kept_plan_that_no_longer_holds_is_told_with_its_line_and_planned_around() {
    let (_folder, lesson) = copied("demo.ron");
    let few = ["--decodings", "60"];
    assert_eq!(ovenbell(&[&["plan", &lesson, "--keep"], &few[..]].concat()).status.code(), Some(0));
    let text = fs::read_to_string(&lesson).unwrap();
    let told = text.find("    told: (").unwrap();
    let load = told + text[told..].find("loads: [").unwrap();
    let oven = load + text[load..].find("oven: \"Oven").unwrap();
    let broken = format!("{}oven: \"Range{}", &text[..oven], &text[oven + "oven: \"Oven".len()..]);
    fs::write(&lesson, &broken).unwrap();
    let line = text[..oven].matches('\n').count() + 1;
    let output = ovenbell(&[&["plan", &lesson, "--json"], &few[..]].concat());
    let said = err(&output);
    assert!(said.contains(&format!("{lesson}:{line}:")), "{line}: {said}");
    assert!(said.contains("no longer holds"), "{said}");
    assert_eq!(json(&output)["served"], 8);
    assert_eq!(json(&output)["kept"], false);
    let check = ovenbell(&["check", &lesson]);
    assert_eq!(check.status.code(), Some(1));
    assert_eq!(fs::read_to_string(&lesson).unwrap(), broken, "nothing is written unasked");
}

#[test]
fn a_plan_is_kept_with_no_lesson_that_is_in_use_or_protected() {
    let (folder, lesson) = copied("a-scones-hour.ron");
    let before = fs::read_to_string(&lesson).unwrap();
    let keep = || ovenbell(&["plan", &lesson, "--keep", "--decodings", "60"]);
    fs::write(folder.path().join(".lesson.ron.unsaved"), &before).unwrap();
    let output = keep();
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("not saved stand beside it"), "{}", err(&output));
    fs::remove_file(folder.path().join(".lesson.ron.unsaved")).unwrap();
    let mut protected = fs::metadata(&lesson).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(&lesson, protected).unwrap();
    let output = keep();
    assert!(err(&output).contains("write-protected"), "{}", err(&output));
    assert_eq!(fs::read_to_string(&lesson).unwrap(), before);
}
