//! Why a group is not served, at length.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::Session;
use super::study::Heard;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};
use crate::planner::explain::{ExplainLimits, explain_some};

/// A group of a lesson with its plan.
pub(super) struct ToExplain {
    pub lesson: Arc<Lesson>,
    pub plan: Arc<CheckedPlan>,
    pub group: GroupId,
}

pub(super) fn explain(
    of: ToExplain,
    stop: &AtomicBool,
    tell: &dyn Fn((GroupId, String)),
) -> Result<(), String> {
    let left_out = |g: &GroupId| of.plan.plan().choice(*g).is_none();
    let left_out: Vec<GroupId> = of.lesson.attending().filter(left_out).collect();
    if !left_out.contains(&of.group) {
        return Ok(());
    }
    let limits = ExplainLimits { stop: Some(stop), ..ExplainLimits::default() };
    let explained = explain_some(&of.lesson, &[of.group], &left_out, limits);
    let Some(explained) = explained.first().filter(|e| e.is_proved()) else { return Ok(()) };
    if !stop.load(Ordering::Relaxed) {
        let sum = match explained.sum.as_str() {
            "" => String::new(),
            sum => format!("\nThe sum: {sum}"),
        };
        tell((of.group, format!("{}{sum}", explained.sentence)));
    }
    Ok(())
}

impl Session {
    /// Asks why a group of the plan on screen is not served.
    pub(super) fn ask_why(&mut self, group: GroupId) {
        let Some(planned) = &self.planned else { return };
        let (lesson, plan) = (Arc::clone(&planned.lesson), Arc::clone(&planned.plan));
        self.studies.reasons.ask(planned.revision, ToExplain { lesson, plan, group });
    }

    pub(super) fn hear_explanations(&mut self) {
        let now = self.revision();
        for heard in self.studies.reasons.hear(now) {
            match heard {
                Heard::Answer((group, words)) => {
                    self.explained = now.map(|revision| (revision, group, words));
                }
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }
}
