//! What is edited in its place on the board.

use crate::hand::Thing;
use crate::model::{GroupId, OvenId};

/// What is edited in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InPlace {
    /// When a thing starts, by the clock.
    Start(Thing),
    /// A group's name.
    Group(GroupId),
    /// An oven's name.
    Oven(OvenId),
}
