//! Writing files so that a power cut or a full disk leaves the old one whole.

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use atomic_write_file::AtomicWriteFile;

/// A temporary file of ours that is older than this was left by a crash.
const STRAY_AFTER: Duration = Duration::from_secs(3600);

/// What becomes of the file that was there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Backup {
    /// It is replaced.
    None,
    /// It is kept under its name with `.bak` added.
    Keep,
}

/// Replaces a file by `contents`, whole or not at all: written beside it,
/// brought to the disk, renamed. A link is followed.
///
/// # Errors
/// If the file, or the copy to be kept, cannot be written; what was there is
/// then there still.
pub fn write_atomically(path: &Path, contents: &[u8], backup: Backup) -> io::Result<()> {
    let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if backup == Backup::Keep && path.exists() {
        replace(&backup_path(&path), &fs::read(&path)?)?;
    }
    replace(&path, contents)?;
    sweep(&path);
    Ok(())
}

/// Where the file that was there is kept.
pub fn backup_path(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".bak");
    PathBuf::from(name)
}

fn replace(path: &Path, contents: &[u8]) -> io::Result<()> {
    let mut file = AtomicWriteFile::open(path)?;
    file.write_all(contents)?;
    // Brings the file to the disk, renames it, and brings the folder there.
    file.commit()
}

/// Removes temporary files that earlier, broken-off writings of `path` left.
/// It is no matter if that fails.
fn sweep(path: &Path) {
    let (Some(folder), Some(name)) = (path.parent(), path.file_name().and_then(|n| n.to_str()))
    else {
        return;
    };
    let Ok(entries) = fs::read_dir(folder) else { return };
    let old = |entry: &fs::DirEntry| {
        let changed = entry.metadata().and_then(|m| m.modified()).ok();
        let age = changed.and_then(|t| SystemTime::now().duration_since(t).ok());
        age.is_some_and(|age| age > STRAY_AFTER)
    };
    for entry in entries.flatten() {
        let ours = entry.file_name().to_str().is_some_and(|n| is_temporary_of(n, name));
        if ours && old(&entry) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Whether a file name is one under which `name` is written at first:
/// `.name.` and six letters or digits.
fn is_temporary_of(file: &str, name: &str) -> bool {
    file.strip_prefix('.')
        .and_then(|f| f.strip_prefix(name))
        .and_then(|f| f.strip_prefix('.'))
        .is_some_and(|rest| rest.len() == 6 && rest.bytes().all(|b| b.is_ascii_alphanumeric()))
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
    fn only_temporary_files_of_ours_are_swept() {
        assert!(is_temporary_of(".lesson.ron.a1B2c3", "lesson.ron"));
        assert!(!is_temporary_of(".lesson.ron.backup1", "lesson.ron"));
        assert!(!is_temporary_of("lesson.ron.a1B2c3", "lesson.ron"));
    }
}
