//! A lesson's file changed where it is, by who does not keep it open.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use super::copies::copy_beside;
use super::disk::{Access, Disk, RealDisk};
use super::file_hold::FileHold;
use super::format::LessonFile;
use super::load::{LARGEST_FILE, read_lesson_shapes};
use super::merge::merged;
use super::plain_words::{Doing, why};
use super::write::{Backup, write_held};
use crate::finding::Finding;

/// How long others who change the same file are waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Why a file was not changed; it is then as it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotRewritten {
    /// It cannot be read or written, in words.
    #[error("{0}")]
    Disk(String),
    /// It is no lesson's file, or the change cannot be made.
    #[error("{0}")]
    Refused(Box<Finding>),
}

/// Changes a lesson's file, whole or not at all. Nobody else changes it meanwhile:
/// of several who do at once nobody loses anything. Once this returns the change
/// is in the file. Comments stay.
///
/// # Errors
/// Why it was not changed.
pub fn rewrite(
    path: &Path,
    change: impl FnOnce(&LessonFile) -> Result<LessonFile, Finding>,
) -> Result<(), NotRewritten> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let path = disk.resolved(path);
    let writing = |error| NotRewritten::Disk(why(&error, Doing::Writing(&path)));
    let refused = |finding: Finding| NotRewritten::Refused(Box::new(finding));
    let hold = FileHold::wait(&disk, &path, PATIENCE).map_err(writing)?;
    if copy_beside(&path).exists() {
        let words = "changes of it that were not saved stand beside it".to_owned();
        return Err(NotRewritten::Disk(words));
    }
    let bytes = disk
        .read(&path, LARGEST_FILE)
        .map_err(|error| NotRewritten::Disk(why(&error, Doing::Reading(&path))))?;
    let text = String::from_utf8_lossy(&bytes);
    let file = read_lesson_shapes(&text).map_err(|mut findings| match findings.is_empty() {
        true => NotRewritten::Disk("it cannot be read".to_owned()),
        false => refused(findings.remove(0)),
    })?;
    let file = change(&file).map_err(refused)?;
    let text = merged(&text, &file).map_err(|error| NotRewritten::Disk(error.to_string()))?;
    let how = (Backup::Keep, Access::AsBefore);
    write_held(hold.as_ref(), &path, text.as_bytes(), how).map_err(writing)
}
