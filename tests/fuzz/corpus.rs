//! Good files of each kind: lessons and cases as they stand, what the program writes of
//! them, and a few beside this file for which there are no others.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::format::{LessonFile, RecipeShape};
use ovenbell::file::told::write_told;
use ovenbell::file::{library, read_lesson, write_lesson, write_plan, write_recipe};
use ovenbell::interchange;
use ovenbell::model::{FactKind, Lesson};
use ovenbell::plan::Plan;
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::today::{start_of_day, tell};
use ovenbell::units::Minutes;

use crate::input::Seed;
use crate::kind::Kind;

fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The folder of the lessons to which weeks point.
pub fn week_folder() -> PathBuf {
    project("lessons/week")
}

/// A folder for files of one thread, in memory where that is known to be.
pub fn folder() -> tempfile::TempDir {
    let memory = Path::new("/dev/shm");
    let made = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() };
    made.unwrap()
}

/// The good files of a kind.
pub fn of(kind: Kind) -> Vec<Seed> {
    match kind {
        Kind::Lesson => lessons().into_iter().map(|of| seed(of.text, Some(of.lesson))).collect(),
        Kind::Kept => with_plans(kept),
        Kind::Day => with_plans(day),
        Kind::Plan => with_plans(|of, plan| write_plan(&of.lesson, plan)),
        Kind::Outcomes => own("outcomes.csv"),
        Kind::Minutes => own("minutes.csv"),
        Kind::Week => [own("week.ron"), vec![bare(&week_folder().join("week.ron"))]].concat(),
        Kind::Recipe => recipes(|recipe| write_recipe(recipe).unwrap()),
        Kind::JsonLd => {
            [own(".jsonld"), recipes(|recipe| interchange::write(recipe).unwrap())].concat()
        }
        Kind::Page => own(".html"),
        #[cfg(feature = "gui")]
        Kind::Settings => own("window.ron"),
    }
}

fn seed(text: String, lesson: Option<Lesson>) -> Seed {
    Seed { bytes: text.into_bytes(), lesson: lesson.map(Arc::new) }
}

fn bare(path: &Path) -> Seed {
    seed(fs::read_to_string(path).unwrap(), None)
}

/// Those beside this file whose names end so.
fn own(end: &str) -> Vec<Seed> {
    let mut paths = files(&project("tests/fuzz/corpus"));
    paths.retain(|path| path.to_string_lossy().ends_with(end));
    assert!(!paths.is_empty(), "nothing ends with {end}");
    paths.iter().map(|path| bare(path)).collect()
}

/// In the order of their names, so that a seed means the same everywhere.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    all.sort();
    all
}

/// A lesson as written and as read.
struct Good {
    text: String,
    file: LessonFile,
    lesson: Lesson,
}

fn lessons() -> Vec<Good> {
    let mut paths = files(&project("lessons"));
    paths.extend(files(&project("tests/cases/good")));
    paths.retain(|path| path.extension().is_some_and(|e| e == "ron"));
    let read = |path: &PathBuf| {
        let text = fs::read_to_string(path).unwrap();
        let loaded = read_lesson(&text).unwrap();
        Good { text, file: loaded.file, lesson: loaded.lesson }
    };
    paths.iter().map(read).collect()
}

/// What is written of every lesson and a plan of it.
fn with_plans(write: impl Fn(&Good, &Plan) -> String) -> Vec<Seed> {
    let seed = |of: Good| {
        let text = write(&of, planned(&of.lesson).plan());
        let lesson = read_lesson(&text).map_or(of.lesson, |loaded| loaded.lesson);
        seed(text, Some(lesson))
    };
    lessons().into_iter().map(seed).collect()
}

fn planned(lesson: &Lesson) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(20), seed: 1 };
    let stop = AtomicBool::new(false);
    plan_lesson(lesson, &budget, &stop, judge_of(lesson), |_| {}).unwrap().judged
}

fn kept(of: &Good, plan: &Plan) -> String {
    let told = Some(write_told(&of.lesson, plan));
    write_lesson(&LessonFile { told, ..of.file.clone() }).unwrap()
}

/// A copy for the day of which something was told.
fn day(of: &Good, plan: &Plan) -> String {
    let mut file = start_of_day(&of.file);
    let all = [FactKind::Go, FactKind::In, FactKind::Out, FactKind::Late(Minutes::new(4))];
    for (group, what) in of.lesson.groups.iter().zip(all) {
        let at = of.lesson.periods[0].start_clock.after(Minutes::new(20));
        if let Ok(told) = tell(&file, (&group.name, what), at, &[]) {
            file = told;
        }
    }
    file.told = Some(write_told(&of.lesson, plan));
    write_lesson(&file).unwrap()
}

fn recipes(write: impl Fn(&RecipeShape) -> String) -> Vec<Seed> {
    library::recipes().unwrap().iter().map(|recipe| seed(write(recipe), None)).collect()
}
