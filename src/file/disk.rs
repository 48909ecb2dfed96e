//! The few things done with files, behind a seam: everything that is the
//! user's goes through a [`Disk`], so that tests can have any one of them fail.
//!
//! Writing is such that a power cut or a full disk leaves the old file whole.

use std::ffi::OsString;
use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use atomic_write_file::AtomicWriteFile;
use same_file::Handle;

/// A temporary file that is older than this was left by a crash, whoever may
/// be writing the file just now.
const STRAY_AFTER: Duration = Duration::from_secs(3600);
/// A lock is tried for so often while others make and remove its file.
const TRIES: usize = 20;

/// Files and folders, as far as the program uses them.
pub trait Disk: Send + Sync {
    /// The content of a file.
    ///
    /// # Errors
    /// As the system says; [`io::ErrorKind::FileTooLarge`], with the length in
    /// words, if it holds more than `most` bytes.
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>>;

    /// Replaces a file by `contents`, whole or not at all: written beside it,
    /// brought to the disk, renamed.
    ///
    /// # Errors
    /// As the system says; what was there is then there still, or `contents`.
    fn replace(&self, path: &Path, contents: &[u8]) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// As the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// The files of a folder, in the order of their names.
    ///
    /// # Errors
    /// As the system says.
    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;

    /// Makes a folder, and those it lies in; one that is there is well.
    ///
    /// # Errors
    /// As the system says.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// When a file was last written.
    ///
    /// # Errors
    /// As the system says.
    fn written_at(&self, path: &Path) -> io::Result<SystemTime>;

    /// Makes a file, if it is not there, writes `note` in it and keeps others
    /// from locking it until it is closed. `None` if somebody has it locked.
    ///
    /// # Errors
    /// As the system says; [`io::ErrorKind::Unsupported`] if files cannot be
    /// locked in that folder.
    fn lock(&self, path: &Path, note: &str) -> io::Result<Option<File>>;

    /// The file itself, where `path` is a link to it.
    fn resolved(&self, path: &Path) -> PathBuf;
}

/// The disk as it is.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let file = File::open(path)?;
        let about = file.metadata()?;
        if about.is_dir() {
            return Err(io::Error::new(io::ErrorKind::IsADirectory, "is a folder, not a file"));
        }
        let mut bytes = Vec::new();
        let size = about.len();
        if size <= most {
            // A file may grow while it is read, and a pipe tells no size.
            file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
        }
        let size = size.max(u64::try_from(bytes.len()).unwrap_or(u64::MAX));
        if size > most {
            let words = format!(
                "is {} kB long; the longest that is read is {} kB",
                size / 1000,
                most / 1000
            );
            return Err(io::Error::new(io::ErrorKind::FileTooLarge, words));
        }
        Ok(bytes)
    }

    fn replace(&self, path: &Path, contents: &[u8]) -> io::Result<()> {
        let mut file = AtomicWriteFile::open(path)?;
        file.write_all(contents)?;
        // Brings the file to the disk, renames it, and brings the folder there.
        file.commit()
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        let mut files = Vec::new();
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if !entry.file_type()?.is_dir() {
                files.push(entry.path());
            }
        }
        files.sort();
        Ok(files)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)
    }

    fn written_at(&self, path: &Path) -> io::Result<SystemTime> {
        fs::metadata(path)?.modified()
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Option<File>> {
        for _ in 0..TRIES {
            let mut options = File::options();
            let mut file =
                options.read(true).write(true).create(true).truncate(false).open(path)?;
            match file.try_lock() {
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => return Ok(None),
                Err(TryLockError::Error(error)) => {
                    return Err(io::Error::new(io::ErrorKind::Unsupported, error));
                }
            }
            // Whoever had it may have removed it between the two steps: then
            // nobody else would find this one.
            let ours = Handle::from_file(file.try_clone()?)?;
            if !Handle::from_path(path).is_ok_and(|there| there == ours) {
                continue;
            }
            // The note is for people; the disk may be full.
            let _ = file.set_len(0).and_then(|()| file.write_all(note.as_bytes()));
            let _ = file.set_modified(SystemTime::now());
            return Ok(Some(file));
        }
        Err(io::Error::other("others open and close it all the time"))
    }

    fn resolved(&self, path: &Path) -> PathBuf {
        fs::canonicalize(path)
            .or_else(|_| std::path::absolute(path))
            .unwrap_or_else(|_| path.to_owned())
    }
}

/// The fate of a file that is written over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Backup {
    /// The old file is replaced.
    None,
    /// The old file is kept under its name with `.bak` added.
    Keep,
}

/// Replaces a file by `contents`, whole or not at all, on the real disk; for
/// files that nobody holds. A link is followed.
///
/// # Errors
/// If the file, or the copy to be kept, cannot be written; what was there is
/// then there still.
pub fn write_atomically(path: &Path, contents: &[u8], backup: Backup) -> io::Result<()> {
    let disk = RealDisk;
    let path = disk.resolved(path);
    if backup == Backup::Keep && path.exists() {
        disk.replace(&backup_path(&path), &fs::read(&path)?)?;
    }
    disk.replace(&path, contents)?;
    let old = |stray: &PathBuf| {
        let age =
            disk.written_at(stray).ok().and_then(|t| SystemTime::now().duration_since(t).ok());
        age.is_some_and(|age| age > STRAY_AFTER)
    };
    for stray in strays(&disk, &path).into_iter().filter(old) {
        // It is no matter if that fails.
        let _ = disk.remove(&stray);
    }
    Ok(())
}

/// Where the file that was there is kept.
pub fn backup_path(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".bak");
    PathBuf::from(name)
}

/// Temporary files that broken-off writings of a file, or of others that stand
/// beside it in its name, left behind.
pub(super) fn strays(disk: &dyn Disk, path: &Path) -> Vec<PathBuf> {
    let (Some(folder), Some(name)) = (path.parent(), path.file_name().and_then(|n| n.to_str()))
    else {
        return Vec::new();
    };
    let Ok(mut files) = disk.list(folder) else { return Vec::new() };
    files.retain(|file| {
        let file = file.file_name().and_then(|n| n.to_str());
        file.is_some_and(|n| is_temporary_of(n, name))
    });
    files
}

/// Whether a file name is one under which `name`, its `.bak` or its copy of
/// unsaved changes is written at first: `.name.` and six letters or digits.
fn is_temporary_of(file: &str, name: &str) -> bool {
    let of = |name: &str| {
        file.strip_prefix('.')
            .and_then(|f| f.strip_prefix(name))
            .and_then(|f| f.strip_prefix('.'))
            .is_some_and(|rest| rest.len() == 6 && rest.bytes().all(|b| b.is_ascii_alphanumeric()))
    };
    // The one word of six letters that a person may well have put there.
    let by_hand = file.ends_with(".backup");
    !by_hand && (of(name) || of(&format!("{name}.bak")) || of(&format!(".{name}.unsaved")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_is_replaced_and_the_old_one_kept() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("lesson.ron");
        write_atomically(&path, b"one", Backup::Keep)?;
        assert!(!backup_path(&path).exists());
        write_atomically(&path, b"two", Backup::Keep)?;
        write_atomically(&path, b"three", Backup::None)?;
        assert_eq!(fs::read(&path)?, b"three");
        assert_eq!(fs::read(backup_path(&path))?, b"one");
        assert_eq!(fs::read_dir(folder.path())?.count(), 2);
        Ok(())
    }

    #[test]
    fn a_folder_that_is_not_there_is_an_error() {
        let path = Path::new("/nowhere/at/all/lesson.ron");
        assert!(write_atomically(path, b"", Backup::None).is_err());
    }

    #[test]
    fn a_long_file_is_not_read() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("long");
        fs::write(&path, vec![b' '; 5000])?;
        let refused = RealDisk.read(&path, 4999).map_err(|e| (e.kind(), e.to_string()));
        let words = "is 5 kB long; the longest that is read is 4 kB".to_owned();
        assert_eq!(refused, Err((io::ErrorKind::FileTooLarge, words)));
        assert_eq!(RealDisk.read(&path, 5000)?.len(), 5000);
        Ok(())
    }

    #[test]
    fn a_locked_file_is_locked_for_others_of_the_same_process() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("open");
        let first = RealDisk.lock(&path, "since nine")?;
        assert!(first.is_some());
        assert!(RealDisk.lock(&path, "since ten")?.is_none());
        assert_eq!(fs::read(&path)?, b"since nine");
        drop(first);
        assert!(RealDisk.lock(&path, "since ten")?.is_some());
        assert_eq!(fs::read(&path)?, b"since ten");
        Ok(())
    }

    #[test]
    fn only_temporary_files_of_ours_are_swept() {
        assert!(is_temporary_of(".lesson.ron.a1B2c3", "lesson.ron"));
        assert!(is_temporary_of(".lesson.ron.bak.a1B2c3", "lesson.ron"));
        assert!(is_temporary_of("..lesson.ron.unsaved.a1B2c3", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.backup1", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.backup", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.unsaved", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.open", "lesson.ron"));
        assert!(!is_temporary_of("lesson.ron.a1B2c3", "lesson.ron"));
    }
}
