//! How soon the lessons of `lessons/` and generated ones are planned and
//! proved. Prints one line for each lesson and one for each size; with
//! `--hard` the wanted spare is the whole period, so that the earliest finish
//! is to be proved.
//!
//! `cargo bench --no-default-features --bench proofs`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson};

#[path = "../common/generate.rs"]
mod generate;

/// Time given to each lesson.
const WITHIN: Duration = Duration::from_secs(10);
/// Generated lessons of each size.
const LESSONS: u64 = 12;

/// How many of aims 1 to 3 are proved.
fn proved(plan: &CheckedPlan) -> u32 {
    let (Some(bounds), best) = (plan.plan().bounds, plan.objective()) else { return 0 };
    let aims = [
        bounds.served_at_most == best.served,
        bounds.departures_at_least == best.departures,
        bounds.shortfall_at_least == best.shortfall,
    ];
    u32::try_from(aims.iter().take_while(|p| **p).count()).unwrap()
}

struct Row {
    /// Seconds to the best plan, and until all three aims were proved.
    best: f64,
    all: Option<f64>,
    aims: u32,
    text: String,
}

fn measure(mut lesson: Lesson, hard: bool) -> Row {
    if hard {
        let mut parts = lesson.into_parts();
        parts.rules.wanted_spare.value = parts.periods[0].length();
        lesson = Lesson::new(parts).unwrap();
    }
    let begun = Instant::now();
    let stop = AtomicBool::new(false);
    let judge = judge_of(&lesson);
    let (mut best, mut all, mut last) = (0.0, None, None);
    let budget = Budget { within: Some(WITHIN), decodings: None, seed: 1 };
    let found = plan_lesson(&lesson, &budget, &stop, judge, |plan: &CheckedPlan| {
        let aims =
            (plan.objective().served, plan.objective().departures, plan.objective().shortfall);
        if last.replace(aims) != Some(aims) {
            best = begun.elapsed().as_secs_f64();
        }
        if proved(plan) == 3 {
            all.get_or_insert(begun.elapsed().as_secs_f64());
            stop.store(true, Ordering::Relaxed);
        }
    })
    .unwrap();
    let plan = &found.judged;
    let text = format!("{:?} {:?}", plan.objective(), plan.plan().bounds.unwrap());
    Row { best, all, aims: proved(plan), text }
}

fn show(name: &str, row: &Row) {
    let all = row.all.map_or("-".to_owned(), |s| format!("{s:.3}"));
    println!("{name}: best {:.3} s, proved {} of 3, all {all} s  {}", row.best, row.aims, row.text);
}

fn main() {
    let hard = std::env::args().any(|a| a == "--hard");
    let folder = std::env::var("LESSONS").unwrap_or_else(|_| "lessons".into());
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    for file in files.iter().filter(|f| f.extension().is_some_and(|e| e == "ron")) {
        let lesson = read_lesson(&std::fs::read_to_string(file).unwrap()).unwrap().lesson;
        show(&file.file_stem().unwrap().to_string_lossy(), &measure(lesson, hard));
    }
    for groups in [4, 8, 12, 20] {
        let mut times: Vec<f64> = Vec::new();
        for seed in 0..LESSONS {
            let text = write_lesson(&generate::lesson_of(seed, groups)).unwrap();
            let row = measure(read_lesson(&text).unwrap().lesson, hard);
            show(&format!("{groups} groups, seed {seed}"), &row);
            times.extend(row.all);
        }
        times.sort_by(f64::total_cmp);
        let median = times.get(times.len() / 2).copied().unwrap_or(f64::NAN);
        println!("{groups} groups: {} of {LESSONS} proved, median {median:.3} s", times.len());
    }
}
