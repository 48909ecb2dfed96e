//! What is under way in a lesson at a minute.

use super::ids::{GroupId, OvenId, ShelfId};
use crate::units::{Celsius, FineMillimetres, Minute};

/// What has begun by a minute of a lesson, beside the starts and the tins that
/// are locked. No rule of plans: a search for plans in mid-lesson goes by it.
#[derive(Debug, Clone, PartialEq)]
pub struct Begun {
    /// The minute. Nothing begins before it that is not locked.
    pub by: Minute,
    /// Bakes that are in, or so soon to go in that they stay.
    pub bakes: Vec<BegunBake>,
    /// Steps of groups that are behind: those of the name begin no sooner.
    pub not_before: Vec<(GroupId, String, Minute)>,
    /// By oven: what it is set to, and from when it is that hot; `None` of one
    /// that is off.
    pub set: Vec<Option<(Celsius, Minute)>>,
}

/// A bake that stays where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct BegunBake {
    /// Whose.
    pub group: GroupId,
    /// Its temperature (the recipe's scale, without a fan).
    pub celsius: Celsius,
    /// Each of its tins.
    pub tins: Vec<StandingTin>,
}

/// A tin in an oven: where the left front corner of the rectangle round its rim
/// is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandingTin {
    /// The oven.
    pub oven: OvenId,
    /// The shelf, from the top.
    pub shelf: ShelfId,
    /// From the shelf's left.
    pub left: FineMillimetres,
    /// From the shelf's front.
    pub front: FineMillimetres,
    /// Turned by a right angle.
    pub turned: bool,
}
