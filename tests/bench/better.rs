//! What plans with better odds gain over generated lessons and those of the
//! project: on average, the worst and the best, on luck they were not chosen on.
//!
//! `cargo bench --no-default-features --bench better [-- --lessons N]`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use ovenbell::better::{Effort, better};
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::export::better::GainWords;
use ovenbell::file::{load_lesson, read_lesson, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::play::{Settings, Spread, outs};

#[path = "../common/generate.rs"]
mod generate;

/// The demo and scenarios.
const LESSONS: [&str; 5] =
    ["demo", "a-scones-hour", "b-rolls-double", "f-lemon-all-in-one", "g-whisks-ten"];

fn planned(lesson: &Lesson) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(2_000), seed: 1 };
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge_of(lesson), |_| {}).unwrap().judged
}

/// The gain in groups out on average on fresh luck; 0 where nothing was found.
fn gain(name: &str, lesson: &Lesson) -> Option<f64> {
    let plan = planned(lesson);
    if plan.objective().served == 0 {
        return None;
    }
    let start = Instant::now();
    let how = (&Settings::default(), &[Spread::LISTED, Spread::HALF][..]);
    let search = better(lesson, &plan, how, &Effort::default(), &AtomicBool::new(false)).unwrap();
    let took = start.elapsed().as_secs_f64();
    let Some(found) = search.found else {
        println!("{name}: nothing gained, {} plans in {took:.1} s", search.built);
        return Some(0.0);
    };
    let fresh = Settings { seed: 99, ..Settings::default() };
    let of = |plan| outs(lesson, plan, &fresh, 0..fresh.runs).unwrap();
    let (more, error) = of(&found.plan).more_than(&of(&plan));
    let words = GainWords::of(lesson, &plan, &found);
    println!(
        "{name}: {more:+.3} ± {error:.3} groups of {} ({}; {}), {} plans in {took:.1} s",
        plan.objective().served,
        words.gain,
        words.cost,
        search.built
    );
    Some(more)
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|w| w == "--lessons");
    let lessons = at.map_or(12, |at| words[at + 1].parse().expect("a number of lessons"));
    for name in LESSONS {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("lessons/{name}.ron"));
        gain(name, &load_lesson(&path).unwrap().lesson);
    }
    let generated = (0..lessons).filter_map(|seed| {
        let text = write_lesson(&generate::lesson(seed)).unwrap();
        gain(&format!("generated {seed}"), &read_lesson(&text).unwrap().lesson)
    });
    let gains: Vec<f64> = generated.collect();
    let mean = gains.iter().sum::<f64>() / gains.len().max(1) as f64;
    let worst = gains.iter().copied().fold(f64::INFINITY, f64::min);
    let best = gains.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let some = gains.iter().filter(|&&g| g != 0.0).count();
    println!(
        "\n{} generated lessons, {some} with a better plan: {mean:+.3} groups out on average, \
         worst {worst:+.3}, best {best:+.3}",
        gains.len()
    );
}
