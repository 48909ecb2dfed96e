//! Which families of rules could stand in the way of some groups.

use crate::graph::Problem;
use crate::graph::problem::{Choice, Need, PoolOf};
use crate::model::Lesson;
use crate::plan::Rule;
use crate::plan::why::Family;

/// The rules of some families, each once.
pub(super) fn rules_of(families: &[Family]) -> Vec<Rule> {
    let mut rules: Vec<Rule> = Vec::new();
    for &rule in families.iter().flat_map(|f| f.rules()) {
        if !rules.contains(&rule) {
            rules.push(rule);
        }
    }
    rules
}

/// The families that could bind any of some groups; lifting any other changes
/// nothing.
pub(super) fn families(lesson: &Lesson, problem: &Problem, groups: &[usize]) -> Vec<Family> {
    let of = || groups.iter().map(|&g| &problem.groups[g]);
    let options = || of().flat_map(|g| g.options.iter());
    let tasks = || options().flat_map(|o| &o.tasks);
    let bakes = || options().filter_map(|o| o.bake.as_ref());
    let bakes_at_all = bakes().next().is_some();
    let mut all = vec![Family::Pupils, Family::Order, Family::Bell];
    let mut add = |family: Family, binds: bool| {
        if binds && !all.contains(&family) {
            all.push(family);
        }
    };
    let locked = |l: &crate::model::lesson::Lock| of().any(|g| g.group == l.group);
    add(Family::Locked, lesson.locks.iter().any(locked));
    add(Family::KeepApart, of().any(|g| g.keep_apart));
    let between = problem.fixed.iter().any(|step| {
        let period = &problem.periods[step.period];
        let during = step.earliest >= period.opening_end && step.earliest < period.closing_start;
        during && of().any(|g| g.period == step.period)
    });
    let floating = problem.floating.iter().any(|s| of().any(|g| g.period == s.period));
    add(Family::ClassStep, between || floating);
    add(Family::DoorHands, bakes_at_all && problem.tins_per_opening < i32::MAX / 1024);
    add(Family::Door, bakes().any(|b| b.shut.is_some()));
    add(Family::Temperature, bakes_at_all);
    let adults = problem.adult_at_doors && bakes_at_all;
    add(Family::Adults, adults || tasks().any(|t| t.with_adult || t.adult_near));
    for need in options().flat_map(needs) {
        for &pool in &need.pools {
            match problem.pools[pool].of {
                PoolOf::Kit(kit) => add(Family::Kit(lesson.kit_pools[kit.0].kit), true),
                PoolOf::Tin(tin, _) => add(Family::Tin(tin), true),
                PoolOf::Adult(_) => {}
            }
        }
    }
    add(Family::Shelf, bakes_at_all);
    all.sort_unstable();
    all
}

/// Everything counted that an option takes.
pub(super) fn needs(option: &Choice) -> impl Iterator<Item = &Need> {
    let of_tasks = option.tasks.iter().flat_map(|task| &task.needs);
    of_tasks.chain(option.holds.iter().map(|hold| &hold.need))
}
