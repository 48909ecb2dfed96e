//! The copy of a week's changes that are not saved, beside its file: what a run that
//! ended without saving or dropping them leaves behind.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::copies::copy_beside;
use super::disk::{Access, Disk};
use super::file_hold::{FileHold, HoldAttempt};
use super::load::{LARGEST_FILE, text_of};
use super::plain_words::{Doing, why};
use super::week::{WeekText, read_week};
use super::write::{Backup, write_held};

/// Where a week's unsaved changes are kept while it is open.
pub struct WeekCopy {
    disk: Arc<dyn Disk>,
    of: PathBuf,
    path: PathBuf,
    /// Held as long as the week is open, so that no other window takes the copy for
    /// one that was left behind.
    hold: Option<FileHold>,
    /// Why no copy is kept, if none can be.
    trouble: Option<String>,
}

impl WeekCopy {
    /// Of the week in a file, and what was left there of its changes, if that says
    /// something else than the file does.
    pub fn of(disk: &Arc<dyn Disk>, week: &Path, on_disk: &str) -> (Self, Option<WeekText>) {
        let of = disk.resolved(week);
        let path = copy_beside(&of);
        let (hold, trouble) = match FileHold::take(disk, &path) {
            HoldAttempt::Ours(hold) => (Some(hold), None),
            HoldAttempt::Unguarded => (None, None),
            HoldAttempt::Elsewhere(holder) => (None, Some(holder.to_string())),
            HoldAttempt::Refused(error) => (None, Some(why(&error, Doing::Writing(&path)))),
        };
        let mut copy = Self { disk: Arc::clone(disk), of, path, hold, trouble };
        let left = copy.left(on_disk);
        (copy, left)
    }

    /// What was left; what cannot be read is left where it is, and not written over.
    fn left(&mut self, on_disk: &str) -> Option<WeekText> {
        if self.trouble.is_some() {
            return None;
        }
        let read = self.disk.read(&self.path, LARGEST_FILE);
        if read.as_ref().is_err_and(|error| error.kind() == io::ErrorKind::NotFound) {
            return None;
        }
        let read = text_of(read).map_err(|finding| vec![finding]);
        match read.and_then(|text| read_week(&text)) {
            Ok(week) if week.text() == on_disk => {
                self.remove();
                None
            }
            Ok(week) => Some(week),
            Err(findings) => {
                let first = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                let path = self.path.display();
                self.trouble = Some(format!("what is kept in {path} cannot be read: {first}"));
                None
            }
        }
    }

    /// Keeps changes.
    pub fn keep(&mut self, text: &str) {
        if self.trouble.is_some() {
            return;
        }
        let how = (Backup::None, Access::As(&self.of));
        if let Err(error) = write_held(self.hold.as_ref(), &self.path, text.as_bytes(), how) {
            self.trouble = Some(why(&error, Doing::Writing(&self.path)));
        }
    }

    /// Removes the copy: the changes are saved, taken back, or to be lost.
    pub fn remove(&self) {
        if self.trouble.is_none() {
            // One that is not there need not go; one that stays is found again.
            let _ = self.disk.remove(&self.path);
        }
    }

    /// Why no copy is kept, if none is.
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }
}
