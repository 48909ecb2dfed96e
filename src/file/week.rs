//! A week's file as a text whose places can be told: its shapes, not yet
//! understood; and saved without a loss.

use std::io;
use std::path::Path as FilePath;
use std::sync::Arc;
use std::time::Duration;

use super::disk::{Access, Disk, RealDisk};
use super::file_hold::FileHold;
use super::format::{RoomShape, WEEK_FORMAT, WeekFile};
use super::load::{LARGEST_FILE, read_shapes, read_text};
use super::locate::Locator;
use super::other_kind::{FileKind, other_kind};
use super::plain_words::{Doing, why};
use super::syntax::without_mark;
use super::understand::findings::listed;
use super::understand::names::{expand, nearest};
use super::write::{Backup, write_held};
use crate::finding::{Finding, Path};

/// A week's file, and the newest format it may have.
const WEEK: (FileKind, u32) = (FileKind::Week, WEEK_FORMAT);

/// The shapes of a week's file and the text they stand in.
#[derive(Debug, Clone)]
pub struct WeekText {
    /// The shapes.
    pub file: WeekFile,
    text: String,
}

impl WeekText {
    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Findings with their places in the text, in the order of the file.
    pub fn placed(&self, mut findings: Vec<Finding>) -> Vec<Finding> {
        let locator = Locator::new(&self.text);
        for finding in &mut findings {
            finding.place = Some(locator.place(&finding.path));
        }
        findings.sort_by_key(|f| f.place);
        findings
    }
}

/// The names of a room's ovens, those that are counted one by one, in order.
pub fn oven_names(room: &RoomShape) -> Vec<String> {
    // Sensible or not, a count is found wrong where a lesson is planned there.
    let count = |n: i64| u32::try_from(n.clamp(0, 500)).unwrap_or(0);
    room.all_ovens().flat_map(|oven| expand(&oven.name, oven.count.map(count))).collect()
}

/// What was probably meant by a name that is not there.
pub fn did_you_mean<'a>(name: &str, among: impl Iterator<Item = &'a str> + Clone) -> String {
    match nearest(name, among.clone()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("there are: {}", listed(among)),
    }
}

/// Reads a week's file as shapes.
///
/// # Errors
/// What keeps it from being one.
pub fn load_week(path: &FilePath) -> Result<WeekText, Vec<Finding>> {
    read_week(&read_text(path).map_err(|f| vec![f])?)
}

/// Reads the shapes of a week from the text of its file.
///
/// # Errors
/// As [`load_week`].
pub fn read_week(text: &str) -> Result<WeekText, Vec<Finding>> {
    let text = without_mark(text);
    let locator = Locator::new(text);
    if let Some(finding) = other_kind(text, &locator, WEEK.0) {
        return Err(vec![finding]);
    }
    if !says_which(&locator) && locator.is_whole() {
        let message = "is not the file of a week: it does not say which week";
        let hint = "write its Monday after the format, as `week: \"2026-11-30\"`";
        let at = locator.place(&Path::root());
        return Err(vec![Finding::error("no-week", Path::root(), message).hint(hint).at(at)]);
    }
    let file = read_shapes(text, &locator, WEEK).map_err(|f| vec![f])?;
    Ok(WeekText { file, text: text.to_owned() })
}

fn says_which(locator: &Locator<'_>) -> bool {
    locator.value(&Path::root().field("week")).is_some()
}

/// Whether a text is that of a week's file, sound or not: it says which week.
pub fn is_week(text: &str) -> bool {
    says_which(&Locator::new(without_mark(text)))
}

/// How long others who write the same file are waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Why a week was not saved. What was there is there still.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WeekNotSaved {
    /// Another program has changed the file since it was read.
    #[error("another program has changed the file since it was read")]
    ChangedOnDisk,
    /// There is a file already.
    #[error("there is a file of that name already")]
    Exists,
    /// It cannot be read or written, in words.
    #[error("{0}")]
    Disk(String),
}

/// Writes a week over its own file, if that still says what was read from it; what
/// it said is kept beside it.
///
/// # Errors
/// Why nothing was written.
pub fn save_week(path: &FilePath, as_read: &str, text: &str) -> Result<(), WeekNotSaved> {
    write_week_file(path, Some(as_read), text)
}

/// Writes a week to a file that is not there yet.
///
/// # Errors
/// Why nothing was written.
pub fn save_week_as(path: &FilePath, text: &str) -> Result<(), WeekNotSaved> {
    write_week_file(path, None, text)
}

fn write_week_file(path: &FilePath, as_read: Option<&str>, text: &str) -> Result<(), WeekNotSaved> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let path = disk.resolved(path);
    let writing = |error| WeekNotSaved::Disk(why(&error, Doing::Writing(&path)));
    let hold = FileHold::wait(&disk, &path, PATIENCE).map_err(writing)?;
    match (disk.read(&path, LARGEST_FILE), as_read) {
        (Ok(bytes), Some(as_read)) => {
            let there = String::from_utf8_lossy(&bytes);
            if without_mark(&there) != as_read {
                return Err(WeekNotSaved::ChangedOnDisk);
            }
        }
        (Ok(_), None) => return Err(WeekNotSaved::Exists),
        // Somebody removed it meanwhile: nothing of theirs is lost.
        (Err(error), _) if error.kind() == io::ErrorKind::NotFound => {}
        (Err(error), _) => {
            return Err(WeekNotSaved::Disk(why(&error, Doing::Reading(&path))));
        }
    }
    let how = (Backup::Keep, Access::AsBefore);
    write_held(hold.as_ref(), &path, text.as_bytes(), how).map_err(writing)
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn a_week_is_written_over_what_was_read_and_over_nothing_else() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("week.ron");
        assert_eq!(save_week_as(&path, "one"), Ok(()));
        assert_eq!(save_week_as(&path, "two"), Err(WeekNotSaved::Exists));
        assert_eq!(save_week(&path, "one", "two"), Ok(()));
        assert_eq!(fs::read_to_string(super::super::backup_path(&path))?, "one");
        fs::write(&path, "theirs")?;
        assert_eq!(save_week(&path, "two", "three"), Err(WeekNotSaved::ChangedOnDisk));
        assert_eq!(fs::read_to_string(&path)?, "theirs");
        Ok(())
    }

    #[test]
    fn a_week_is_told_from_a_lesson_even_where_it_is_wrong() {
        assert!(is_week("(format: 1, week: \"2026-11-30\", bells: {"));
        assert!(!is_week("(format: 2, title: \"week\")") && !is_week(""));
    }
}
