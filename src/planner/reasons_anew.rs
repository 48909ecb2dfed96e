//! Reasons and bounds of a plan worked out anew, for a lesson it was not made
//! for: with fewer locks, say.

use super::bounds::Bounder;
use super::reasons::reasons;
use crate::graph::expand;
use crate::model::Lesson;
use crate::plan::Plan;

/// The plan with the bounds that pencil and paper prove for this lesson, and
/// with reasons for the groups it does not serve. `tries` is how many plans
/// were built in all.
pub fn told_anew(lesson: &Lesson, plan: Plan, tries: u64) -> Plan {
    let problem = expand(lesson);
    let bounder = Bounder { lesson, problem: &problem };
    let of = problem.groups.iter().enumerate();
    let not_served: Vec<usize> =
        of.filter(|(_, g)| plan.choice(g.group).is_none()).map(|(i, _)| i).collect();
    let refuted = super::exact::lesson::Refuted::default();
    Plan {
        not_served: reasons(bounder, &not_served, Some(tries), &refuted),
        bounds: Some(bounder.planned()),
        ..plan
    }
}
