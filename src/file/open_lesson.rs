//! The care for one open lesson: the hold on its file, copies of unsaved
//! changes, and saving that never writes over what it has not seen.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::autosave::{Autosave, Targets, UnsavedLesson};
use super::copies::{UnsavedCopy, copy_beside, copy_elsewhere, copy_of_new, find};
use super::disk::Access;
use super::file_hold::{FileHold, HoldAttempt, hold_path};
use super::format::LessonFile;
use super::lesson_id::LessonId;
use super::load::{LARGEST_FILE, read_lesson_shapes, text_of};
use super::merge::merged;
use super::plain_file::NotPlain;
use super::plain_words::{Doing, when, why};
use super::pointer;
pub use super::safekeeping::{NotSaved, Over, Recovered, Safekeeping, Saved};
use super::strays::sweep;
use super::write::backup_path;
use crate::finding::{Finding, Path as Where};

/// A lesson as opened.
pub struct Opened {
    /// The care for it.
    pub care: OpenLesson,
    /// The text of its file; `None` if only changes were found.
    pub text: Option<String>,
    /// Changes that were not saved.
    pub recovered: Option<Recovered>,
    /// Facts the user must know, a sentence each.
    pub told: Vec<String>,
}

/// The keeper of one open lesson: its file, its copies and their states.
pub struct OpenLesson {
    keeping: Safekeeping,
    /// The lesson's own file, links followed.
    path: Option<PathBuf>,
    read_only: Option<ReadOnly>,
    /// The file's content when it was read or last written.
    on_disk: Option<Vec<u8>>,
    /// The content a saving that failed may have written all the same.
    attempted: Option<Vec<u8>>,
    targets: Targets,
    // Dropped in this order: the last copy is written while the hold lasts.
    autosave: Option<Autosave>,
    hold: Option<FileHold>,
    trouble: Option<String>,
    /// The lesson was changed since it was opened or saved.
    unsaved: bool,
}

impl OpenLesson {
    /// For a lesson that has no file yet.
    pub fn of_new(keeping: &Safekeeping) -> Self {
        Self {
            keeping: keeping.clone(),
            path: None,
            read_only: None,
            on_disk: None,
            attempted: None,
            targets: Targets::default(),
            autosave: None,
            hold: None,
            trouble: None,
            unsaved: false,
        }
    }

    /// Opens a lesson's file: holds it, clears away what broken-off writings
    /// left, reads it, and looks for changes that were not saved.
    ///
    /// # Errors
    /// If it cannot be read and no changes of it were found.
    pub fn open(keeping: &Safekeeping, path: &Path) -> Result<Opened, Finding> {
        let disk = &keeping.disk;
        let path = disk.resolved(path);
        let mut care = Self { path: Some(path.clone()), ..Self::of_new(keeping) };
        let mut told = Vec::new();
        care.try_to_hold(&path);
        care.find_protected(&path);
        let read = disk.read(&path, LARGEST_FILE);
        let is_there = !read.as_ref().is_err_and(|e| e.kind() == io::ErrorKind::NotFound);
        let bytes = read.as_ref().ok().cloned();
        let text = text_of(read);
        if let (Some(reason), true) = (care.read_only(), is_there) {
            told.push(format!("Open to read only: {reason}."));
        }
        if care.hold.is_some() {
            sweep(&**disk, &path);
        }
        let elsewhere = care.is_elsewhere();
        care.targets.first = Some(copy_beside(&path));
        let second = keeping.data.as_ref().map(|data| copy_elsewhere(data, &path));
        care.targets.second = second.map(|second| (second, path.clone()));
        care.targets.of = Some(path.clone());
        let found = if elsewhere { Vec::new() } else { care.copies() };
        let recovered = care.recover((text.as_deref().ok(), is_there), found, &mut told);
        care.on_disk = bytes;
        match (text, recovered) {
            (Err(finding), None) => Err(finding),
            (text, recovered) => Ok(Opened { care, text: text.ok(), recovered, told }),
        }
    }

    /// Takes up the unsaved changes of a lesson from the user's data.
    ///
    /// # Errors
    /// Why that cannot be, in words; the copy is kept.
    pub fn take_up(keeping: &Safekeeping, copy: &Path) -> Result<Opened, String> {
        let unreadable = |why: &str| {
            format!("The unsaved changes in {} cannot be read and are kept: {why}.", copy.display())
        };
        let mut care = Self::of_new(keeping);
        match FileHold::take(&keeping.disk, copy) {
            HoldAttempt::Ours(hold) => care.hold = Some(hold),
            HoldAttempt::Elsewhere(_) => return Err(unreadable("they are open in another window")),
            HoldAttempt::Unguarded | HoldAttempt::Refused(_) => {}
        }
        let found = find(&*keeping.disk, copy).ok_or_else(|| unreadable("they are gone"))?;
        if let Some(of) = &found.of
            && let Ok(opened) = Self::open(keeping, of)
            && opened.recovered.is_some()
        {
            return Ok(opened);
        }
        let (text, file) = found.says.map_err(|why| unreadable(&why))?;
        care.targets.first = Some(copy.to_owned());
        let recovered = Recovered { text, file, when: found.written.map(when) };
        let of = found.of.map(|of| format!(" of {}, which cannot be opened", of.display()));
        let told = vec![format!(
            "These are changes{} that were not saved{}.",
            recovered.when.as_ref().map(|w| format!(" of {w}")).unwrap_or_default(),
            of.unwrap_or_default()
        )];
        Ok(Opened { care, text: None, recovered: Some(recovered), told })
    }

    /// A lesson that may not be written to may only be read, though its folder
    /// would let it be replaced.
    fn find_protected(&mut self, path: &Path) {
        if self.read_only.is_none() && self.keeping.disk.is_protected(path) {
            self.hold = None;
            let why = "its file is write-protected".to_owned();
            self.read_only = Some(ReadOnly { elsewhere: false, why });
        }
    }

    fn try_to_hold(&mut self, path: &Path) {
        self.read_only = None;
        match FileHold::take(&self.keeping.disk, path) {
            HoldAttempt::Ours(hold) => self.hold = Some(hold),
            HoldAttempt::Unguarded => {}
            HoldAttempt::Elsewhere(holder) => {
                self.read_only = Some(ReadOnly { elsewhere: true, why: holder.to_string() });
            }
            HoldAttempt::Refused(error) => {
                let why = match (error.kind(), NotPlain::of(&error)) {
                    (io::ErrorKind::NotFound, _) => "its folder is not there".to_owned(),
                    (_, Some(what)) => {
                        let note = hold_path(path);
                        format!("{} {what}; move it away and open the lesson again", note.display())
                    }
                    _ => {
                        let folder = path.parent().unwrap_or(path).display().to_string();
                        format!("nothing can be written to its folder {folder} ({error})")
                    }
                };
                self.read_only = Some(ReadOnly { elsewhere: false, why });
            }
        }
    }

    fn is_elsewhere(&self) -> bool {
        self.read_only.as_ref().is_some_and(|r| r.elsewhere)
    }

    /// The copies of this lesson's changes that are there.
    fn copies(&self) -> Vec<UnsavedCopy> {
        let mut copies: Vec<UnsavedCopy> =
            self.copy_paths().filter_map(|p| find(&*self.keeping.disk, p)).collect();
        let path = self.path.as_ref();
        copies.retain(|c| c.of.is_none() || c.of.as_ref() == path);
        copies.sort_by_key(|copy| std::cmp::Reverse(copy.written));
        copies
    }

    fn copy_paths(&self) -> impl Iterator<Item = &PathBuf> {
        self.targets.first.iter().chain(self.targets.second.iter().map(|(second, _)| second))
    }

    /// The newest copy that says something else than the file. Those that
    /// cannot be read are left alone.
    fn recover(
        &mut self,
        file: (Option<&str>, bool),
        found: Vec<UnsavedCopy>,
        told: &mut Vec<String>,
    ) -> Option<Recovered> {
        let (text, found_file) = file;
        let saved = text.and_then(|text| read_lesson_shapes(text).ok());
        let mut recovered = None;
        for copy in found {
            let at = copy.written.map(when);
            let of = at.as_ref().map(|at| format!(" of {at}")).unwrap_or_default();
            match copy.says {
                Err(why) => {
                    let path = copy.path.display();
                    told.push(format!(
                        "Changes{of} that were not saved are in {path}, which cannot be read \
                         ({why}). It is kept as it is."
                    ));
                    self.spare(&copy.path);
                }
                Ok((_, file)) if Some(&file) == saved.as_ref() => {
                    if self.hold.is_some() {
                        // Should that fail it will be the same next time.
                        let _ = self.keeping.disk.remove(&copy.path);
                    }
                }
                Ok((text, file)) if recovered.is_none() => {
                    let back = match (&saved, found_file) {
                        (Some(_), _) => "Undo goes back to the file as it was saved.",
                        (None, true) => "The file itself cannot be read.",
                        (None, false) => "The file itself is no longer there.",
                    };
                    told.push(format!("Changes{of} that were not saved are here again. {back}"));
                    recovered = Some(Recovered { text, file, when: at });
                }
                Ok(_) => {}
            }
        }
        recovered
    }

    /// No copy is written here, and what is there stays.
    fn spare(&mut self, path: &Path) {
        if self.targets.first.as_deref() == Some(path) {
            self.targets.first = None;
        } else {
            self.targets.second = None;
        }
    }

    /// Why the lesson may only be read, if that is so.
    pub fn read_only(&self) -> Option<&str> {
        self.read_only.as_ref().map(|r| r.why.as_str())
    }

    /// The lesson's own file, links followed.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Whether this is the lesson's own file.
    pub fn is_of(&self, path: &Path) -> bool {
        self.path.as_ref() == Some(&self.keeping.disk.resolved(path))
    }

    /// The id of the lesson in another file, which is given one if it has none.
    pub fn id_of(&self, other: &Path) -> Option<LessonId> {
        pointer::id_of(&self.keeping.disk, other)
    }

    /// The lesson has become this; `text` is what it was read from. A copy is
    /// written soon.
    pub fn changed(&mut self, text: &Arc<str>, file: &LessonFile) {
        if self.read_only.is_some() {
            return;
        }
        if self.path.is_none() {
            match &self.targets.first {
                None => self.find_a_place(&file.title),
                // There was no room for the note; there may be now.
                Some(copy) if self.hold.is_none() => {
                    if let HoldAttempt::Ours(hold) = FileHold::take(&self.keeping.disk, copy) {
                        self.hold = Some(hold);
                    }
                }
                Some(_) => {}
            }
        }
        if self.targets.first.is_none() && self.targets.second.is_none() {
            let no_place = || "older changes that cannot be read are in the way".to_owned();
            self.trouble.get_or_insert_with(no_place);
            return;
        }
        self.trouble = None;
        let keeping = &self.keeping;
        let targets = &self.targets;
        let start = || {
            let (disk, wake) = (Arc::clone(&keeping.disk), Arc::clone(&keeping.wake));
            Autosave::start(disk, targets.clone(), keeping.every, wake)
        };
        let autosave = self.autosave.get_or_insert_with(start);
        self.unsaved = true;
        autosave.note(UnsavedLesson { text: Arc::clone(text), file: Arc::new(file.clone()) });
    }

    /// A place for the copies of a lesson without a file.
    fn find_a_place(&mut self, title: &str) {
        let Some(data) = &self.keeping.data else {
            self.trouble =
                Some("there is no folder to keep them in, or it is not to be used".to_owned());
            return;
        };
        let copy = copy_of_new(data, title);
        let made = copy.parent().map_or(Ok(()), |folder| self.keeping.disk.make_folder(folder));
        let held = made.map(|()| FileHold::take(&self.keeping.disk, &copy));
        match held {
            Ok(HoldAttempt::Ours(hold)) => self.hold = Some(hold),
            Ok(HoldAttempt::Unguarded) => {}
            Ok(HoldAttempt::Elsewhere(_)) => {
                self.trouble = Some("another window keeps its own there".to_owned());
                return;
            }
            // The copy is tried all the same, and again until there is room.
            Ok(HoldAttempt::Refused(_)) | Err(_) => {}
        }
        self.targets.first = Some(copy);
    }

    /// Why changes are not being kept in case the program ends, if they are
    /// not.
    pub fn trouble(&self) -> Option<String> {
        let own = self.trouble.clone();
        own.or_else(|| self.autosave.as_ref().and_then(Autosave::trouble))
    }

    /// Returns when the last change has been kept, or that has failed.
    pub fn flush(&self) {
        if let Some(autosave) = &self.autosave {
            autosave.flush();
        }
    }

    /// Saves the lesson to its own file.
    ///
    /// # Errors
    /// Why it was not saved.
    pub fn save(
        &mut self,
        text: &Arc<str>,
        file: &LessonFile,
        over: Over,
    ) -> Result<Saved, NotSaved> {
        if let Some(reason) = self.read_only() {
            return Err(NotSaved::ReadOnly(reason.to_owned()));
        }
        let Some(path) = self.path.clone() else {
            return Err(NotSaved::Failed("it has no file yet; use \"Save as…\"".to_owned()));
        };
        let new = written(text, file)?;
        self.settle();
        let done = self.write(&path, new.as_bytes(), over);
        if let Err(problem) = done {
            self.still_unsaved(text, file);
            return Err(problem);
        }
        Ok(Saved { text: new, told: self.drop_copies().err() })
    }

    /// Saves the lesson to another file, which becomes its own.
    ///
    /// # Errors
    /// Why it was not saved; its own file is then still the one before.
    pub fn save_as(
        &mut self,
        path: &Path,
        text: &Arc<str>,
        file: &LessonFile,
        over: Over,
    ) -> Result<Saved, NotSaved> {
        let path = self.keeping.disk.resolved(path);
        if self.path.as_ref() == Some(&path) && self.read_only.is_none() {
            return self.save(text, file, over);
        }
        let new = written(text, file)?;
        let hold = match FileHold::take(&self.keeping.disk, &path) {
            HoldAttempt::Ours(hold) => Some(hold),
            HoldAttempt::Unguarded => None,
            HoldAttempt::Elsewhere(holder) => {
                return Err(NotSaved::Failed(format!("{holder}; choose another name")));
            }
            HoldAttempt::Refused(error) => {
                return Err(NotSaved::Failed(why(&error, Doing::Writing(&hold_path(&path)))));
            }
        };
        let mut there = Self { path: Some(path.clone()), hold, ..Self::of_new(&self.keeping) };
        there.targets.first = Some(copy_beside(&path));
        let second = self.keeping.data.as_ref().map(|data| copy_elsewhere(data, &path));
        there.targets.second = second.map(|second| (second, path.clone()));
        there.targets.of = Some(path.clone());
        let same = self.path.as_ref() == Some(&path);
        if !same && let Some(copy) = there.copies().first().filter(|_| over < Over::All) {
            return Err(NotSaved::HasCopy(path, copy.written));
        }
        there.on_disk = if same { self.on_disk.clone() } else { None };
        self.settle();
        if let Err(problem) = there.write(&path, new.as_bytes(), over) {
            self.still_unsaved(text, file);
            return Err(problem);
        }
        // Copies of a file that may only be read are not ours.
        let before = if self.read_only.is_none() { self.drop_copies() } else { Ok(()) };
        *self = there;
        let told = before.and(self.drop_copies()).err();
        Ok(Saved { text: new, told })
    }

    /// Writes the file, keeping what was there as `.bak`.
    fn write(&mut self, path: &Path, new: &[u8], over: Over) -> Result<(), NotSaved> {
        if self.keeping.disk.is_protected(path) {
            let error = NotPlain::Protected.at(path);
            return Err(NotSaved::Failed(why(&error, Doing::Writing(path))));
        }
        if let Some(there) = self.check(path, over)?.filter(|there| there != new) {
            let backup = backup_path(path);
            let kept = self.keeping.disk.replace(&backup, &there, Access::As(path));
            kept.map_err(|error| {
                let name = backup.file_name().unwrap_or_default().display();
                let why = why(&error, Doing::Writing(&backup));
                NotSaved::Failed(format!("what was there before cannot be kept as {name}: {why}"))
            })?;
        }
        self.put(path, new)
    }

    /// The content of the file, if it may be written over.
    fn check(&self, path: &Path, over: Over) -> Result<Option<Vec<u8>>, NotSaved> {
        let there = match self.keeping.disk.read(path, LARGEST_FILE) {
            Ok(there) => there,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(NotSaved::Failed(why(&error, Doing::Reading(path)))),
        };
        let known = [self.on_disk.as_ref(), self.attempted.as_ref()].contains(&Some(&there));
        if known || over > Over::Nothing {
            return Ok(Some(there));
        }
        Err(match self.on_disk {
            Some(_) => NotSaved::ChangedOnDisk,
            None => NotSaved::Exists(path.to_owned()),
        })
    }

    fn put(&mut self, path: &Path, new: &[u8]) -> Result<(), NotSaved> {
        self.attempted = Some(new.to_owned());
        let done = self.keeping.disk.replace(path, new, Access::AsBefore);
        if self.hold.is_some() {
            sweep(&*self.keeping.disk, path);
        }
        done.map_err(|error| NotSaved::Failed(why(&error, Doing::Writing(path))))?;
        self.on_disk = self.attempted.take();
        Ok(())
    }

    /// Reads the file again, whatever was changed here.
    ///
    /// # Errors
    /// If it cannot be read.
    pub fn read_again(&mut self) -> Result<String, Finding> {
        let Some(path) = &self.path else {
            return Err(Finding::error("unreadable", Where::root(), "it has no file yet"));
        };
        let bytes = self.keeping.disk.read(path, LARGEST_FILE);
        let copy = bytes.as_ref().ok().cloned();
        let text = text_of(bytes)?;
        self.on_disk = copy;
        Ok(text)
    }

    /// The changes that are not saved may be lost: their copies go.
    ///
    /// # Errors
    /// Which copy is still there and why, in words.
    pub fn discard(&mut self) -> Result<(), String> {
        if self.read_only.is_some() {
            return Ok(());
        }
        self.cancel();
        self.drop_copies()
    }

    /// Brings the copy up to the lesson as it is, and no further: should the
    /// program end while the file is written, the copy is no older than it.
    fn settle(&self) {
        self.flush();
        self.cancel();
    }

    /// A saving failed: if there is something to save, a copy is kept as before.
    fn still_unsaved(&mut self, text: &Arc<str>, file: &LessonFile) {
        if self.unsaved {
            self.changed(text, file);
        }
    }

    fn cancel(&self) {
        if let Some(autosave) = &self.autosave {
            autosave.cancel();
        }
    }

    fn drop_copies(&mut self) -> Result<(), String> {
        self.unsaved = false;
        let mut kept = Ok(());
        for path in self.copy_paths() {
            match self.keeping.disk.remove(path) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => {
                    let words = why(&error, Doing::Writing(path));
                    kept = Err(format!("{} is still there: {words}", path.display()));
                }
                _ => sweep(&*self.keeping.disk, path),
            }
        }
        kept
    }

    /// Lets the file go for a moment, to have it opened anew.
    pub fn let_go(&mut self) {
        self.hold = None;
    }

    /// Holds the file again, if nobody else has taken it meanwhile.
    pub fn hold_again(&mut self) {
        if let Some(path) = self.path.clone()
            && self.hold.is_none()
            && self.read_only.is_none()
        {
            self.try_to_hold(&path);
        }
    }

    /// No copy is written until the next change.
    pub(super) fn stop_copies(&mut self) {
        self.cancel();
        self.unsaved = false;
    }

    /// Writes the lesson's own file and keeps nothing of what was there.
    pub(super) fn overwrite(&mut self, new: &[u8]) -> Result<(), NotSaved> {
        let Some(path) = self.path.clone() else { return Ok(()) };
        self.check(&path, Over::Nothing)?;
        self.put(&path, new)
    }

    pub(super) fn parts(&mut self) -> (&Safekeeping, Option<&PathBuf>, Vec<PathBuf>) {
        let copies = self.copy_paths().cloned().collect();
        (&self.keeping, self.path.as_ref(), copies)
    }
}

/// A lesson that may only be read.
struct ReadOnly {
    /// It is open in another window.
    elsewhere: bool,
    /// Why, in words.
    why: String,
}

fn written(text: &str, file: &LessonFile) -> Result<String, NotSaved> {
    merged(text, file).map_err(|error| NotSaved::Failed(error.to_string()))
}
