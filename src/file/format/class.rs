//! A class kept for other lessons.

use serde::{Deserialize, Serialize};

use super::{ClassShape, ClassStepShape, GroupShape, is_default};

/// What a class brings to a lesson, whatever it bakes that day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SavedClass {
    /// Its name and pace band.
    pub class: ClassShape,
    /// Its groups: their names, sizes, places, paces and needs, without recipe,
    /// methods and tins.
    #[serde(default, skip_serializing_if = "is_default")]
    pub groups: Vec<GroupShape>,
    /// The class's own steps from the start bell, in order.
    #[serde(default, skip_serializing_if = "is_default")]
    pub opening: Vec<ClassStepShape>,
    /// The class's steps in the course of the lesson.
    #[serde(default, skip_serializing_if = "is_default")]
    pub during: Vec<ClassStepShape>,
    /// The class's steps up to the end bell, in order.
    #[serde(default, skip_serializing_if = "is_default")]
    pub closing: Vec<ClassStepShape>,
    /// Start bell, as "10:05", if it is always the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<String>,
    /// End bell, likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<String>,
}
