//! How soon it is known whether something can be where a hand puts it, over
//! generated lessons.
//!
//! `cargo bench --no-default-features --bench hand`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common/generate.rs"]
mod generate;

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::lesson_of_shapes;
use ovenbell::hand::{Spot, Thing, put};
use ovenbell::model::{Lesson, OvenId, StepId};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::units::Minutes;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Lessons of each size.
const LESSONS: u64 = 12;
/// Moves in each.
const MOVES: u32 = 10;
/// What the window gives a move.
const FOR_PUTTING: Budget =
    Budget { within: Some(Duration::from_millis(800)), decodings: Some(4_000), seed: 1 };

fn planned(lesson: &Lesson) -> CheckedPlan {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let budget = Budget { within: None, decodings: Some(4_000), seed: 1 };
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget, &never, judge_of(lesson), on).unwrap().judged
}

/// A step, a bake or a row somewhat earlier or later, a bake perhaps in
/// another oven.
fn a_move(lesson: &Lesson, plan: &CheckedPlan, rng: &mut Pcg64Mcg) -> Option<(Thing, Spot)> {
    let choices = &plan.plan().choices;
    let choice = choices.get(rng.random_range(0..choices.len().max(1)))?;
    let steps = lesson.method_of(choice.group, choice.method).steps.len();
    let thing = match rng.random_range(0..3) {
        0 => Thing::Step(choice.group, StepId(rng.random_range(0..steps))),
        1 => Thing::Bake(choice.group),
        _ => Thing::Row(choice.group),
    };
    let at = thing.start(lesson, plan)? + Minutes::new(rng.random_range(-6..=8));
    let other = matches!(thing, Thing::Bake(_)) && rng.random_bool(0.5);
    let place = other.then(|| (OvenId(rng.random_range(0..lesson.ovens.len())), None));
    Some((thing, Spot { at: Some(at), place }))
}

fn main() {
    println!("groups | moves | refused | ms: p50, p99, most");
    for groups in [6, 10, 20] {
        let mut rng = Pcg64Mcg::seed_from_u64(groups as u64);
        let (mut took, mut refused) = (Vec::new(), 0);
        for seed in 0..LESSONS {
            let file = generate::lesson_of(seed, groups);
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let plan = planned(&lesson);
            for _ in 0..MOVES {
                let Some((thing, spot)) = a_move(&lesson, &plan, &mut rng) else { continue };
                let begun = Instant::now();
                let never = AtomicBool::new(false);
                let put = put((&file, &lesson, &plan), &[], thing, spot, &FOR_PUTTING, &never);
                took.push(begun.elapsed().as_secs_f64() * 1e3);
                refused += u32::from(put.is_err());
            }
        }
        took.sort_by(f64::total_cmp);
        let at = |part: usize| took[(took.len() * part / 100).min(took.len() - 1)];
        println!(
            "{groups:6} | {:5} | {refused:7} | {:.1}, {:.1}, {:.1}",
            took.len(),
            at(50),
            at(99),
            at(100)
        );
    }
}
