//! How soon the first checked plan of generated lessons is there, and how many
//! plans are built in a second. Prints one line of JSON for each size.
//!
//! `cargo bench --no-default-features --bench lessons`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use ovenbell::check::check;
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::planner::{Budget, plan_lesson};

#[path = "../common/generate.rs"]
mod generate;

/// Lessons of each size.
const LESSONS: u64 = 20;

fn main() {
    for groups in [4, 8, 12, 20] {
        let mut first: Vec<f64> = Vec::new();
        let (mut decodings, mut seconds) = (0, 0.0);
        for seed in 0..LESSONS {
            let text = write_lesson(&generate::lesson_of(seed, groups)).unwrap();
            let lesson = read_lesson(&text).unwrap().lesson;
            let budget =
                Budget { within: Some(Duration::from_millis(500)), decodings: None, seed: 1 };
            let judge = |plan| check(&lesson, plan).map_err(|b| b[0].to_string());
            let found =
                plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap();
            first.push(found.first_plan.as_secs_f64() * 1e3);
            decodings += found.decodings;
            seconds += found.elapsed.as_secs_f64();
        }
        first.sort_by(f64::total_cmp);
        println!(
            "{{\"groups\": {groups}, \"lessons\": {LESSONS}, \"first_plan_ms_median\": {:.2}, \
             \"first_plan_ms_worst\": {:.2}, \"decodings_a_second\": {:.0}}}",
            first[first.len() / 2],
            first[first.len() - 1],
            decodings as f64 / seconds.max(1e-9)
        );
    }
}
