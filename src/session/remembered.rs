//! Plans of lessons that were on screen: a lesson that is again as it was shows
//! the very plan it had.

use std::sync::Arc;

use super::{Planned, Session};
use crate::check::{CheckedPlan, check};
use crate::file::format::LessonFile;

/// So many plans are remembered.
const MOST: usize = 24;

/// Plans by their lesson's file, the last one last.
#[derive(Debug, Default)]
pub(super) struct Remembered(Vec<(LessonFile, Arc<CheckedPlan>)>);

impl Remembered {
    pub fn of(&self, file: &LessonFile) -> Option<Arc<CheckedPlan>> {
        let known = self.0.iter().rev().find(|(f, _)| f == file);
        known.map(|(_, plan)| Arc::clone(plan))
    }

    pub fn remember(&mut self, file: LessonFile, plan: Arc<CheckedPlan>) {
        self.0.retain(|(f, _)| *f != file);
        self.0.push((file, plan));
        if self.0.len() > MOST {
            self.0.remove(0);
        }
    }

    pub fn clear(&mut self) {
        self.0.clear();
    }
}

impl Session {
    /// Shows the plan that a lesson had when it was on screen, if it was; it
    /// is checked anew.
    pub(super) fn shows_remembered(&mut self) -> bool {
        let Some(doc) = &self.doc else { return false };
        let Some(lesson) = doc.lesson() else { return false };
        let Some(plan) = self.moving.remembered.of(doc.file()) else { return false };
        let Ok(plan) = check(lesson, plan.plan().clone()) else { return false };
        let planned = Planned::new(doc.revision(), lesson, Arc::new(plan));
        self.studies.plans.forget();
        self.show_plan(Some(planned));
        true
    }
}
