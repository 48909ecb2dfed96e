//! How often, how, and how soon it is told why a group is left out: over the
//! lessons of `tests/data/left-out.json`, of which CP-SAT has proved that not
//! all groups can be served, until enough groups have been looked at.
//!
//! `cargo bench --no-default-features --profile dev --bench why [-- --groups N --seconds S]`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::model::{GroupId, Lesson};
use ovenbell::planner::explain::{ExplainLimits, Explanation, Pace, explain};
use ovenbell::planner::{Budget, plan_lesson};
use serde::Deserialize;

#[path = "../common/generate.rs"]
mod generate;

#[derive(Deserialize)]
struct LeftOut {
    seed: u64,
    groups: usize,
    served: u32,
}

fn stored() -> Vec<LeftOut> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/left-out.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// A plan that serves as many as can be, if one is found within ten seconds.
fn best(lesson: &Lesson, served: u32) -> Option<CheckedPlan> {
    let stop = AtomicBool::new(false);
    let judge = judge_of(lesson);
    let budget = Budget { within: Some(Duration::from_secs(10)), decodings: None, seed: 1 };
    let found = plan_lesson(lesson, &budget, &stop, judge, |plan: &CheckedPlan| {
        if plan.objective().served >= served {
            stop.store(true, Ordering::Relaxed);
        }
    });
    Some(found.unwrap().judged).filter(|p| p.objective().served == served)
}

fn means(e: &Explanation) -> String {
    let pace = match e.pace {
        Some(Pace::Quick) => ", quickest minutes",
        Some(Pace::Planned) => ", planned minutes",
        None => "",
    };
    let set = match &e.set {
        Some(set) if set.groups.len() == 1 => " of rules for one group",
        Some(_) => " of groups and rules",
        None => "",
    };
    let smallest = match &e.set {
        Some(set) if !set.smallest => ", not known to be the smallest",
        _ => "",
    };
    format!("{}{set}{pace}{smallest}", e.by.name())
}

fn argument(name: &str, usual: f64) -> f64 {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|w| w == name);
    at.map_or(usual, |at| words[at + 1].parse().expect("a number"))
}

fn main() {
    let wanted = argument("--groups", 200.0);
    let within = Duration::from_secs_f64(argument("--seconds", 5.0));
    let (mut by, mut times, mut missed) = (BTreeMap::new(), Vec::new(), 0);
    let (mut groups, mut proved) = (0, 0);
    for of in stored() {
        if f64::from(groups) >= wanted {
            break;
        }
        let text = write_lesson(&generate::lesson(of.seed)).unwrap();
        let lesson = read_lesson(&text).unwrap().lesson;
        let Some(plan) = best(&lesson, of.served) else {
            missed += 1;
            continue;
        };
        let left: Vec<GroupId> =
            lesson.attending().filter(|&g| plan.plan().choice(g).is_none()).collect();
        let begun = Instant::now();
        let explained =
            explain(&lesson, &left, ExplainLimits { within, ..ExplainLimits::default() });
        let seconds = begun.elapsed().as_secs_f64();
        let told = explained.iter().filter(|e| e.is_proved()).count();
        println!(
            "seed {}: {} of {} left out, {told} explained, {seconds:.2} s",
            of.seed,
            left.len(),
            of.groups
        );
        for e in &explained {
            groups += 1;
            proved += u32::from(e.is_proved());
            *by.entry(means(e)).or_insert(0) += 1;
        }
        times.push(seconds);
    }
    times.sort_by(f64::total_cmp);
    println!("\n| shown by | groups |\n| --- | --- |");
    for (means, count) in &by {
        println!("| {means} | {count} |");
    }
    let share = 100.0 * f64::from(proved) / f64::from(groups);
    println!("\n{proved} of {groups} groups explained ({share:.1} %), in {} lessons", times.len());
    println!(
        "seconds a lesson: median {:.2}, worst {:.2}; {missed} lessons without a best plan",
        times[times.len() / 2],
        times[times.len() - 1]
    );
}
