//! How the exact part fares with problems of the standard kind. Reads `.sm`
//! and `.sch` files and prints one line of JSON for each.
//!
//! `cargo bench --no-default-features --bench rcpsp -- FILES... --within
//! SECONDS`: `makespan` is the best found, null if there is none; `bound` what
//! is proved to be the least; `closed` says that they meet, or that there is
//! no solution; `ms` is the time taken.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::path::Path;
use std::time::{Duration, Instant};

use ovenbell::planner::exact::Limits;
use scheduling::{Outcome, ScheduleWanted, Scheduling, serial, solve};

#[path = "../common/rcpsp.rs"]
mod read;
#[path = "../common/scheduling/mod.rs"]
mod scheduling;

/// Orders tried for a first schedule before proofs begin.
const ORDERS: u32 = 3_000;

fn outcome(problem: &Scheduling, within: Duration) -> Outcome {
    let until = Instant::now() + within;
    let limits = Limits { until: Some(until), ..Limits::default() };
    let early = Limits { until: Some(Instant::now() + within / 4), ..Limits::default() };
    let seed = serial(problem, ORDERS, 0, 1, early);
    let asked = ScheduleWanted { seed: seed.map(|s| s.starts), ..ScheduleWanted::default() };
    solve(problem, &asked, limits)
}

fn main() {
    let mut words: Vec<String> = std::env::args().skip(1).filter(|w| w != "--bench").collect();
    let mut within = Duration::from_secs(10);
    if let Some(at) = words.iter().position(|w| w == "--within") {
        within = Duration::from_secs_f64(words[at + 1].parse().expect("--within takes seconds"));
        words.drain(at..at + 2);
    }
    for word in &words {
        let path = Path::new(word);
        let problem = read::read(path).unwrap_or_else(|e| panic!("{word}: {e}"));
        let begun = Instant::now();
        let (makespan, bound, closed) = match outcome(&problem, within) {
            Outcome::Optimal(best) => (Some(best.finish), Some(best.finish), true),
            Outcome::Feasible { best, at_least } => (Some(best.finish), Some(at_least), false),
            Outcome::Infeasible => (None, None, true),
            Outcome::Unknown { at_least } => (None, Some(at_least), false),
        };
        let ms = begun.elapsed().as_secs_f64() * 1e3;
        println!(
            "{}",
            serde_json::json!({
                "file": path.file_name().map(|n| n.to_string_lossy()),
                "makespan": makespan,
                "bound": bound,
                "closed": closed,
                "ms": (ms * 10.0).round() / 10.0,
            })
        );
    }
}
