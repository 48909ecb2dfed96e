//! A week begun from lessons by a command: the same file and the same clashes as in the
//! window, and nothing of anybody's is written over.

use std::fs;
use std::path::Path;
use std::process::Output;

use crate::common::program::{lesson, ovenbell};

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&[&output.stdout[..], &output.stderr].concat()).into_owned()
}

fn copies(folder: &Path) -> [String; 3] {
    ["a-scones-hour.ron", "d-sponges-gas.ron", "f-lemon-creamed.ron"].map(|name| {
        let to = folder.join(name);
        fs::copy(lesson(name), &to).unwrap();
        to.to_str().unwrap().to_owned()
    })
}

#[test]
fn a_week_is_begun_from_lessons_and_can_be_planned() {
    let folder = tempfile::tempdir().unwrap();
    let [scones, sponges, lemon] = copies(folder.path());
    let week = folder.path().join("week.ron");
    let week = week.to_str().unwrap();
    // Which week it is has to be said where no lesson has a date.
    let output = ovenbell(&["begin-week", week, &scones]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(told(&output).contains("--of 2026-11-30") && !Path::new(week).exists());
    let output =
        ovenbell(&["begin-week", week, &scones, &sponges, &lemon, &scones, "--of", "2026-12-02"]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let said = told(&output);
    assert!(said.contains("4 lessons in the week of 2026-11-30"), "{said}");
    // The same lesson once more is on the next day its room is free.
    assert!(said.contains("Monday") && said.contains("Tuesday"), "{said}");
    let text = fs::read_to_string(week).unwrap();
    assert!(text.contains("week: \"2026-11-30\"") && text.contains("\"a-scones-hour.ron\""));
    let output = ovenbell(&["week", week, "--json"]);
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["lessons"].as_array().unwrap().len(), 4);
    // What is there is not written over.
    let output = ovenbell(&["begin-week", week, &lemon, "--of", "2026-12-02"]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(told(&output).contains("already"), "{}", told(&output));
    assert_eq!(fs::read_to_string(week).unwrap(), text);
}

#[test]
fn what_is_no_lesson_begins_no_week() {
    let folder = tempfile::tempdir().unwrap();
    let [scones, ..] = copies(folder.path());
    let odd = folder.path().join("odd.ron");
    fs::write(&odd, "(format: 2").unwrap();
    let week = folder.path().join("week.ron");
    let (odd, path) = (odd.to_str().unwrap(), week.to_str().unwrap());
    let before = fs::read_to_string(&scones).unwrap();
    for wrong in [odd, "not-there.ron", folder.path().to_str().unwrap()] {
        let output = ovenbell(&["begin-week", path, &scones, wrong, "--of", "2026-12-02"]);
        assert_eq!(output.status.code(), Some(2), "{}", told(&output));
        assert!(told(&output).contains(wrong) && !week.exists(), "{}", told(&output));
    }
    // Nothing is written, not even an id, before all of it is known to be sound.
    let output = ovenbell(&["begin-week", path, &scones, "--of", "0026-11-30"]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert!(!week.exists());
    assert_eq!(fs::read_to_string(&scones).unwrap(), before);
    // Somebody's lesson is no place for a week.
    let output = ovenbell(&["begin-week", &scones, &scones, "--of", "2026-12-02"]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    assert_eq!(fs::read_to_string(&scones).unwrap(), before);
}
