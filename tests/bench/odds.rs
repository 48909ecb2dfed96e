//! How long it takes to play a plan, how that grows, and what the odds of the
//! example lessons are, as a table.
//!
//! `cargo bench --no-default-features --bench odds [-- --runs N]`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::export::odds::odds_words;
use ovenbell::file::{load_lesson, read_lesson, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::play::{Network, Settings, Spread, groups_to_give, odds, to_give};

#[path = "../common/generate.rs"]
mod generate;

/// The demo and scenarios.
const LESSONS: [&str; 8] = [
    "demo",
    "a-scones-hour",
    "b-rolls-double",
    "d-sponges-gas",
    "f-lemon-all-in-one",
    "f-lemon-creamed",
    "g-whisks-eighteen",
    "g-whisks-ten",
];

fn planned(lesson: &Lesson, decodings: u64) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(decodings), seed: 1 };
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge_of(lesson), |_| {}).unwrap().judged
}

fn generated(seed: u64, groups: i64) -> Lesson {
    let text = write_lesson(&generate::lesson_of(seed, groups)).unwrap();
    read_lesson(&text).unwrap().lesson
}

/// Of some generated lessons of that many groups the one whose plan serves most
/// of them.
fn fullest(groups: i64) -> (Lesson, CheckedPlan) {
    let mut best: Option<(Lesson, CheckedPlan)> = None;
    for lesson in (0..40).map(|seed| generated(seed, groups)) {
        let plan = planned(&lesson, 60);
        let served = plan.objective().served;
        if best.as_ref().is_none_or(|(_, before)| served > before.objective().served) {
            let all = served as usize == lesson.attending().count();
            best = Some((lesson, plan));
            if all {
                break;
            }
        }
    }
    best.unwrap()
}

/// The middle of five times.
fn timed(mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..5)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[2]
}

fn played(lesson: &Lesson, plan: &CheckedPlan, runs: u32, threads: usize) -> Duration {
    let settings = Settings { runs, threads, ..Settings::default() };
    timed(|| {
        odds(lesson, plan, &settings, &[]).unwrap();
    })
}

/// The slope of a straight line through the logarithms.
fn exponent(points: &[(f64, f64)]) -> f64 {
    let logs: Vec<(f64, f64)> = points.iter().map(|p| (p.0.ln(), p.1.ln())).collect();
    let mean = |of: fn(&(f64, f64)) -> f64| logs.iter().map(of).sum::<f64>() / logs.len() as f64;
    let (x, y) = (mean(|p| p.0), mean(|p| p.1));
    let up: f64 = logs.iter().map(|p| (p.0 - x) * (p.1 - y)).sum();
    up / logs.iter().map(|p| (p.0 - x).powi(2)).sum::<f64>()
}

fn speed(runs: u32) {
    let mut points = Vec::new();
    for groups in [4, 6, 10, 14, 20, 30, 40] {
        let (lesson, plan) = fullest(groups);
        let served = plan.objective().served;
        let nodes = Network::new(&lesson, &plan).nodes.len();
        let (one, two) = (played(&lesson, &plan, runs, 1), played(&lesson, &plan, runs, 2));
        let give = timed(|| {
            to_give(&lesson, &plan);
        });
        let row = timed(|| {
            groups_to_give(&lesson, &plan);
        });
        println!(
            "{served} of {groups} groups, {nodes} steps, {runs} runs: {:.3} s on one thread, {:.3} s \
             on two, {:.0} runs a second; to give {:.1} ms, of the groups alone {:.1} ms",
            one.as_secs_f64(),
            two.as_secs_f64(),
            f64::from(runs) / two.as_secs_f64(),
            1e3 * give.as_secs_f64(),
            1e3 * row.as_secs_f64()
        );
        points.push((nodes as f64, one.as_secs_f64()));
    }
    if points.len() > 2 {
        println!("grows with the steps of all groups to the power of {:.2}", exponent(&points));
    }
}

fn table(runs: u32) {
    println!(
        "\n| lesson | groups out of those served | all before the closing | plenary left out | \
         least to give | most of the lateness |"
    );
    println!("| --- | --- | --- | --- | --- | --- |");
    for name in LESSONS {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("lessons/{name}.ron"));
        let lesson = load_lesson(&path).unwrap().lesson;
        let plan = planned(&lesson, 3_000);
        if plan.objective().served == 0 {
            println!("| {name} | nobody is served | | | | |");
            continue;
        }
        let of = |spread| {
            let settings = Settings { runs, spread, ..Settings::default() };
            odds(&lesson, &plan, &settings, &[]).unwrap()
        };
        let (listed, half) = (of(Spread::LISTED), of(Spread::HALF));
        let most = listed.causes.first().map_or(String::new(), |cause| cause.what.words(&lesson));
        let (listed, half) = (listed.class, half.class);
        let shortened = listed.by_bell_shortened.zip(half.by_bell_shortened);
        let shortened = shortened.map_or(String::new(), |(a, b)| odds_words(&[a, b]));
        let least = groups_to_give(&lesson, &plan).iter().map(|g| g.1).min().unwrap_or(0);
        println!(
            "| {name} | {:.1} to {:.1} of {} | {} | {shortened} | {least} | {most} |",
            listed.groups_out,
            half.groups_out,
            plan.objective().served,
            odds_words(&[listed.before_closing, half.before_closing])
        );
    }
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|w| w == "--runs");
    let runs = at.map_or(10_000, |at| words[at + 1].parse().expect("a number of runs"));
    speed(runs);
    table(runs);
}
