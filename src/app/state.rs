//! What the window shows of the plan: what is selected, which stretch of
//! time, which minute.

use crate::model::{GroupId, OvenId, StepId};
use crate::view::board::BarId;

/// What the card is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Selection {
    /// Nothing: the key to the board and what is assumed.
    #[default]
    Nothing,
    /// A group.
    Group(GroupId),
    /// A group's step.
    Step(GroupId, StepId),
    /// An oven.
    Oven(OvenId),
    /// All adults.
    Adults,
    /// The minute line.
    Minute,
}

/// What the window shows of the plan.
#[derive(Debug, Clone, Default)]
pub struct ViewState {
    /// What the card is about.
    pub selection: Selection,
    /// The minute line, if it is shown.
    pub minute: Option<i32>,
    /// First and last minute shown; the whole board if `None`.
    pub shown: Option<(f32, f32)>,
    /// The bar that takes the keyboard when the board does.
    pub current: Option<BarId>,
    /// The bar that must take the keyboard now.
    pub focus_now: Option<BarId>,
    /// A list instead of the board.
    pub as_list: bool,
}
