//! A hold on a lesson's file while it is open, so that no two windows write it
//! by turns: a small file beside it that is locked, and removed when it is let
//! go. After a crash the lock is gone with the program, and whoever comes next
//! takes the file over.

use std::ffi::OsString;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant, SystemTime};

use super::disk::{Disk, Locked};
use super::lock_note::{note_of, user_in};
use super::plain_file::is_at;
use super::plain_words::when;

/// Who waits for a hold tries again after so long.
const AGAIN_AFTER: Duration = Duration::from_millis(7);

/// A hold on a lesson's file, let go when dropped.
pub struct FileHold {
    disk: Arc<dyn Disk>,
    path: PathBuf,
    /// Keeps the lock for as long as it is open.
    file: File,
}

/// The outcome of trying to hold a file.
pub enum HoldAttempt {
    /// The file is ours.
    Ours(FileHold),
    /// This folder knows no locks: nobody can be kept out, nor told of.
    Unguarded,
    /// The file is open in another window or program of ours.
    Elsewhere(Holder),
    /// The folder takes no file beside it.
    Refused(io::Error),
}

/// Who has a file open.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Holder {
    /// Since when, if that is known.
    pub since: Option<SystemTime>,
    /// The user, if it is known and another than this one.
    pub other_user: Option<String>,
}

impl std::fmt::Display for Holder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.other_user {
            Some(user) => write!(f, "{user} has it open")?,
            None => write!(f, "it is open in another window")?,
        }
        self.since.map_or(Ok(()), |since| write!(f, " since {}", when(since)))
    }
}

impl FileHold {
    /// Tries to hold a file.
    pub fn take(disk: &Arc<dyn Disk>, of: &Path) -> HoldAttempt {
        let path = hold_path(of);
        let user = user();
        let note = note_of(user.as_deref(), &when(SystemTime::now()));
        match disk.lock(&path, &note) {
            Ok(Locked::Ours(file)) => {
                HoldAttempt::Ours(FileHold { disk: Arc::clone(disk), path, file })
            }
            Ok(Locked::Theirs(note)) => {
                let other_user = user_in(&note).and_then(presentable);
                HoldAttempt::Elsewhere(Holder {
                    since: disk.written_at(&path).ok(),
                    other_user: other_user.filter(|other| Some(other) != user.as_ref()),
                })
            }
            Err(error) if error.kind() == io::ErrorKind::Unsupported => HoldAttempt::Unguarded,
            Err(error) => HoldAttempt::Refused(error),
        }
    }

    /// Holds a file once whoever holds it lets it go, for a short work on it;
    /// `None` where files cannot be held.
    ///
    /// # Errors
    /// If nothing can be written there, or it is still held after `patience`.
    pub fn wait(disk: &Arc<dyn Disk>, of: &Path, patience: Duration) -> io::Result<Option<Self>> {
        let until = Instant::now() + patience;
        loop {
            let holder = match Self::take(disk, of) {
                HoldAttempt::Ours(hold) => return Ok(Some(hold)),
                HoldAttempt::Unguarded => return Ok(None),
                HoldAttempt::Refused(error) if error.kind() != io::ErrorKind::WouldBlock => {
                    return Err(error);
                }
                HoldAttempt::Refused(_) => Holder::default(),
                HoldAttempt::Elsewhere(holder) => holder,
            };
            if Instant::now() > until {
                return Err(io::Error::other(format!("{holder}; try again")));
            }
            std::thread::sleep(AGAIN_AFTER);
        }
    }
}

/// The name the user goes by on this machine.
fn user() -> Option<String> {
    let named = |key| std::env::var(key).ok();
    ["USER", "LOGNAME", "USERNAME"].into_iter().find_map(named).as_deref().and_then(presentable)
}

/// A name that may stand in a sentence.
fn presentable(name: &str) -> Option<String> {
    let name: String = name.trim().chars().filter(|c| !c.is_control()).take(40).collect();
    (!name.is_empty()).then_some(name)
}

impl Drop for FileHold {
    fn drop(&mut self) {
        // Removed while it is still locked: nobody can have it in between. If
        // that fails the next to come takes it over.
        if is_at(&self.file, &self.path) {
            let _ = self.disk.remove(&self.path);
        }
    }
}

/// The small file beside a lesson's.
pub fn hold_path(of: &Path) -> PathBuf {
    beside(of, ".open")
}

/// A file in the same folder, its name that of the other between a dot and an
/// ending.
pub(super) fn beside(of: &Path, ending: &str) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(of.file_name().unwrap_or_default());
    name.push(ending);
    of.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use super::super::disk::RealDisk;
    use super::*;

    #[test]
    fn one_holds_and_the_other_is_told_since_when() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("lesson.ron");
        let disk: Arc<dyn Disk> = Arc::new(RealDisk);
        let before = SystemTime::now() - std::time::Duration::from_secs(5);
        // Left by a crash: it is taken over, and the time is the new one.
        std::fs::write(hold_path(&path), "open in ovenbell since long ago, and longer")?;
        let first = FileHold::take(&disk, &path);
        assert!(matches!(first, HoldAttempt::Ours(_)));
        let HoldAttempt::Elsewhere(holder) = FileHold::take(&disk, &path) else {
            return Err(io::Error::other("held twice"));
        };
        assert!(holder.since.is_some_and(|t| t > before));
        assert_eq!(holder.other_user, None);
        assert!(holder.to_string().starts_with("it is open in another window since "));
        assert!(!std::fs::read_to_string(hold_path(&path))?.contains("long ago"));
        drop(first);
        assert!(!hold_path(&path).exists());
        assert!(matches!(FileHold::take(&disk, &path), HoldAttempt::Ours(_)));
        let nowhere = FileHold::take(&disk, Path::new("/nowhere/at/all/lesson.ron"));
        assert!(matches!(nowhere, HoldAttempt::Refused(_)));
        Ok(())
    }

    #[test]
    fn of_many_at_once_one_holds() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("lesson.ron");
        let inside = std::sync::atomic::AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
                    for _ in 0..300 {
                        if let HoldAttempt::Ours(hold) = FileHold::take(&disk, &path) {
                            let others = inside.fetch_add(1, std::sync::atomic::Ordering::SeqCst);
                            assert_eq!(others, 0);
                            inside.fetch_sub(1, std::sync::atomic::Ordering::SeqCst);
                            drop(hold);
                        }
                    }
                });
            }
        });
        assert!(!hold_path(&path).exists());
        Ok(())
    }
}
