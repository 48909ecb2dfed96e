//! From the shapes of a lesson to its file.

use std::io;
use std::path::Path;

use thiserror::Error;

use super::disk::{Backup, write_atomically};
use super::format::{FORMAT, LessonFile};
use super::layout::laid_out;
use super::merge::merged;
use super::syntax;

/// Why a lesson was not saved. What was there before is there still.
#[derive(Debug, Error)]
pub enum SaveError {
    /// It cannot be written down.
    #[error("the lesson cannot be written down: {0}")]
    Text(#[from] ron::Error),
    /// It cannot be put on the disk.
    #[error("the file cannot be written: {0}")]
    Disk(#[from] io::Error),
}

/// The text of a lesson's file, which begins with its format number.
///
/// # Errors
/// If the library refuses to write it.
pub fn write_lesson(file: &LessonFile) -> Result<String, SaveError> {
    let file = LessonFile { format: FORMAT, ..file.clone() };
    Ok(laid_out(&syntax::options().to_string(&file)?))
}

/// Saves a lesson, whole or not at all, with the comments and the layout of
/// the text it was read from; the text that was written.
///
/// # Errors
/// If it cannot be written.
pub fn save_lesson(
    path: &Path,
    old: &str,
    file: &LessonFile,
    backup: Backup,
) -> Result<String, SaveError> {
    let text = merged(old, file)?;
    write_atomically(path, text.as_bytes(), backup)?;
    Ok(text)
}
