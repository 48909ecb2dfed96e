//! One adult for all doors: two doors are never open in one minute. (With
//! several adults only tins through doors are counted, see `kit`.)

use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;

use super::each_oven::{Doors, TinsInOven, keep_distance};
use super::model::Model;
use crate::graph::problem::PoolOf;

/// Posts it, if the lesson wants an adult at doors and has but one.
pub(super) fn post(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let problem = model.problem;
    let adults = problem.pools.iter().filter(|p| matches!(p.of, PoolOf::Adult(_))).count();
    if !problem.adult_at_doors || adults != 1 {
        return;
    }
    one_oven_each(model, standing);
    for (first, second) in pairs(model) {
        if model.is_cut_short() {
            return;
        }
        let (Some(a), Some(b)) =
            (&model.modes[first].choice.bake, &model.modes[second].choice.bake)
        else {
            continue;
        };
        let a = Doors::of(problem, &model.modes[first], a);
        let b = Doors::of(problem, &model.modes[second], b);
        let together = together(model, standing, first, second);
        let mut unless: Vec<Predicate> = vec![together];
        unless.extend(model.modes[first].present().map(|p| !p));
        unless.extend(model.modes[second].present().map(|p| !p));
        keep_distance(model, (first, second), a.meets(&b), &unless);
    }
}

/// Modes of different groups.
fn pairs(model: &Model<'_>) -> Vec<(usize, usize)> {
    let group = |m: usize| model.modes[m].group;
    (0..model.modes.len())
        .flat_map(|second| (0..second).map(move |first| (first, second)))
        .filter(|&(first, second)| group(first) != group(second))
        .collect()
}

/// All tins of a group in one oven: it opens all its doors at once.
fn one_oven_each(model: &mut Model<'_>, standing: &[TinsInOven]) {
    for (i, a) in standing.iter().enumerate() {
        for b in standing[..i].iter().filter(|b| b.mode == a.mode) {
            let (x, y) = (a.tins, b.tins);
            model.engine.clause([predicate![x <= 0], predicate![y <= 0]]);
        }
    }
}

/// Holds only if two modes stand in the same oven.
fn together(model: &mut Model<'_>, standing: &[TinsInOven], a: usize, b: usize) -> Predicate {
    let literal = model.engine.literal();
    let holds = literal.get_true_predicate();
    let of = |m: usize| standing.iter().filter(move |s| s.mode == m);
    for (one, other) in [(a, b), (b, a)] {
        for here in of(one) {
            let tins = here.tins;
            let mut any = vec![!holds, predicate![tins <= 0]];
            any.extend(of(other).filter(|s| s.oven == here.oven).map(|s| {
                let tins = s.tins;
                predicate![tins >= 1]
            }));
            model.engine.clause(any);
        }
    }
    holds
}
