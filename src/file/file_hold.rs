//! A hold on a lesson's file while it is open, so that no two windows write it
//! by turns: a small file beside it that is locked, and removed when it is let
//! go. After a crash the lock is gone with the program, and whoever comes next
//! takes the file over.

use std::ffi::OsString;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use super::disk::Disk;
use super::plain_words::when;

/// A hold on a lesson's file, let go when dropped.
pub struct FileHold {
    disk: Arc<dyn Disk>,
    path: PathBuf,
    /// Keeps the lock for as long as it is open.
    _file: File,
}

/// The outcome of trying to hold a file.
pub enum HoldAttempt {
    /// The file is ours.
    Ours(FileHold),
    /// This folder knows no locks: nobody can be kept out, nor told of.
    Unguarded,
    /// The file is open in another window or program of ours, since then if known.
    Elsewhere(Option<SystemTime>),
    /// The folder takes no file beside it.
    Refused(io::Error),
}

impl FileHold {
    /// Tries to hold a file.
    pub fn take(disk: &Arc<dyn Disk>, of: &Path) -> HoldAttempt {
        let path = hold_path(of);
        let note = format!("open in ovenbell since {}\n", when(SystemTime::now()));
        match disk.lock(&path, &note) {
            Ok(Some(file)) => {
                HoldAttempt::Ours(FileHold { disk: Arc::clone(disk), path, _file: file })
            }
            Ok(None) => HoldAttempt::Elsewhere(disk.written_at(&path).ok()),
            Err(error) if error.kind() == io::ErrorKind::Unsupported => HoldAttempt::Unguarded,
            Err(error) => HoldAttempt::Refused(error),
        }
    }
}

impl Drop for FileHold {
    fn drop(&mut self) {
        // Removed while it is still locked: nobody can have it in between. If
        // that fails the next to come takes it over.
        let _ = self.disk.remove(&self.path);
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
        let HoldAttempt::Elsewhere(since) = FileHold::take(&disk, &path) else {
            return Err(io::Error::other("held twice"));
        };
        assert!(since.is_some_and(|t| t > before));
        assert!(std::fs::read_to_string(hold_path(&path))?.lines().count() == 1);
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
