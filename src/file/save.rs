//! From the shapes of a lesson to its file.

use thiserror::Error;

use super::format::{FORMAT, LessonFile};
use super::syntax;

/// Why a lesson was not saved. What was there before is there still.
#[derive(Debug, Error)]
pub enum SaveError {
    /// The lesson cannot be written down.
    #[error("the lesson cannot be written down: {0}")]
    Text(#[from] ron::Error),
}

/// The text of a lesson's file, which begins with its format number.
///
/// # Errors
/// If the library refuses to write it.
pub fn write_lesson(file: &LessonFile) -> Result<String, SaveError> {
    let file = LessonFile { format: FORMAT, ..file.clone() };
    Ok(syntax::written(&file)?)
}
