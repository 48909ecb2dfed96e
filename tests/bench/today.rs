//! How soon a day is planned anew, and how many of the others keep what they
//! had, over generated lessons.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common/generate.rs"]
mod generate;

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::lesson_of_shapes;
use ovenbell::model::{Lesson, Slip};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::today::{Happening, happens, replan, replan_begun, start_of_day};
use ovenbell::units::{Minute, Minutes};

const LESSONS: u64 = 20;
const DECODINGS: u64 = 5_000;

fn budget() -> Budget {
    Budget { within: None, decodings: Some(DECODINGS), seed: 1 }
}

fn free(lesson: &Lesson) -> CheckedPlan {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget(), &never, judge_of(lesson), on).unwrap().judged
}

/// What happens, of one kind.
type Kind = (&'static str, fn(&Lesson, &CheckedPlan) -> Option<Happening>);

const KINDS: [Kind; 5] = [
    ("pupil absent", |lesson, _| {
        let group = lesson.attending().nth(1)?;
        Some(Happening::Absent { group: lesson.group(group).name.clone() })
    }),
    ("groups joined", |lesson, _| {
        let mut all = lesson.attending();
        let group = all.next()?;
        let with = all.find(|&g| lesson.group(g).recipe == lesson.group(group).recipe)?;
        let name = |g| lesson.group(g).name.clone();
        Some(Happening::Joined { group: name(group), with: name(with), other_recipe: false })
    }),
    ("oven out", |lesson, plan| {
        let oven = plan.plan().loads.first()?.oven;
        Some(Happening::OvenOut { oven: lesson.ovens[oven.0].name.clone() })
    }),
    ("3 minutes late", |_, _| Some(Happening::LateStart { minutes: 3, period: None })),
    ("reserve recipe", |lesson, _| {
        let group = lesson.group(lesson.attending().next()?).name.clone();
        Some(Happening::Reserve { group, recipe: "Shoreline shortbread".into() })
    }),
];

fn median(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or_default()
}

/// When the first answer to a slip is there, in lessons of 12 groups.
fn slips() {
    const SLIPS: u64 = 200;
    let mut first: Vec<f64> = Vec::new();
    for seed in 0..SLIPS {
        let file = start_of_day(&generate::lesson_of(seed, 12));
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = free(&lesson);
        let choices = &plan.plan().choices;
        let Some(choice) = choices.get(seed as usize % choices.len().max(1)) else { continue };
        let starts = plan.plan().steps.iter().filter(|s| s.group == choice.group);
        let at = Minute::new(starts.map(|s| s.start.get()).max().unwrap_or(0) / 2);
        let (group, late) = (choice.group, Minutes::new(8));
        let slip = Slip { group, from: at - late, late };
        let lesson = Arc::new(lesson);
        let begun = Instant::now();
        let mut soonest = None;
        let heard = AtomicBool::new(false);
        let each = |_: &_| {
            soonest.get_or_insert_with(|| begun.elapsed());
            heard.store(true, Ordering::Relaxed);
        };
        let by = (at, std::slice::from_ref(&slip));
        let found = replan_begun((&lesson, &plan), &lesson, by, &budget(), &heard, each);
        if let (Ok(_), Some(soonest)) = (found, soonest) {
            first.push(soonest.as_secs_f64() * 1e3);
        }
    }
    first.sort_by(f64::total_cmp);
    let at = |share: usize| first.get((first.len() * share / 100).min(first.len() - 1));
    println!(
        "\n{} slips of 8 minutes, lessons of 12 groups: first answer after {:.1} ms (median), {:.1} \
         ms (99 in 100)",
        first.len(),
        at(50).unwrap_or(&0.0),
        at(99).unwrap_or(&0.0),
    );
}

fn main() {
    slips();
    let lessons: Vec<_> = (0..LESSONS)
        .map(|seed| {
            let file = generate::lesson_of(seed, 10);
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let plan = free(&lesson);
            (file, lesson, plan)
        })
        .collect();
    println!("{LESSONS} lessons of 10 groups, {DECODINGS} plans built at most");
    println!(
        "what           | days | first ms: median, most | all ms: median, most | others keep all, bake, place"
    );
    for (name, kind) in KINDS {
        let (mut first, mut whole) = (Vec::new(), Vec::new());
        let (mut others, mut all, mut bake, mut place) = (0, 0, 0, 0);
        for (file, lesson, plan) in &lessons {
            let Some(what) = kind(lesson, plan) else { continue };
            let Ok(day) = happens(file, &what, None, &[]) else { continue };
            let begun = Instant::now();
            let mut soonest = None;
            let never = AtomicBool::new(false);
            let each = |_: &_| {
                soonest.get_or_insert_with(|| begun.elapsed());
            };
            let found = replan((lesson, plan), &day, &[], &budget(), &never, each).unwrap();
            first.push(soonest.unwrap().as_secs_f64() * 1e3);
            whole.push(begun.elapsed().as_secs_f64() * 1e3);
            others += found.kept.others;
            all += found.kept.all;
            bake += found.kept.bake;
            place += found.kept.place;
        }
        let most = |all: &[f64]| all.iter().copied().fold(0.0, f64::max);
        let share = |n: usize| 100 * n / others.max(1);
        println!(
            "{name:14} | {:4} | {:8.1} {:8.1} | {:8.1} {:8.1} | {} %, {} %, {} % of {others}",
            first.len(),
            median(first.clone()),
            most(&first),
            median(whole.clone()),
            most(&whole),
            share(all),
            share(bake),
            share(place),
        );
    }
}
