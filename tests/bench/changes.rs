//! How soon changes are found for lessons that do not fit: those of `lessons/`
//! and generated ones of four to twenty groups.
//!
//! `cargo bench --no-default-features --bench changes`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use ovenbell::change::{Care, Effort, Goal, changes, hangs_on};
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::{Loaded, read_lesson, write_lesson};
use ovenbell::planner::{Budget, plan_until};

#[path = "../common/generate.rs"]
mod generate;

/// Lessons of each size that want a change.
const LESSONS: usize = 8;

struct Row {
    /// Seconds to the first offer and to the end.
    first: Option<f64>,
    all: f64,
    /// Seconds to what the answer hangs on.
    hangs: f64,
}

/// `None` if every group fits.
fn measure(name: &str, loaded: &Loaded) -> Option<Row> {
    let stop = AtomicBool::new(false);
    let judge = judge_of(&loaded.lesson);
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let budget = Budget { within: None, decodings: Some(5_000), seed: 1 };
    let now = plan_until(&loaded.lesson, &budget, &stop, judge, on).unwrap().judged;
    if Goal::of(&loaded.lesson, &now) == Goal::Nothing {
        return None;
    }
    let begun = Instant::now();
    let mut first = None;
    let lesson = (&loaded.file, &loaded.lesson);
    let found = changes(lesson, &[], &now, &Effort::default(), &stop, |so_far| {
        if !so_far.offers.is_empty() {
            first.get_or_insert(begun.elapsed().as_secs_f64());
        }
    });
    let all = begun.elapsed().as_secs_f64();
    let begun = Instant::now();
    let figures =
        hangs_on(&loaded.lesson, &now, Care { look: 300, ..Care::default() }, &stop).len();
    let hangs = begun.elapsed().as_secs_f64();
    println!(
        "{name}: {:?}, menu {}, sets {}, offers {} ({:?}), first {}, all {all:.2} s; {figures} \
         figures in {hangs:.2} s",
        found.goal,
        found.menu,
        found.tried,
        found.offers.len(),
        found.enough,
        first.map_or("-".to_owned(), |s| format!("{s:.2} s")),
    );
    Some(Row { first, all, hangs })
}

fn main() {
    let mut files: Vec<_> =
        std::fs::read_dir("lessons").unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    for file in files {
        let loaded = read_lesson(&std::fs::read_to_string(&file).unwrap()).unwrap();
        measure(&file.file_stem().unwrap().to_string_lossy(), &loaded);
    }
    for groups in [4, 8, 12, 20] {
        let mut rows: Vec<Row> = Vec::new();
        for seed in 0.. {
            if rows.len() == LESSONS {
                break;
            }
            let text = write_lesson(&generate::lesson_of(seed, groups)).unwrap();
            let loaded = read_lesson(&text).unwrap();
            rows.extend(measure(&format!("{groups} groups, seed {seed}"), &loaded));
        }
        let middle = |of: &dyn Fn(&Row) -> f64| {
            let mut all: Vec<f64> = rows.iter().map(of).collect();
            all.sort_by(f64::total_cmp);
            (all[all.len() / 2], all[all.len() - 1])
        };
        let first = middle(&|r| r.first.unwrap_or(r.all));
        let (all, hangs) = (middle(&|r| r.all), middle(&|r| r.hangs));
        println!(
            "{groups} groups: first offer {:.2} s (worst {:.2}), all {:.2} s ({:.2}), figures \
             {:.2} s ({:.2})",
            first.0, first.1, all.0, all.1, hangs.0, hangs.1
        );
    }
}
