//! Writing a file as a whole, with what was there kept if that is wanted.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use super::disk::{Access, Disk, RealDisk};
use super::file_hold::FileHold;
use super::plain_file::NotPlain;
use super::strays::sweep;

/// A larger file, in bytes, is none of ours, and is not written over.
const LARGEST_BACKUP: u64 = 50_000_000;
/// How long others who write the same file are waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// The fate of a file that is written over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Backup {
    /// The old file is replaced.
    None,
    /// The old file is kept under its name with `.bak` added.
    Keep,
}

/// Replaces a file by `contents`, whole or not at all, on the real disk; for
/// files that are not kept open. A link is followed. Others of ours who hold
/// the file are waited for a little.
///
/// # Errors
/// If the file, or the copy to be kept, cannot be written; what was there is
/// then there still.
pub fn write_atomically(path: &Path, contents: &[u8], backup: Backup) -> io::Result<()> {
    write_new(path, contents, backup, Access::AsBefore)
}

/// The same; a file that was not there is made with this access.
///
/// # Errors
/// As [`write_atomically`].
pub fn write_new(
    path: &Path,
    contents: &[u8],
    backup: Backup,
    access: Access<'_>,
) -> io::Result<()> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let path = disk.resolved(path);
    let hold = FileHold::wait(&disk, &path, PATIENCE)?;
    write_held(hold.as_ref(), &path, contents, (backup, access))
}

/// The same for a file that is held, if files can be held there, its links
/// followed.
///
/// # Errors
/// As [`write_atomically`].
pub(super) fn write_held(
    hold: Option<&FileHold>,
    path: &Path,
    contents: &[u8],
    (backup, access): (Backup, Access<'_>),
) -> io::Result<()> {
    let disk = RealDisk;
    if disk.is_protected(path) {
        return Err(NotPlain::Protected.at(path));
    }
    let before = match disk.read(path, LARGEST_BACKUP) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        before => Some(before?),
    };
    let access = if before.is_some() { Access::AsBefore } else { access };
    if let Some(before) = before.filter(|_| backup == Backup::Keep) {
        disk.replace(&backup_path(path), &before, Access::As(path))?;
    }
    disk.replace(path, contents, access)?;
    if hold.is_some() {
        // Nobody else is writing it.
        sweep(&disk, path);
    }
    Ok(())
}

/// Where the file that was there is kept.
pub fn backup_path(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".bak");
    PathBuf::from(name)
}

#[cfg(test)]
mod tests {
    use std::fs;

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
}
