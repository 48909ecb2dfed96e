//! Where the class's own steps that have a window can lie all together.

use crate::graph::Problem;
use crate::graph::problem::ClassTask;
use crate::model::class_starts::{self, FloatingStep};

/// A start for every floating step of the class, near the middle of its
/// window, so that none overlaps another of its period or takes an adult who
/// is not there or busy; else the step that was hardest to place.
pub fn class_starts(problem: &Problem) -> Result<Vec<i32>, usize> {
    let floating = |of: &ClassTask| FloatingStep {
        period: of.period,
        minutes: of.minutes,
        starts: free_starts(problem, of).collect(),
        best: of.earliest + (of.latest - of.earliest) / 2,
        adults: of.adults.clone(),
    };
    let steps: Vec<FloatingStep> = problem.floating.iter().map(floating).collect();
    class_starts::class_starts(&steps)
}

/// Starts of a floating step at which no fixed step and no adult's absence is
/// in its way.
fn free_starts(problem: &Problem, of: &ClassTask) -> impl Iterator<Item = i32> {
    (of.earliest..=of.latest).filter(move |&start| {
        let end = start + of.minutes;
        let there = |&pool: &usize| {
            (start..end).all(|minute| {
                let taken = usize::try_from(minute).ok();
                taken.and_then(|m| problem.pools[pool].taken.get(m)) == Some(&false)
            })
        };
        let overlaps = |fixed: &ClassTask| {
            fixed.period == of.period
                && fixed.earliest < end
                && start < fixed.earliest + fixed.minutes
        };
        of.adults.iter().all(there) && !problem.fixed.iter().any(overlaps)
    })
}
