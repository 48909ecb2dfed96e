//! The day on which a lesson is taught.

use super::ids::GroupId;
use crate::units::ClockTime;

/// The day, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Today {
    /// Whole spare sets of ingredients that are left.
    pub spare_sets: u32,
    /// Events of the day, in their order.
    pub happened: Vec<Happened>,
    /// Groups whose pupils work with another group: who, with whom.
    pub joined: Vec<(GroupId, GroupId)>,
}

/// An event of the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Happened {
    /// When, if known.
    pub at: Option<ClockTime>,
    /// The event in a sentence or two.
    pub what: String,
}

impl Today {
    /// Spare sets at the start of a day, if nobody says how many: one whole
    /// set (common practice of the trade).
    pub const SPARE_SETS: u32 = 1;

    /// The group with which the pupils of a group work.
    pub fn works_with(&self, group: GroupId) -> Option<GroupId> {
        self.joined.iter().find(|(who, _)| *who == group).map(|(_, with)| *with)
    }
}
