//! The few things done with files, behind a seam: everything that is the
//! user's goes through a [`Disk`], so that tests can have any one of them fail.
//!
//! Writing is such that a power cut or a full disk leaves the old file whole.

use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use atomic_write_file::AtomicWriteFile;

pub use super::lock_note::Locked;
use super::lock_note::lock_note;
use super::plain_file::{self, NotPlain, open_plain, plain_at};
use super::strays::remove_own;

/// Who may read and write a file once it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access<'a> {
    /// Whoever might before, or whom the system lets.
    AsBefore,
    /// Whoever may read this other file, which it stands beside: what is kept
    /// of a lesson is no more open than the lesson. Its user alone if that is
    /// not there. What stands in its place must be a plain file of one name.
    As(&'a Path),
    /// Its user alone.
    OwnerOnly,
}

/// Files and folders, as far as the program uses them. Only plain files are
/// read and written, no pipes, devices or links: see [`Disk::resolved`].
pub trait Disk: Send + Sync {
    /// The content of a file.
    ///
    /// # Errors
    /// As the system says; [`io::ErrorKind::FileTooLarge`], with the length in
    /// words, if it holds more than `most` bytes; a [`NotPlain`].
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>>;

    /// Replaces a file by `contents`, whole or not at all: written beside it,
    /// brought to the disk, renamed.
    ///
    /// # Errors
    /// As the system says, or a [`NotPlain`]; what was there is then there
    /// still, or `contents`.
    fn replace(&self, path: &Path, contents: &[u8], access: Access<'_>) -> io::Result<()>;

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

    /// The folders of a folder, in the order of their names; links to folders
    /// are none.
    ///
    /// # Errors
    /// As the system says.
    fn folders(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;

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
    /// from locking it until it is closed.
    ///
    /// # Errors
    /// As the system says; [`io::ErrorKind::Unsupported`] if files cannot be
    /// locked in that folder, [`io::ErrorKind::WouldBlock`] if others lock and
    /// remove it all the time, a [`NotPlain`] if something else stands there.
    fn lock(&self, path: &Path, note: &str) -> io::Result<Locked>;

    /// The file itself, where `path` is a link to it.
    fn resolved(&self, path: &Path) -> PathBuf;

    /// Whether a file that is there may not be written to by this user.
    fn is_protected(&self, path: &Path) -> bool;
}

/// The disk as it is.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let (file, about) = open_plain(path, false)?;
        let mut bytes = Vec::new();
        let size = about.len();
        if size <= most {
            // A file may grow while it is read, and some tell no size.
            file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
        }
        let size = size.max(u64::try_from(bytes.len()).unwrap_or(u64::MAX));
        if size > most {
            let words = format!("is {size} bytes long; the longest that is read is {most}");
            return Err(io::Error::new(io::ErrorKind::FileTooLarge, words));
        }
        Ok(bytes)
    }

    fn replace(&self, path: &Path, contents: &[u8], access: Access<'_>) -> io::Result<()> {
        let before = plain_at(path)?;
        if plain_file::is_protected(path) {
            return Err(NotPlain::Protected.at(path));
        }
        let is_beside = matches!(access, Access::As(_));
        if is_beside && before.is_some_and(|about| plain_file::is_shared(&about)) {
            return Err(NotPlain::Shared.at(path));
        }
        let mut file = open_anew(path, access)?;
        file.write_all(contents)?;
        let ours = file.as_file().try_clone()?;
        // Brings the file to the disk, renames it, and brings the folder there; leaves it
        // where it is if any of that fails.
        file.commit().inspect_err(|_| remove_own(self, path, &ours))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        entries(folder, false)
    }

    fn folders(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        entries(folder, true)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)
    }

    fn written_at(&self, path: &Path) -> io::Result<SystemTime> {
        fs::metadata(path)?.modified()
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Locked> {
        lock_note(path, note)
    }

    fn resolved(&self, path: &Path) -> PathBuf {
        plain_file::resolved(path)
    }

    fn is_protected(&self, path: &Path) -> bool {
        plain_file::is_protected(path)
    }
}

/// What is in a folder: its folders, or all else.
fn entries(folder: &Path, folders: bool) -> io::Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() == folders {
            found.push(entry.path());
        }
    }
    found.sort();
    Ok(found)
}

/// A new file that is to take the place of the one at a path.
#[cfg(unix)]
fn open_anew(path: &Path, access: Access<'_>) -> io::Result<AtomicWriteFile> {
    use atomic_write_file::unix::OpenOptionsExt as _;
    use std::os::unix::fs::{MetadataExt, OpenOptionsExt as _, PermissionsExt, fchown};
    let other = match access {
        Access::AsBefore => return AtomicWriteFile::open(path),
        Access::As(other) => fs::metadata(other).ok(),
        Access::OwnerOnly => None,
    };
    // Closed to others until it is as it should be.
    let mut options = AtomicWriteFile::options();
    options.preserve_mode(false).preserve_owner(false).mode(0o600);
    let file = options.open(path)?;
    if let Some(other) = other {
        // Ours to write again, though the other may be protected.
        let mode = (other.mode() & 0o777) | 0o600;
        let same_group = file.as_file().metadata()?.gid() == other.gid()
            || fchown(file.as_file(), None, Some(other.gid())).is_ok();
        // Another group is let in no more than anybody.
        let mode = if same_group { mode } else { mode & 0o707 };
        file.as_file().set_permissions(fs::Permissions::from_mode(mode))?;
    }
    Ok(file)
}

/// A new file that is to take the place of the one at a path.
#[cfg(not(unix))]
fn open_anew(path: &Path, _access: Access<'_>) -> io::Result<AtomicWriteFile> {
    AtomicWriteFile::open(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_file_is_not_read() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("long");
        fs::write(&path, vec![b' '; 5000])?;
        let refused = RealDisk.read(&path, 4999).map_err(|e| (e.kind(), e.to_string()));
        let words = "is 5000 bytes long; the longest that is read is 4999".to_owned();
        assert_eq!(refused, Err((io::ErrorKind::FileTooLarge, words)));
        assert_eq!(RealDisk.read(&path, 5000)?.len(), 5000);
        Ok(())
    }
}
