//! A department's week: what is wanted twice is found with its sum and its least
//! move; what an oven out of order breaks is what planning without it breaks; and
//! nothing hangs on names, on the order of the file or on other days.

mod clashes;
mod its_file;
mod nothing_hangs_on_it;
mod ovens_out;
mod rests;

use std::fs;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use chrono::NaiveDate;
use ovenbell::export::week::text;
use ovenbell::finding::Finding;
use ovenbell::week::{LoadedWeek, Planner, Report, Trouble, Week, load, report, troubles};

const SPONGES: &str = include_str!("../../../lessons/g-whisks-ten.ron");

const SCONES: &str = include_str!("../../../lessons/a-scones-hour.ron");

/// So many plans of each lesson: few, as what is looked for is plain.
pub(crate) const FEW: u64 = 100;

static GO_ON: AtomicBool = AtomicBool::new(false);

/// The sponges of scenario G for ten pairs and for eight, each with as many whisks
/// as the department has; scones for eight.
pub(crate) fn department() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let of = |pairs: u32| {
        assert!(SPONGES.contains("count: 18, recipe"));
        SPONGES.replace("count: 18, recipe", &format!("count: {pairs}, recipe"))
    };
    let lesson = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    lesson("ten.ron", &with_id(&of(10), "heron-4c2f"));
    lesson("eight.ron", &with_id(&of(8), "finch-07d3"));
    lesson("scones.ron", &SCONES.replace("count: 10, recipe", "count: 8, recipe"));
    folder
}

fn with_id(text: &str, id: &str) -> String {
    text.replacen("format: 2,", &format!("format: 2,\n    id: \"{id}\","), 1)
}

pub(crate) const TEN: &str =
    r#"(file: "ten.ron", class: "8A", on: Thu, at: "P3", room: "Room 1"),"#;
pub(crate) const EIGHT: &str =
    r#"(file: "eight.ron", class: "9C", on: Thu, at: "P3", room: "Room 2"),"#;
pub(crate) const OTHER: &str =
    r#"(file: "scones.ron", class: "9C", on: Mon, at: "P1", room: "Room 2"),"#;

pub(crate) fn week_of(lessons: &[&str]) -> String {
    format!(
        r#"(
    format: 1,
    week: "2026-11-30",
    bells: {{"P1": ("09:00", "10:00"), "P2": ("10:00", "11:00"), "P3": ("11:20", "12:20")}},
    days: [(on: Wed, closed: ["Room 2"], why: "exam")],
    rooms: [
        (name: "Room 1", ovens: [(name: "Oven", count: 5, kind: Fan, shelves: 2, shelf_mm: (420, 360))]),
        (name: "Room 2", ovens: [(name: "Oven", count: 4, kind: Fan, shelves: 2, shelf_mm: (420, 360))]),
    ],
    moves: {{"electric whisk": 10}},
    lessons: [
        {}
    ],
)"#,
        lessons.join("\n        ")
    )
}

pub(crate) fn loaded(folder: &Path, text: &str) -> LoadedWeek {
    let path = folder.join("week.ron");
    fs::write(&path, text).unwrap();
    load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

pub(crate) fn sound(folder: &Path, text: &str) -> Week {
    let loaded = loaded(folder, text);
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    loaded.week
}

pub(crate) fn told(week: &Week) -> Report {
    report(week, &Planner::new(&[], FEW, &GO_ON), None)
}

pub(crate) fn day(week: &Week, name: &str) -> NaiveDate {
    week.day_called(name).unwrap()
}

fn told_troubles(week: &Week) -> Vec<Trouble> {
    let planner = Planner::new(&[], FEW, &GO_ON);
    week.days.iter().flat_map(|day| troubles(week, &planner, day.date)).collect()
}

fn text_of(week: &Week, report: &Report) -> String {
    text(week, report).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn codes(findings: &[Finding]) -> Vec<(&str, usize)> {
    findings.iter().map(|f| (f.code, f.place.map_or(0, |p| p.line))).collect()
}
