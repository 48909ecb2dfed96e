//! Reasons and bounds of a plan worked out anew, for a lesson it was not made
//! for: with fewer locks, say.

use super::bounds::Bounder;
use super::exact::lesson::Refuted;
use super::prover::Proof;
use super::reasons::reasons;
use crate::graph::expand;
use crate::model::Lesson;
use crate::plan::{NotServed, Plan, Refusal};

/// The plan with the bounds that pencil and paper prove for this lesson, and
/// with reasons for the groups it does not serve.
pub fn told_anew(lesson: &Lesson, plan: Plan) -> Plan {
    let problem = expand(lesson);
    let bounder = Bounder { lesson, problem: &problem };
    let of = problem.groups.iter().enumerate();
    let not_served: Vec<usize> =
        of.filter(|(_, g)| plan.choice(g.group).is_none()).map(|(i, _)| i).collect();
    let proof = Proof { bounds: bounder.planned(), refuted: Refuted::default() };
    Plan {
        not_served: reasons(bounder, &not_served, true, &proof),
        bounds: Some(proof.bounds),
        ..plan
    }
}

/// As [`told_anew`], with what is proved beside another plan of the same lesson:
/// proofs are of the lesson, whichever plan is shown. What that plan serves and
/// this one does not is told to be possible.
pub fn told_beside(lesson: &Lesson, plan: Plan, other: &Plan) -> Plan {
    let mut plan = told_anew(lesson, plan);
    for group in plan.not_served.iter_mut().filter(|n| n.refusal == Refusal::NotFound) {
        let id = group.group;
        let proved = |n: &&NotServed| n.group == id && n.refusal != Refusal::NotFound;
        if let Some(proved) = other.not_served.iter().find(proved) {
            *group = proved.clone();
        } else if other.choice(id).is_some() {
            group.reason = "It has no place in this plan, but has one in another that was found, \
                            in which others move."
                .to_owned();
        }
    }
    plan.bounds = other.bounds.or(plan.bounds);
    plan
}
