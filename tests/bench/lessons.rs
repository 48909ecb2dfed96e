//! How soon the first checked plan of generated lessons is there, and how many
//! plans are built in a second: one line of JSON for each size. Then the same
//! lessons in their hard form against CP-SAT, as a table in Markdown.
//!
//! `cargo bench --no-default-features --bench lessons [-- --lessons N
//! --seconds S]`: of each size `N` lessons (6) race, `S` seconds (20) each and
//! for each way CP-SAT is run. Needs what `tests/differential/run` installs.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use ovenbell::check::judge_of;
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson};

#[path = "../common/generate.rs"]
mod generate;
#[path = "lessons/outside.rs"]
mod outside;
#[path = "lessons/race.rs"]
mod race;

/// Groups of the lessons.
const SIZES: [i64; 4] = [4, 8, 12, 20];
/// Lessons of each size.
const LESSONS: u64 = 20;

fn lesson(seed: u64, groups: i64) -> Lesson {
    read_lesson(&write_lesson(&generate::lesson_of(seed, groups)).unwrap()).unwrap().lesson
}

fn alone() {
    for groups in SIZES {
        let mut first: Vec<f64> = Vec::new();
        let (mut decodings, mut seconds) = (0, 0.0);
        for seed in 0..LESSONS {
            let lesson = lesson(seed, groups);
            let budget =
                Budget { within: Some(Duration::from_millis(500)), decodings: None, seed: 1 };
            let judge = judge_of(&lesson);
            let found =
                plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap();
            first.push(found.times.first_plan.as_secs_f64() * 1e3);
            decodings += found.decodings;
            seconds += found.times.elapsed.as_secs_f64();
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

/// The number after a word of the command line.
fn number(word: &str, usual: f64) -> f64 {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|w| w == word);
    at.map_or(usual, |at| words[at + 1].parse().expect("a number"))
}

fn main() {
    alone();
    let seconds = number("--seconds", 20.0);
    let lessons = number("--lessons", 6.0) as u64;
    println!("\n{}", race::HEAD);
    for groups in SIZES {
        let lessons: Vec<Lesson> = (0..lessons).map(|seed| lesson(seed, groups)).collect();
        match race::race(groups, lessons, seconds) {
            Ok(row) => println!("{row}"),
            Err(why) => {
                println!("\nno race: {why}");
                return;
            }
        }
    }
}
