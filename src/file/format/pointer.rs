//! How one file points to another.

use serde::{Deserialize, Serialize};

/// A pointer to a lesson, as written.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointerShape {
    /// The path of its file from the folder of the file that points, always
    /// with `/`; the whole path in a file that has no folder yet.
    pub file: String,
    /// That lesson's id, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
}
