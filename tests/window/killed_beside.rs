//! A program that writes the files beside lessons without pause is killed at some
//! moment: tables of bakes and of minutes, a week, a plan by itself. Each is then as it
//! was said to be written last, or one further, and whole; so is what it was before, and
//! whoever writes next clears away whatever else lies about.

use std::fs;
use std::path::Path;

use chrono::{Days, NaiveDate};
use ovenbell::file::outcomes::{load_outcomes, note_outcome};
use ovenbell::file::past_minutes::{load_minutes, note_minutes};
use ovenbell::file::{
    Backup, load_lesson, load_plan, load_week, save_week, save_week_as, write_atomically,
    write_plan,
};
use ovenbell::model::{LessonPart, PastBake, PastMinutes};
use ovenbell::plan::Plan;
use ovenbell::units::ExactMinutes;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::killed::{CHILD, killed_after, kills, names_in, side_by_side, tell};

const LESSON: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/lessons/a-scones-hour.ron");

/// A text that begins with a number and is of many lengths, so that a torn one does not
/// look whole.
fn numbered(number: u64, text: &str) -> String {
    let filling = "// So that it is longer.\n".repeat(usize::try_from(number % 40).unwrap());
    format!("// {number}\n{filling}{text}")
}

fn week(number: u64) -> String {
    numbered(number, include_str!("../../lessons/week/week.ron"))
}

fn plan(number: u64) -> String {
    let lesson = load_lesson(Path::new(LESSON)).unwrap().lesson;
    numbered(number, &write_plan(&lesson, &Plan::default()))
}

/// The number with which a file begins.
fn number_of(text: &str) -> u64 {
    text.lines().next().and_then(|line| line.strip_prefix("// ")).unwrap().parse().unwrap()
}

fn minutes(of: u64) -> ExactMinutes {
    ExactMinutes::new(10.0 + of as f64 % 7.0).unwrap()
}

/// Writes each of the files once more.
fn write_all(folder: &Path, number: u64) {
    let date = NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + Days::new(number);
    let bake = PastBake {
        date: Some(date),
        recipe: "Scones".into(),
        tin: "baking sheet".into(),
        oven: "Oven 1".into(),
        celsius: None,
        minutes: minutes(number),
        note: "x".repeat(usize::try_from(number % 40).unwrap()),
    };
    note_outcome(&folder.join("outcomes.csv"), &bake).unwrap();
    let took = PastMinutes {
        date,
        class: "9 Harbour".into(),
        part: LessonPart::Opening,
        planned: minutes(1),
        took: minutes(number),
    };
    note_minutes(&folder.join("minutes.csv"), &[took]).unwrap();
    let path = folder.join("week.ron");
    match fs::read_to_string(&path) {
        Ok(before) => save_week(&path, &before, &week(number)).unwrap(),
        Err(_) => save_week_as(&path, &week(number)).unwrap(),
    }
    write_atomically(&folder.join("plan.ron"), plan(number).as_bytes(), Backup::Keep).unwrap();
}

/// What is killed.
#[test]
#[ignore = "not a test by itself: it is run and killed by the other"]
fn child() {
    let Some(folder) = std::env::var_os(CHILD) else { return };
    for number in 1.. {
        write_all(Path::new(&folder), number);
        tell("kept", number);
    }
}

/// The numbers of what was written last of each kind; none are torn.
fn found(folder: &Path, run: usize) -> [u64; 4] {
    let lesson = load_lesson(Path::new(LESSON)).unwrap().lesson;
    let text = |name: &str| fs::read_to_string(folder.join(name)).ok();
    let mut weeks = 0;
    let mut plans = 0;
    for end in [".bak", ""] {
        let (week, plan) = (format!("week.ron{end}"), format!("plan.ron{end}"));
        if let Some(text) = text(&week) {
            load_week(&folder.join(&week)).unwrap_or_else(|f| panic!("run {run}: {f:?}"));
            weeks = number_of(&text);
        }
        if let Some(text) = text(&plan) {
            let read = load_plan(&folder.join(&plan), &lesson);
            read.unwrap_or_else(|f| panic!("run {run}: {f:?}"));
            plans = number_of(&text);
        }
    }
    let lines = ["outcomes.csv.bak", "outcomes.csv"].map(|name| {
        let (bakes, findings) = load_outcomes(&folder.join(name));
        assert!(findings.is_empty(), "run {run}: {findings:?}");
        bakes.len() as u64
    });
    let parts = ["minutes.csv.bak", "minutes.csv"].map(|name| {
        let (parts, findings) = load_minutes(&folder.join(name));
        assert!(findings.is_empty(), "run {run}: {findings:?}");
        parts.len() as u64
    });
    for [before, now] in [lines, parts] {
        assert!(before == now || before + 1 == now, "run {run}: {before} before {now}");
    }
    [lines[1], parts[1], weeks, plans]
}

fn kill_one(seed: usize) -> u64 {
    let mut rng = Pcg64Mcg::seed_from_u64(seed as u64);
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let seconds = rng.random_range(0.0..2.0);
    let (heard, _) = killed_after("killed_beside::child", folder, seconds);
    let kept = heard.kept;
    for found in found(folder, seed) {
        assert!((kept..=kept + 1).contains(&found), "run {seed}: {found} found, {kept} kept");
    }
    write_all(folder, kept + 2);
    let files = ["minutes.csv", "outcomes.csv", "plan.ron", "week.ron"];
    for name in names_in(folder) {
        let file = name.strip_suffix(".bak").unwrap_or(&name);
        assert!(files.contains(&file), "run {seed}: {name} lies about");
    }
    kept
}

#[test]
fn killed_while_they_are_written_the_files_beside_lessons_stay_whole() {
    let kept: u64 = side_by_side(kill_one).iter().sum();
    println!("{} killed, {kept} times all four were written", kills());
    assert!(4 * kept > kills(), "the children hardly did anything: {kept} written");
}
