//! How large the model of a question would be: one that is too large is not
//! made, and nothing is proved by it.

use std::collections::BTreeSet;

use super::model::Question;
use crate::graph::Problem;
use crate::graph::problem::{BakeTask, Choice};

/// Uses and pairs of a model, added up: a few hundred megabytes at most. A
/// lesson of twenty groups has a hundredth of it.
const MOST: u64 = 1_000_000;

/// Whether the model of a question would be too large.
pub(super) fn is_too_large(problem: &Problem, question: &Question) -> bool {
    let allowed = || {
        let all = problem.groups.iter().zip(&question.allowed);
        all.flat_map(|(group, of)| of.iter().map(move |&o| (group, &group.options[o])))
    };
    let bakes = || allowed().filter_map(|(group, o)| o.bake.as_ref().map(|b| (group, b)));
    let count = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
    let size = |b: &BakeTask| (b.footprint.lying(), b.height);
    let sizes = bakes().map(|(_, b)| size(b)).collect::<BTreeSet<_>>().len();
    // A sum for each size of tin, and about two for each pair of sizes.
    let sums = count(sizes * sizes + 3);
    let steps: u64 = allowed().map(|(_, o): (_, &Choice)| count(3 * o.tasks.len())).sum();
    let mut all = steps.saturating_add(count(bakes().count()).saturating_mul(sums));
    if question.each_oven {
        let places =
            bakes().map(|(group, b)| count(group.ovens.len()) * u64::try_from(b.tins).unwrap_or(1));
        all = all.saturating_add(places.sum::<u64>().saturating_mul(sums));
        let modes = count(bakes().count());
        let ovens = count(problem.ovens.len() + 4);
        all = all.saturating_add(modes.saturating_mul(modes) / 2 * ovens);
        if problem.adult_at_doors {
            let minutes = u64::try_from(problem.horizon).unwrap_or(0);
            let doors = bakes().map(|(group, _)| count(2 * group.ovens.len()));
            all = all.saturating_add(doors.sum::<u64>().saturating_mul(minutes));
        }
    }
    all > MOST
}
