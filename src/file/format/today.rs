//! What a lesson file says of the day on which the lesson is taught.

use serde::{Deserialize, Serialize};

use super::{Entries, PointerShape, is_default};

/// The day of a lesson: a file that has this is a copy for one day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TodayShape {
    /// The lesson it is the day of, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub of: Option<PointerShape>,
    /// Whole spare sets of ingredients that are left; 1 if not said (common
    /// practice of the trade: one whole set for the forgotten or dropped).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_sets: Option<i64>,
    /// Events of the day, in their order.
    #[serde(skip_serializing_if = "is_default")]
    pub happened: Vec<HappenedShape>,
    /// Ovens that failed in the course of the lesson, and when, by the clock.
    #[serde(skip_serializing_if = "is_default")]
    pub out_from: Entries<String>,
    /// Minutes that bakes last, by group, where the day has told that these are not
    /// their tins'.
    #[serde(skip_serializing_if = "is_default")]
    pub baked_for: Entries<i32>,
    /// Groups whose pupils work with another group, by their names.
    #[serde(skip_serializing_if = "is_default")]
    pub joined: Entries<String>,
    /// What was said once the lesson was over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub afterwards: Option<AfterwardsShape>,
}

/// What was said once the lesson was over.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct AfterwardsShape {
    /// When groups set to work, by the clock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_to_work: Option<String>,
    /// What held groups up.
    #[serde(skip_serializing_if = "is_default")]
    pub held: String,
    /// A line for next time.
    #[serde(skip_serializing_if = "is_default")]
    pub next: String,
}

/// An event of the day.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HappenedShape {
    /// When, by the clock, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// The group of which it is a fact, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub who: Option<String>,
    /// The fact, or the event in a sentence or two.
    pub what: String,
}
