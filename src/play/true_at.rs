//! What has to be true at a minute, so that all are still out.

use super::network::{Network, What};
use super::to_give::GroupToGive;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, StepId};
use crate::units::Minute;

/// What has to be true of one group at a minute, others as planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrueAt {
    /// The group.
    pub group: GroupId,
    /// Steps that have to be over by then, in the order of the plan: their
    /// planned end and what they have to give are past.
    pub over: Vec<StepId>,
    /// Steps that have to have begun.
    pub begun: Vec<StepId>,
}

/// What has to be true at a minute, by group; `gives` is what each has to give.
pub fn true_at(
    lesson: &Lesson,
    plan: &CheckedPlan,
    gives: &[GroupToGive],
    minute: Minute,
) -> Vec<TrueAt> {
    let network = Network::new(lesson, plan);
    let at = f64::from(minute.get());
    let of_group = gives.iter().map(|give| {
        let mut found = TrueAt { group: give.group, over: Vec::new(), begun: Vec::new() };
        for node in &network.nodes {
            let What::Step(group, step) = node.what else { continue };
            let Some(of_step) = give.steps.iter().find(|s| s.step == step) else { continue };
            let late = f64::from(of_step.minutes);
            if group != give.group {
                continue;
            }
            if node.end + late <= at {
                found.over.push(step);
            } else if node.start + late <= at {
                found.begun.push(step);
            }
        }
        found
    });
    of_group.collect()
}
