//! A small file that is locked for as long as something is held, with a note in
//! it for people: who holds it and since when.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;
use std::time::SystemTime;

use super::plain_file::{NotPlain, is_at, is_shared, open_plain};

/// Notes begin so; a file that begins otherwise is not ours.
const MARK: &str = "open in ovenbell";
/// A longer file is no note of ours, in bytes.
const LONGEST: u64 = 1000;
/// A lock is tried for so often while others make and remove its file.
const TRIES: usize = 20;

/// The outcome of trying to lock a note.
#[derive(Debug)]
pub enum Locked {
    /// It is ours until the file is closed.
    Ours(File),
    /// Somebody else has it; what the note says, as far as it can be read.
    Theirs(String),
}

/// The note of somebody who has a file open now.
pub(super) fn note_of(user: Option<&str>, now: &str) -> String {
    let by = user.map(|user| format!("by: {user}\n")).unwrap_or_default();
    format!("{MARK}\nsince: {now}\n{by}")
}

/// The user a note names.
pub(super) fn user_in(note: &str) -> Option<&str> {
    note.lines().find_map(|line| line.strip_prefix("by: "))
}

/// Makes the file of a note, if it is not there, locks it and writes the note.
/// One that a program left when it ended is taken over, whoever's it is.
///
/// # Errors
/// As the system says; [`ErrorKind::Unsupported`] if files cannot be locked in
/// that folder, [`ErrorKind::WouldBlock`] if others make and remove it all the
/// time, a [`NotPlain`] if what stands there is no note of ours: it is then
/// left as it is.
pub(super) fn lock_note(path: &Path, note: &str) -> io::Result<Locked> {
    for _ in 0..TRIES {
        let Some(Opened { mut file, ours_to_write, is_new }) = open(path)? else { continue };
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Ok(Locked::Theirs(text_of(&mut file))),
            Err(TryLockError::Error(error)) => {
                if is_new {
                    // It would only lie about.
                    let _ = fs::remove_file(path);
                }
                // Some disks lock only what may be written: that it is another
                // user's note does not say that there are no locks.
                let kind = match ours_to_write {
                    true => ErrorKind::Unsupported,
                    false => ErrorKind::PermissionDenied,
                };
                return Err(io::Error::new(kind, error));
            }
        }
        // Whoever had it may have removed it between the two steps: then
        // nobody else would find this one.
        if !is_at(&file, path) {
            continue;
        }
        let before = text_of(&mut file);
        if !is_note(&before) || file.metadata()?.len() > LONGEST {
            return Err(NotPlain::NotOurs.at(path));
        }
        if !ours_to_write && fs::remove_file(path).is_ok() {
            // Another user's program left it; ours will stand in its place.
            continue;
        }
        // The note is for people; the disk may be full.
        let _ = io::Seek::rewind(&mut file)
            .and_then(|()| file.set_len(0))
            .and_then(|()| file.write_all(note.as_bytes()));
        let _ = file.set_modified(SystemTime::now());
        return Ok(Locked::Ours(file));
    }
    Err(io::Error::new(ErrorKind::WouldBlock, "others open and close it all the time"))
}

/// The file of a note.
struct Opened {
    file: File,
    /// It may be written, not only read and locked.
    ours_to_write: bool,
    /// It was not there before.
    is_new: bool,
}

/// `None` if it came or went meanwhile.
fn open(path: &Path) -> io::Result<Option<Opened>> {
    let found = match open_plain(path, true) {
        Err(error) if error.kind() == ErrorKind::PermissionDenied => {
            open_plain(path, false).map(|(file, about)| (file, about, false))
        }
        found => found.map(|(file, about)| (file, about, true)),
    };
    match found {
        Ok((_, about, _)) if is_shared(&about) => Err(NotPlain::Shared.at(path)),
        Ok((file, _, ours_to_write)) => Ok(Some(Opened { file, ours_to_write, is_new: false })),
        Err(error) if error.kind() == ErrorKind::NotFound => {
            // Makes a file that is not there and nothing else: no link is followed.
            match File::options().read(true).write(true).create_new(true).open(path) {
                Ok(file) => Ok(Some(Opened { file, ours_to_write: true, is_new: true })),
                Err(error) if error.kind() == ErrorKind::AlreadyExists => Ok(None),
                Err(error) => Err(error),
            }
        }
        Err(error) => Err(error),
    }
}

/// Whether a file says what a note of ours says, or what is left of one after a
/// power cut or on a full disk.
fn is_note(text: &str) -> bool {
    text.starts_with(MARK) || MARK.starts_with(text) || text.bytes().all(|b| b == 0)
}

/// What a note says; nothing where the lock keeps it from being read.
fn text_of(file: &mut File) -> String {
    let mut bytes = Vec::new();
    let _ = file.take(LONGEST).read_to_end(&mut bytes);
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn is_ours(locked: &io::Result<Locked>) -> bool {
        matches!(locked, Ok(Locked::Ours(_)))
    }

    #[test]
    fn a_locked_file_is_locked_for_others_of_the_same_process() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("open");
        let note = note_of(Some("anna"), "nine");
        let first = lock_note(&path, &note);
        assert!(is_ours(&first));
        let Locked::Theirs(says) = lock_note(&path, &note_of(None, "ten"))? else {
            return Err(io::Error::other("locked twice"));
        };
        assert!(cfg!(windows) || user_in(&says) == Some("anna"));
        drop(first);
        assert!(is_ours(&lock_note(&path, &note_of(None, "ten"))));
        assert_eq!(fs::read_to_string(&path)?, "open in ovenbell\nsince: ten\n");
        Ok(())
    }

    #[test]
    fn what_is_left_of_a_note_is_taken_over() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("open");
        for left in ["", "open in", "open in ovenbell\nsin", "\0\0\0\0\0\0"] {
            fs::write(&path, left)?;
            assert!(is_ours(&lock_note(&path, "open in ovenbell\n")), "{left:?}");
        }
        Ok(())
    }

    #[test]
    fn what_is_no_note_is_left_as_it_is() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        for text in ["a shopping list", "open in ovenbell since nine, and then\n"] {
            fs::write(at("file"), text.repeat(1 + 2000 * usize::from(text.starts_with('o'))))?;
            let before = fs::read(at("file"))?;
            let refused = lock_note(&at("file"), "note").map_err(|e| NotPlain::of(&e));
            assert_eq!(refused.err(), Some(Some(NotPlain::NotOurs)));
            assert_eq!(fs::read(at("file"))?, before);
        }
        fs::hard_link(at("file"), at("other"))?;
        let refused = lock_note(&at("other"), "note").map_err(|e| NotPlain::of(&e));
        assert!(cfg!(windows) || refused.err() == Some(Some(NotPlain::Shared)));
        Ok(())
    }

    #[test]
    #[cfg(unix)]
    fn no_link_is_followed() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        fs::write(at("other"), "open in ovenbell, says somebody else's file")?;
        for (link, to) in [("link", "other"), ("dangling", "nothing")] {
            std::os::unix::fs::symlink(at(to), at(link))?;
            assert!(lock_note(&at(link), "note").is_err());
        }
        assert!(fs::read_to_string(at("other"))?.ends_with("else's file"));
        assert!(!at("nothing").exists());
        Ok(())
    }
}
