//! Plain files, as against what only goes by a file's name: links, pipes,
//! devices, folders, and files that may not be written over.
//!
//! Nothing but a plain file is read or written, so that nothing is waited for
//! without end, and nothing is written elsewhere than it seems.

use std::fs::{self, File, Metadata};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// Why a file is neither read nor written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NotPlain {
    /// A link stands there.
    #[error("is a link, which is not followed here")]
    Link,
    /// A link to a file that is not there.
    #[error("is a link to a file that is not there")]
    Dangling,
    /// A folder stands there.
    #[error("is a folder, not a file")]
    Folder,
    /// A pipe, a device or the like.
    #[error("is a pipe or a device, not a file")]
    Special,
    /// Nobody may write to it.
    #[error("is write-protected")]
    Protected,
    /// The same file goes by another name as well.
    #[error("is a file that has another name elsewhere")]
    Shared,
    /// A file of ours should stand there, and another does.
    #[error("is a file of another kind")]
    NotOurs,
}

/// A reason and the file it is of, as the inner of an [`io::Error`].
#[derive(Debug, Error)]
#[error("{what}")]
struct InTheWay {
    what: NotPlain,
    path: PathBuf,
}

impl NotPlain {
    /// The error that says so of a file.
    pub(super) fn at(self, path: &Path) -> io::Error {
        let kind = match self {
            NotPlain::Folder => ErrorKind::IsADirectory,
            _ => ErrorKind::Other,
        };
        io::Error::new(kind, InTheWay { what: self, path: path.to_owned() })
    }

    /// The reason, if an error is one of these.
    pub fn of(error: &io::Error) -> Option<NotPlain> {
        Self::with_path(error).map(|(what, _)| what)
    }

    /// The reason and the file it is of, if an error is one of these.
    pub(super) fn with_path(error: &io::Error) -> Option<(NotPlain, &Path)> {
        let found = error.get_ref()?.downcast_ref::<InTheWay>()?;
        Some((found.what, &found.path))
    }
}

/// The plain file at a path, itself and no link to it; `None` if nothing is
/// there.
///
/// # Errors
/// If something else stands there, or the system says nothing of it.
pub(super) fn plain_at(path: &Path) -> io::Result<Option<Metadata>> {
    let about = match fs::symlink_metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        about => about?,
    };
    if about.is_symlink() {
        let is_there = fs::metadata(path).is_ok();
        let what = if is_there { NotPlain::Link } else { NotPlain::Dangling };
        return Err(what.at(path));
    }
    must_be_plain(&about, path)?;
    Ok(Some(about))
}

fn must_be_plain(about: &Metadata, path: &Path) -> io::Result<()> {
    if about.is_dir() {
        return Err(NotPlain::Folder.at(path));
    }
    if !about.is_file() {
        return Err(NotPlain::Special.at(path));
    }
    Ok(())
}

/// Opens a plain file to read, or to read and write. A pipe that has taken its
/// place meanwhile is not waited for, a link not followed.
///
/// # Errors
/// If it is not there, is not plain, or cannot be opened.
pub(super) fn open_plain(path: &Path, to_write: bool) -> io::Result<(File, Metadata)> {
    if plain_at(path)?.is_none() {
        return Err(ErrorKind::NotFound.into());
    }
    let mut options = File::options();
    options.read(true).write(to_write);
    careful(&mut options);
    let file = options.open(path)?;
    let about = file.metadata()?;
    must_be_plain(&about, path)?;
    Ok((file, about))
}

#[cfg(unix)]
fn careful(options: &mut fs::OpenOptions) {
    use std::os::unix::fs::OpenOptionsExt;
    let flags = rustix::fs::OFlags::NOFOLLOW | rustix::fs::OFlags::NONBLOCK;
    options.custom_flags(i32::try_from(flags.bits()).unwrap_or(0));
}

#[cfg(not(unix))]
fn careful(_options: &mut fs::OpenOptions) {}

/// Whether a file has other names than this one (hard links).
#[cfg(unix)]
pub(super) fn is_shared(about: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    about.nlink() > 1
}

/// Whether a file has other names than this one (hard links); this system does
/// not say.
#[cfg(not(unix))]
pub(super) fn is_shared(_about: &Metadata) -> bool {
    false
}

/// Whether two descriptions are of the same file.
#[cfg(unix)]
fn is_same_file(one: &Metadata, other: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (one.dev(), one.ino()) == (other.dev(), other.ino())
}

/// Whether two paths lead to the same file. Nothing is opened, and so nothing
/// waited for.
#[cfg(unix)]
pub fn are_same(one: &Path, other: &Path) -> bool {
    let about = |path| fs::metadata(path).ok();
    about(one).zip(about(other)).is_some_and(|(one, other)| is_same_file(&one, &other))
}

/// Whether two paths lead to the same file.
#[cfg(not(unix))]
pub fn are_same(one: &Path, other: &Path) -> bool {
    same_file::is_same_file(one, other).unwrap_or(false)
}

/// Whether an open file is the one that now stands at a path.
#[cfg(unix)]
pub(super) fn is_at(file: &File, path: &Path) -> bool {
    let (ours, there) = (file.metadata().ok(), fs::symlink_metadata(path).ok());
    ours.zip(there).is_some_and(|(ours, there)| is_same_file(&ours, &there))
}

/// Whether an open file is the one that now stands at a path.
#[cfg(not(unix))]
pub(super) fn is_at(file: &File, path: &Path) -> bool {
    let ours = file.try_clone().and_then(same_file::Handle::from_file);
    ours.is_ok_and(|ours| same_file::Handle::from_path(path).is_ok_and(|there| there == ours))
}

/// Whether a file that is there may not be written to: nobody may, or not this
/// user.
pub(super) fn is_protected(path: &Path) -> bool {
    let Ok(about) = fs::metadata(path) else { return false };
    // The superuser may do anything; a file that nobody may write to is left
    // alone all the same.
    about.permissions().readonly() || is_closed_to_us(path)
}

#[cfg(unix)]
fn is_closed_to_us(path: &Path) -> bool {
    // A disk that can only be read is another matter.
    let refused = rustix::fs::access(path, rustix::fs::Access::WRITE_OK).err();
    refused.is_some_and(|why| [rustix::io::Errno::ACCESS, rustix::io::Errno::PERM].contains(&why))
}

#[cfg(not(unix))]
fn is_closed_to_us(_path: &Path) -> bool {
    false
}

/// The file itself, where a path leads through links; a link that leads
/// nowhere, or to what the system shows as files (`/dev`, `/proc`), stays one.
pub(super) fn resolved(path: &Path) -> PathBuf {
    let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    if cfg!(unix) && ["/dev", "/proc"].iter().any(|of_system| whole.starts_with(of_system)) {
        return whole;
    }
    let folder = || Some(fs::canonicalize(whole.parent()?).ok()?.join(whole.file_name()?));
    fs::canonicalize(path).ok().or_else(folder).unwrap_or(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[cfg(unix)]
    fn only_plain_files_are_opened() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        fs::write(at("file"), "x")?;
        std::os::unix::fs::symlink(at("file"), at("link"))?;
        std::os::unix::fs::symlink(at("nothing"), at("dangling"))?;
        let _socket = std::os::unix::net::UnixListener::bind(at("socket"))?;
        let why = |name: &str| open_plain(&at(name), false).map_err(|e| NotPlain::of(&e));
        assert!(why("file").is_ok());
        assert_eq!(why("link").err(), Some(Some(NotPlain::Link)));
        assert_eq!(why("dangling").err(), Some(Some(NotPlain::Dangling)));
        assert_eq!(why("socket").err(), Some(Some(NotPlain::Special)));
        let null = open_plain(Path::new("/dev/null"), false).map_err(|e| NotPlain::of(&e));
        assert_eq!(null.err(), Some(Some(NotPlain::Special)));
        let kind = |name: &str| open_plain(&at(name), false).map_err(|e| e.kind()).err();
        assert_eq!(kind("none"), Some(ErrorKind::NotFound));
        assert_eq!(kind("."), Some(ErrorKind::IsADirectory));
        Ok(())
    }

    #[test]
    #[cfg(unix)]
    fn links_are_resolved_but_not_those_of_the_system() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let folder = fs::canonicalize(folder.path())?;
        fs::write(folder.join("file"), "x")?;
        std::os::unix::fs::symlink(folder.join("file"), folder.join("link"))?;
        std::os::unix::fs::symlink(folder.join("nothing"), folder.join("dangling"))?;
        assert_eq!(resolved(&folder.join("link")), folder.join("file"));
        assert_eq!(resolved(&folder.join("dangling")), folder.join("dangling"));
        assert_eq!(resolved(&folder.join("new")), folder.join("new"));
        assert_eq!(resolved(Path::new("/dev/stdout")), Path::new("/dev/stdout"));
        Ok(())
    }

    #[test]
    fn a_file_that_nobody_may_write_to_is_protected() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("file");
        assert!(!is_protected(&path));
        fs::write(&path, "x")?;
        assert!(!is_protected(&path));
        let mut permissions = fs::metadata(&path)?.permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions)?;
        assert!(is_protected(&path));
        Ok(())
    }
}
