//! Writes plans of generated lessons with what the checker says of them, for a reading
//! of the rules from outside.
//!
//! `cargo run --no-default-features --example plans -- FROM UNTIL [--seeds N]
//! [--bent N] [--nudged N] [--round]`: of each lesson of the seeds from `FROM` up to
//! `UNTIL` a line with its exported problem (`assets/problem.md`), then a line for each
//! plan. Each lesson is planned with `N` seeds of chance (6), and every plan that comes up
//! on the way is written; so many of them are bent once for each rule (1), and moved a
//! little so often (20). What is found is in the words of `plan_json.rs`.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::cell::RefCell;
use std::io::{BufWriter, Write};
use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{check, judge_of};
use ovenbell::export::problem::problem;
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::graph::expand;
use ovenbell::model::Lesson;
use ovenbell::plan::Plan;
use ovenbell::planner::{Budget, plan_until};
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

#[path = "../common/bend.rs"]
mod bend;
#[path = "../common/generate.rs"]
mod generate;
#[path = "../common/nudge.rs"]
mod nudge;
mod plan_json;

/// Every different plan that comes up while a lesson is planned in a few ways.
fn plans(lesson: &Lesson, seeds: u64) -> Vec<Plan> {
    let all = RefCell::new(Vec::new());
    for seed in 0..seeds {
        let budget = Budget { within: None, decodings: Some(10 << (seed % 5)), seed };
        let judge = judge_of(lesson);
        let judge = |plan: Plan| {
            if !all.borrow().contains(&plan) {
                all.borrow_mut().push(plan.clone());
            }
            judge(plan)
        };
        plan_until(lesson, &budget, &AtomicBool::new(false), judge, |_| ControlFlow::Continue(()))
            .unwrap();
    }
    all.into_inner()
}

fn main() {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    let mut number = |name: &str, usual: u64| {
        let Some(at) = words.iter().position(|w| w == name) else { return usual };
        let number = words[at + 1].parse().expect("a number");
        words.drain(at..at + 2);
        number
    };
    let (seeds, bent, nudged) = (number("--seeds", 6), number("--bent", 1), number("--nudged", 20));
    let round = words.iter().any(|w| w == "--round");
    words.retain(|w| w != "--round");
    let [from, until] = &words[..] else {
        panic!("wanted: FROM UNTIL [--seeds N] [--bent N] [--nudged N] [--round]");
    };
    let mut out = BufWriter::new(std::io::stdout().lock());
    for seed in from.parse().unwrap()..until.parse::<u64>().unwrap() {
        let file = if round { generate::round_lesson(seed) } else { generate::lesson(seed) };
        let lesson = read_lesson(&write_lesson(&file).unwrap()).unwrap().lesson;
        writeln!(out, "{}", problem(&lesson, &expand(&lesson)).unwrap()).unwrap();
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let mut tell = |how: &str, plan: &Plan| {
            let verdict = check(&lesson, plan.clone());
            writeln!(out, "{}", plan_json::line(&lesson, (seed, how), plan, &verdict)).unwrap();
        };
        let plans = plans(&lesson, seeds);
        plans.iter().for_each(|plan| tell("", plan));
        for plan in plans.iter().rev().take(bent as usize) {
            bend::all(&lesson, plan).iter().for_each(|bent| tell(bent.rule, &bent.plan));
        }
        for n in 0..nudged {
            let plan = &plans[plans.len() - 1 - n as usize % plans.len()];
            let moved = nudge::nudged(&lesson, plan, &mut rng);
            moved.iter().for_each(|plan| tell("nudged", plan));
        }
    }
}
