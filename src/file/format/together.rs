//! How far minutes go together, as a lesson says it.

use serde::{Deserialize, Serialize};

/// How far minutes go together when a plan is played: shares of variance from 0
/// to 1, the usual ones where the lesson does not say.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TogetherShape {
    /// Of hand steps and of the class's own, what the whole class shares.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class: Option<f64>,
    /// Of hand steps, what a group's steps share.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<f64>,
    /// Of bakes, what an oven's share.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub oven: Option<f64>,
    /// Of bakes, what a mixture's share.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mixture: Option<f64>,
}
