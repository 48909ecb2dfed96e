//! Every kind of file that the program writes, each in a folder of its own, numbered
//! from 1 and of many lengths, so that a torn one does not look whole.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::{Days, NaiveDate};
use ovenbell::app::Prefs;
use ovenbell::file::copies::{copy_beside, copy_elsewhere};
use ovenbell::file::format::{ClassShape, GroupShape, SavedClass};
use ovenbell::file::open_lesson::{Over, Safekeeping};
use ovenbell::file::outcomes::{load_outcomes, note_outcome};
use ovenbell::file::own_library::{OwnEntry, OwnLibrary};
use ovenbell::file::past_minutes::{load_minutes, note_minutes};
use ovenbell::file::plain_words::{Doing, why};
use ovenbell::file::{
    Access, Backup, Loaded, RealDisk, load_lesson, load_plan, load_week, save_week, save_week_as,
    write_atomically, write_new, write_plan,
};
use ovenbell::model::{LessonPart, PastBake, PastMinutes};
use ovenbell::plan::Plan;
use ovenbell::session::{Document, DocumentId};
use ovenbell::units::ExactMinutes;

const LESSON: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/lessons/a-scones-hour.ron");

/// A kind of file.
pub(crate) struct Kind {
    pub name: &'static str,
    /// Writes the one of a number into a folder that holds the one before; whatever was
    /// told if that was refused.
    pub write: fn(&Path, u64) -> Result<(), String>,
    /// The number of the one that a folder holds, which is not torn; 0 if there is none.
    pub number: fn(&Path) -> u64,
}

const fn kind(
    name: &'static str,
    write: fn(&Path, u64) -> Result<(), String>,
    number: fn(&Path) -> u64,
) -> Kind {
    Kind { name, write, number }
}

/// Those that stand beside lessons, by the names of their files.
pub(crate) const BESIDE: [Kind; 4] = [
    kind("outcomes.csv", write_bakes, |folder| bakes(&folder.join("outcomes.csv"))),
    kind("minutes.csv", write_minutes, |folder| minutes(&folder.join("minutes.csv"))),
    kind("week.ron", write_week, |folder| week(&folder.join("week.ron"))),
    kind("plan.ron", write_one_plan, |folder| plan(&folder.join("plan.ron"))),
];

/// The user's own.
pub(crate) const OWN: [Kind; 2] =
    [kind("library", write_class, class), kind("settings", write_settings, settings)];

/// Lessons, copies of what is not saved of them, and what is written for others.
pub(crate) const LESSONS: [Kind; 3] = [
    kind("lesson", save_lesson, lesson),
    kind("copy", keep_copy, copied),
    kind("for others", write_for_others, |folder| table_of(&folder.join("table.csv"))),
];

/// Every file in a folder and those in it.
pub(crate) fn files_in(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(files_in(&path));
        } else {
            files.insert(path.clone(), fs::read(path).unwrap());
        }
    }
    files
}

fn filling(number: u64) -> usize {
    usize::try_from(number % 40).unwrap()
}

fn numbered(number: u64, text: &str) -> String {
    format!("// {number}\n{}{text}", "// So that it is longer.\n".repeat(filling(number)))
}

/// The number with which a text begins.
fn number_of(text: &str) -> u64 {
    let number = text.lines().next().and_then(|line| line.strip_prefix("// "));
    number.unwrap_or_else(|| panic!("torn: {text}")).parse().unwrap()
}

/// The number with which a file begins; 0 if there is none.
fn numbered_in(path: &Path) -> u64 {
    fs::read_to_string(path).map_or(0, |text| number_of(&text))
}

fn exact(number: u64) -> ExactMinutes {
    ExactMinutes::new(10.0 + number as f64 % 7.0).unwrap()
}

fn date(number: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + Days::new(number)
}

fn write_bakes(folder: &Path, number: u64) -> Result<(), String> {
    let bake = PastBake {
        date: Some(date(number)),
        recipe: "Scones".into(),
        tin: "baking sheet".into(),
        oven: "Oven 1".into(),
        celsius: None,
        minutes: exact(number),
        note: "x".repeat(filling(number)),
    };
    note_outcome(&folder.join("outcomes.csv"), &bake).map_err(|error| error.to_string())
}

fn bakes(path: &Path) -> u64 {
    let (bakes, findings) = load_outcomes(path);
    assert!(findings.is_empty(), "{findings:?}");
    bakes.len() as u64
}

fn write_minutes(folder: &Path, number: u64) -> Result<(), String> {
    let took = PastMinutes {
        date: date(number),
        class: "9 Harbour".into(),
        part: LessonPart::Opening,
        planned: exact(1),
        took: exact(number),
    };
    note_minutes(&folder.join("minutes.csv"), &[took]).map_err(|error| error.to_string())
}

fn minutes(path: &Path) -> u64 {
    let (parts, findings) = load_minutes(path);
    assert!(findings.is_empty(), "{findings:?}");
    parts.len() as u64
}

fn write_week(folder: &Path, number: u64) -> Result<(), String> {
    let path = folder.join("week.ron");
    let text = numbered(number, include_str!("../../lessons/week/week.ron"));
    let saved = match fs::read_to_string(&path) {
        Ok(before) => save_week(&path, &before, &text),
        Err(_) => save_week_as(&path, &text),
    };
    saved.map_err(|error| error.to_string())
}

fn week(path: &Path) -> u64 {
    if path.exists() {
        load_week(path).unwrap_or_else(|findings| panic!("{findings:?}"));
    }
    numbered_in(path)
}

fn write_one_plan(folder: &Path, number: u64) -> Result<(), String> {
    let path = folder.join("plan.ron");
    let text = numbered(number, &write_plan(&load(Path::new(LESSON)).lesson, &Plan::default()));
    let written = write_atomically(&path, text.as_bytes(), Backup::Keep);
    written.map_err(|error| why(&error, Doing::Writing(&path)))
}

fn plan(path: &Path) -> u64 {
    if path.exists() {
        let lesson = load(Path::new(LESSON)).lesson;
        load_plan(path, &lesson).unwrap_or_else(|findings| panic!("{findings:?}"));
    }
    numbered_in(path)
}

fn library(folder: &Path) -> OwnLibrary {
    OwnLibrary::at(Some(folder.to_owned()), Arc::new(RealDisk))
}

fn write_class(folder: &Path, number: u64) -> Result<(), String> {
    let groups = (0..filling(number))
        .map(|unit| GroupShape { name: format!("Unit {unit}"), ..GroupShape::default() });
    let class = ClassShape { name: "9 Harbour".into(), ..ClassShape::default() };
    let start = Some(number.to_string());
    let class = SavedClass { class, groups: groups.collect(), start, ..SavedClass::default() };
    library(folder).keep(&OwnEntry::Class(class)).map_err(|error| error.to_string())
}

fn class(folder: &Path) -> u64 {
    let all = library(folder).list();
    assert!(all.unreadable.is_empty(), "{:?}", all.unreadable);
    all.classes.first().map_or(0, |class| class.start.clone().unwrap().parse().unwrap())
}

/// Nothing is told where settings are not kept: it costs the memory of looks.
fn write_settings(folder: &Path, number: u64) -> Result<(), String> {
    let mut prefs = Prefs::load(Some(folder.join("settings")));
    prefs.recent = (0..=number % 7).map(|_| format!("/{number}").into()).collect();
    prefs.keep();
    if settings(folder) == number { Ok(()) } else { Err(String::new()) }
}

fn settings(folder: &Path) -> u64 {
    let recent = Prefs::load(Some(folder.join("settings"))).recent;
    recent.first().map_or(0, |path| path.display().to_string()[1..].parse().unwrap())
}

fn load(path: &Path) -> Loaded {
    load_lesson(path).unwrap_or_else(|findings| panic!("{findings:?}"))
}

/// The number in a lesson's title; 0 in one that was never changed.
fn title(lesson: &Loaded) -> u64 {
    lesson.file.title.split(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0)
}

/// A lesson of that name, made if there is none, open and changed.
fn changed(path: &Path, number: u64) -> Result<Document, String> {
    if !path.exists() {
        fs::copy(LESSON, path).map_err(|error| why(&error, Doing::Writing(path)))?;
    }
    let data = path.with_file_name("data");
    let keeping = Safekeeping::new(Arc::new(RealDisk), Some(data));
    let opened =
        Document::open(Document::read, path, &keeping, DocumentId::default(), Arc::from([]));
    let (mut doc, _) = opened.map_err(|findings| findings[0].to_string())?;
    let mut file = doc.file().clone();
    file.title = format!("{number} {}", "x".repeat(4 * filling(number)));
    let done = doc.change_to("title".into(), file);
    done.map_err(|findings| findings[0].to_string())?;
    Ok(doc)
}

fn save_lesson(folder: &Path, number: u64) -> Result<(), String> {
    let mut doc = changed(&folder.join("lesson.ron"), number)?;
    let saved = doc.save(Over::Nothing).map(drop).map_err(|problem| problem.to_string());
    if saved.is_err() {
        // Whoever is refused may give the change up.
        doc.lose_changes().map_err(|problem| problem.to_string())?;
    }
    saved
}

fn lesson(folder: &Path) -> u64 {
    let path = folder.join("lesson.ron");
    if path.exists() { title(&load(&path)) } else { 0 }
}

fn keep_copy(folder: &Path, number: u64) -> Result<(), String> {
    let doc = changed(&folder.join("copied.ron"), number)?;
    doc.care().flush();
    let trouble = doc.care().trouble();
    // What could not be kept is tried again until the lesson is closed.
    drop(doc);
    match trouble {
        Some(words) if copied(folder) != number => Err(words),
        _ => Ok(()),
    }
}

fn copied(folder: &Path) -> u64 {
    let lesson = folder.join("copied.ron");
    let copies = [copy_beside(&lesson), copy_elsewhere(&folder.join("data"), &lesson)];
    let there = copies.into_iter().filter(|copy| copy.exists());
    there.map(|copy| title(&load(&copy))).max().unwrap_or(0)
}

fn table(number: u64) -> String {
    numbered(number, "a,b\n")
}

fn table_of(path: &Path) -> u64 {
    let Ok(text) = fs::read_to_string(path) else { return 0 };
    let number = number_of(&text);
    assert_eq!(text, table(number), "torn");
    number
}

fn write_for_others(folder: &Path, number: u64) -> Result<(), String> {
    let path = folder.join("table.csv");
    let access = Access::As(Path::new(LESSON));
    let written = write_new(&path, table(number).as_bytes(), Backup::None, access);
    written.map_err(|error| why(&error, Doing::Writing(&path)))
}
