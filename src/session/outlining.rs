//! A choice of a tin or method for one group, seen in outline before it is
//! made: others stay where they are as far as they can.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::study::Heard;
use super::{Session, first_of};
use crate::change::Offer;
use crate::check::CheckedPlan;
use crate::edit::{Edit, FileChange};
use crate::file::format::LessonFile;
use crate::model::{Lesson, PastBake};
use crate::planner::Budget;
use crate::today::{NoReplan, replan};

/// Plans built for a choice: one group moves, the others hold.
const BUDGET: Budget = Budget { within: None, decodings: Some(1_000), seed: 1 };

/// A lesson with its plan, and the same with the choice made.
pub(super) struct ToOutline {
    name: String,
    before: (Arc<Lesson>, Arc<CheckedPlan>),
    after: LessonFile,
    /// Bakes noted so far.
    past: Arc<[PastBake]>,
}

/// What a choice is called, and what it comes to or why it cannot be made.
pub(super) type Outlined = (String, Result<Box<Offer>, String>);

pub(super) fn outline(
    of: ToOutline,
    stop: &AtomicBool,
    tell: &dyn Fn(Outlined),
) -> Result<(), String> {
    let before = (&*of.before.0, &*of.before.1);
    let found = match replan(before, &of.after, &of.past, &BUDGET, stop, |_| {}) {
        Ok(found) => {
            let (lesson, plan) = (found.lesson, Arc::new(found.plan));
            Ok(Box::new(Offer { items: Vec::new(), cost: 0.0, file: of.after, lesson, plan }))
        }
        Err(NoReplan::NoLesson(findings)) => Err(first_of(&findings)),
        Err(no_plan @ NoReplan::NoPlan(_)) => Err(no_plan.to_string()),
    };
    tell((of.name, found));
    Ok(())
}

impl Session {
    /// Works out what edits of one group come to, to lay it over the board.
    pub(super) fn outline(&mut self, edits: &[Edit]) {
        let (Some(doc), Some(planned)) = (&self.doc, &self.planned) else { return };
        let Some(lesson) = doc.lesson().filter(|_| planned.revision == doc.revision()) else {
            self.tell("Not yet: the plan is still being looked for.");
            return;
        };
        let mut after = doc.file().clone();
        let mut labels = Vec::new();
        for edit in edits {
            match edit.made(&after) {
                Ok(made) => after = made,
                Err(finding) => {
                    self.tell(format!("Cannot: {}. {}", edit.label(), finding.message));
                    return;
                }
            }
            labels.push(edit.label());
        }
        if after == *doc.file() {
            return;
        }
        let before = (Arc::clone(lesson), Arc::clone(&planned.plan));
        let past = Arc::clone(&doc.past);
        let of = ToOutline { name: labels.join("; "), before, after, past };
        self.studies.outlines.ask(doc.revision(), of);
    }

    pub(super) fn hear_outlines(&mut self) {
        let now = self.revision();
        for heard in self.studies.outlines.hear(now) {
            match heard {
                Heard::Answer((name, Ok(offer))) => self.lay_outline(name, offer),
                Heard::Answer((name, Err(why))) => self.tell(format!("Cannot: {name}. {why}")),
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }
}
