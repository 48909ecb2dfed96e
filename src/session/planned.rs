//! The plan on screen, with the lesson it is of.

use std::sync::{Arc, OnceLock};

use super::ids::Revision;
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::view::board::Board;
use crate::view::rehearsal::Rehearsal;

/// A plan with all that belongs to it.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The state of the document it is of.
    pub revision: Revision,
    /// The lesson it is of: the one before a change until the next plan is
    /// there.
    pub lesson: Arc<Lesson>,
    /// The plan.
    pub plan: Arc<CheckedPlan>,
    /// Its board.
    pub board: Arc<Board>,
    /// Its rehearsal, once it was asked for.
    rehearsal: OnceLock<Arc<Rehearsal>>,
}

impl Planned {
    /// A plan of a lesson, with its board.
    pub fn new(revision: Revision, lesson: &Arc<Lesson>, plan: Arc<CheckedPlan>) -> Self {
        let board = Arc::new(Board::of(lesson, &plan));
        let (lesson, rehearsal) = (Arc::clone(lesson), OnceLock::new());
        Self { revision, lesson, plan, board, rehearsal }
    }

    /// The lesson minute by minute, as it is planned.
    pub fn rehearsal(&self) -> &Arc<Rehearsal> {
        self.rehearsal.get_or_init(|| Arc::new(Rehearsal::of(&self.lesson, &*self.plan)))
    }
}
