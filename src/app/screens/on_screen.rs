//! The plan on screen and what is selected in it.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::app::state::ViewState;
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::session::{Moving, Overlay, Planned, ToldOdds};
use crate::view::board::{BarId, Board};
use crate::view::odds::OddsOfBoard;

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
    /// What odds add to the board, if they are switched on.
    pub odds: Option<&'a Arc<OddsOfBoard>>,
    /// The odds, if they are switched on and known.
    pub told_odds: Option<&'a ToldOdds>,
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

    /// The bars of the cause of lateness that is shown.
    pub fn of_cause(&self) -> Option<&'a BTreeSet<BarId>> {
        let cause = self.view.cause.as_ref()?;
        let told = self.told_odds?.card.causes.iter().find(|c| c.cause == *cause);
        told.map(|c| &c.bars)
    }

    /// The plan's board.
    pub fn board(&self) -> &'a Board {
        &self.planned.board
    }
}
