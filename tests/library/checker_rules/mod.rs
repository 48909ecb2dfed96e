//! Every rule: a valid plan keeps them all, and a change that breaks one is
//! reported under that name and no other.

mod class_and_kit;
mod groups;
mod ovens;
mod together;

use std::collections::BTreeSet;

use ovenbell::check::{Breach, check};
use ovenbell::model::*;
use ovenbell::plan::*;

use crate::common::rich::*;

/// The plan, changed together with its lesson.
struct Case {
    parts: LessonParts,
    plan: Plan,
}

impl Case {
    fn step(&mut self, group: GroupId, step: usize) -> &mut StepPlacement {
        let found = |s: &&mut StepPlacement| s.group == group && s.step == StepId(step);
        self.plan.steps.iter_mut().find(found).unwrap()
    }

    fn moved(&mut self, group: GroupId, step: usize, start: i32, end: i32) {
        let step = self.step(group, step);
        (step.start, step.end) = (at(start), at(end));
    }

    fn used(&mut self, group: GroupId, of: Stock) -> &mut KitUse {
        self.plan.uses.iter_mut().find(|u| u.group == group && u.of == of).unwrap()
    }

    fn kit(&mut self, group: GroupId, pool: PoolId) -> &mut KitUse {
        self.used(group, Stock::Kit(pool))
    }

    fn recipe_step(&mut self, group: GroupId, step: usize) -> &mut Step {
        &mut self.recipe(group).methods[0].steps[step]
    }

    fn recipe(&mut self, group: GroupId) -> &mut Recipe {
        &mut self.parts.recipes[group.0]
    }

    fn link(&mut self, group: GroupId, from: usize, to: usize) -> &mut Link {
        let found = |l: &&mut Link| (l.from, l.to) == (StepId(from), StepId(to));
        self.recipe(group).methods[0].links.iter_mut().find(found).unwrap()
    }

    fn judged(self) -> Vec<Breach> {
        check(&Lesson::new(self.parts).unwrap(), self.plan).err().unwrap_or_default()
    }
}

fn changed(change: impl FnOnce(&mut Case)) -> Vec<Breach> {
    let mut case = Case { parts: parts(), plan: plan() };
    change(&mut case);
    case.judged()
}

#[track_caller]
fn breaks(rule: &'static str, change: impl FnOnce(&mut Case)) {
    breaks_all(&[rule], change);
}

#[track_caller]
fn breaks_all(rules: &[&'static str], change: impl FnOnce(&mut Case)) {
    let breaches = changed(change);
    let names: BTreeSet<&str> = breaches.iter().map(|b| b.rule.name()).collect();
    let wanted: BTreeSet<&str> = rules.iter().copied().collect();
    assert_eq!(names, wanted, "{breaches:#?}");
}

#[track_caller]
fn keeps_all(change: impl FnOnce(&mut Case)) {
    let breaches = changed(change);
    assert!(breaches.is_empty(), "{breaches:#?}");
}

/// One tin of the sponge in the other oven, with an adult of its own.
fn second_tin_in_oven_2(case: &mut Case, adult: AdultId) {
    case.parts.locks.clear();
    case.plan.loads[1].oven = OvenId(1);
    case.plan.door_watches.extend([watch(1, 16, adult), watch(1, 29, adult)]);
}
