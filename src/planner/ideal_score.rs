//! When the search may stop: nothing can be better on any of the six aims.

use std::collections::BTreeMap;

use super::exact::lesson::ready_at_least;
use super::objective::Score;
use crate::graph::Problem;
use crate::plan::Bounds;

/// The score of a lesson in which every group has its first choice and is
/// ready as soon as its own steps, the bells and a warm oven allow; `None` if
/// not all groups can be served. No plan is better.
pub(super) fn ideal(problem: &Problem) -> Option<Score> {
    let mut score = Score::default();
    // Groups that are alike are looked at once.
    let mut known: BTreeMap<usize, (u64, i32)> = BTreeMap::new();
    for (g, group) in problem.groups.iter().enumerate() {
        let (least, ready) = match known.get(&group.like) {
            Some(known) => *known,
            None => soonest(problem, g)?,
        };
        known.insert(group.like, (least, ready));
        let period = &problem.periods[group.period];
        let spare = period.closing_start - ready;
        score.departures += least;
        score.shortfall = score.shortfall.max(problem.wanted_spare - spare);
        score.latest = score.latest.max(ready - period.start);
        score.sum += i64::from(ready - period.start);
        if group.options.iter().all(|o| o.bake.is_some()) {
            score.calls = 1;
        }
    }
    Some(score)
}

/// The least departure of a group, and when it is ready at the soonest with it.
fn soonest(problem: &Problem, group: usize) -> Option<(u64, i32)> {
    let options = &problem.groups[group].options;
    let least = options.iter().map(|o| o.departure).min()?;
    let first = (0..options.len()).filter(|&o| options[o].departure == least);
    Some((least, first.filter_map(|o| ready_at_least(problem, group, o)).min()?))
}

/// Whether nothing can be better than a score: it is the ideal one, or there
/// is nobody to be served.
pub(super) fn is_best(ideal: Option<Score>, bounds: Bounds, score: Score) -> bool {
    let nobody = bounds.served_at_most == 0;
    nobody || ideal.is_some_and(|ideal| score <= ideal)
}
