//! From the shapes of a lesson or a week to its file.

use thiserror::Error;

use super::format::{FORMAT, LessonFile, RecipeShape, WEEK_FORMAT, WeekFile};
use super::syntax;

/// Why a lesson or a week was not saved. What was there before is there still.
#[derive(Debug, Error)]
pub enum SaveError {
    /// It cannot be written down.
    #[error("it cannot be written down: {0}")]
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

/// The text of a week's file, which begins with its format number.
///
/// # Errors
/// If the library refuses to write it.
pub fn write_week(file: &WeekFile) -> Result<String, SaveError> {
    let file = WeekFile { format: WEEK_FORMAT, ..file.clone() };
    Ok(syntax::written(&file)?)
}

/// The text of a file that holds a recipe by itself.
///
/// # Errors
/// If the library refuses to write it.
pub fn write_recipe(recipe: &RecipeShape) -> Result<String, SaveError> {
    Ok(syntax::written(recipe)?)
}
