//! The plan on screen and what is selected in it.

use crate::app::state::ViewState;
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::session::{Moving, Overlay, Planned};
use crate::view::board::Board;

/// The plan on screen and what is selected in it: what the board, the list and
/// the cards read.
#[derive(Clone, Copy)]
pub struct OnScreen<'a> {
    /// The plan, with its lesson and its board.
    pub planned: &'a Planned,
    /// What is selected and shown of it.
    pub view: &'a ViewState,
    /// What is moved by hand.
    pub moving: &'a Moving,
    /// Another plan laid over the board.
    pub overlay: Option<&'a Overlay>,
    /// Bars glide to new places.
    pub glide: bool,
}

impl<'a> OnScreen<'a> {
    /// The lesson that the plan is of.
    pub fn lesson(&self) -> &'a Lesson {
        &self.planned.lesson
    }

    /// The plan.
    pub fn plan(&self) -> &'a CheckedPlan {
        &self.planned.plan
    }

    /// The plan's board.
    pub fn board(&self) -> &'a Board {
        &self.planned.board
    }
}
