//! Takes a plan and moves one figure of it by a little: what comes of it may keep every
//! rule or break any.

use ovenbell::model::Lesson;
use ovenbell::plan::{Place, Plan};
use ovenbell::units::{FineMillimetres, Minute, Minutes};
use rand::RngExt;
use rand_pcg::Pcg64Mcg;

/// The plan with one figure moved; `None` if it has none of that kind.
pub fn nudged(lesson: &Lesson, plan: &Plan, rng: &mut Pcg64Mcg) -> Option<Plan> {
    let mut other = plan.clone();
    let by = [-5, -2, -1, -1, -1, 1, 1, 1, 2, 5][rng.random_range(0..10)];
    match rng.random_range(0..13) {
        0 | 1 => {
            let step = one(&mut other.steps, rng)?;
            step.start = step.start + Minutes::new(by);
            step.end = step.end + Minutes::new(by);
        }
        2 => {
            let step = one(&mut other.steps, rng)?;
            step.end = step.end + Minutes::new(by);
        }
        3 => {
            let step = one(&mut other.steps, rng)?;
            let pupils = lesson.group(step.group).pupils;
            one(&mut step.pupils, rng).map(|p| *p = rng.random_range(0..=pupils))?;
        }
        4 => other = with_a_group_moved(other, by, rng)?,
        5 => {
            let setting = one(&mut other.settings, rng)?;
            setting.set_at = setting.set_at + Minutes::new(by);
        }
        6 => {
            let setting = one(&mut other.settings, rng)?;
            let which = if rng.random() { &mut setting.hot_from } else { &mut setting.until };
            *which = *which + Minutes::new(by);
        }
        7 | 8 => {
            let load = one(&mut other.loads, rng)?;
            let mut moved = |at: FineMillimetres| {
                let far = [1, 10, 100, 1000, 5000][rng.random_range(0..5)];
                FineMillimetres::hundredths(at.get() + if rng.random() { far } else { -far })
            };
            load.place = match load.place {
                Place::Corner { x, y, turned } => Place::Corner { x: moved(x), y, turned },
                Place::Centre { x, y } => Place::Centre { x, y: moved(y) },
            };
        }
        9 => {
            let used = one(&mut other.uses, rng)?;
            one(&mut used.items, rng).map(|item| *item = rng.random_range(0..20))?;
        }
        10 => {
            let used = one(&mut other.uses, rng)?;
            let which = if rng.random() { &mut used.start } else { &mut used.end };
            *which = *which + Minutes::new(by);
        }
        11 => {
            let class = one(&mut other.class_steps, rng)?;
            class.start = class.start + Minutes::new(by);
            class.end = class.end + Minutes::new(by);
        }
        _ => {
            let which = rng.random_range(0..plan.door_watches.len().max(1));
            let watch = plan.door_watches.get(which)?;
            other.door_watches[which].minute = watch.minute + Minutes::new(by);
        }
    }
    Some(other)
}

fn one<'a, T>(all: &'a mut [T], rng: &mut Pcg64Mcg) -> Option<&'a mut T> {
    if all.is_empty() { None } else { all.get_mut(rng.random_range(0..all.len())) }
}

/// All that a group has, so much later; what began at a bell stays there.
fn with_a_group_moved(mut plan: Plan, by: i32, rng: &mut Pcg64Mcg) -> Option<Plan> {
    let group = one(&mut plan.choices, rng)?.group;
    let later = |at: &mut Minute| *at = *at + Minutes::new(by);
    for step in plan.steps.iter_mut().filter(|s| s.group == group) {
        later(&mut step.start);
        later(&mut step.end);
    }
    for load in plan.loads.iter_mut().filter(|l| l.group == group) {
        later(&mut load.start);
        later(&mut load.end);
    }
    for used in plan.uses.iter_mut().filter(|u| u.group == group) {
        later(&mut used.start);
        later(&mut used.end);
    }
    Some(plan)
}
