//! Saving the lesson such that no work is lost, and clearing the class out of
//! it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::question::Question;
use super::{Event, Session, SessionStart, first_of};
use crate::file::clear;
use crate::file::copies::{UnsavedCopy, left_behind, unsaved_folder};
use crate::file::data_folders::minutes_beside;
use crate::file::open_lesson::{NotSaved, Over, Safekeeping};
use crate::file::past_minutes::forget_class;
use crate::file::safe_name::safe_name;

/// What keeps the user's work safe.
pub(super) struct Keeping {
    pub safe: Safekeeping,
    /// Lessons of runs that ended without saving them.
    pub left: Vec<UnsavedCopy>,
    /// Where lessons are saved first.
    folder: Option<PathBuf>,
    /// The reason last told why copies could not be written.
    trouble: Option<String>,
    /// The words in which it was told.
    told: Option<String>,
}

impl Keeping {
    pub fn new(start: &SessionStart) -> Self {
        let safe = Safekeeping::new(Arc::clone(&start.disk), start.data.clone());
        let safe = Safekeeping { wake: Arc::clone(&start.wake), ..safe };
        let left = safe.data.as_ref().map(|data| left_behind(&safe.disk, data));
        let folder = start.documents.clone();
        Self { left: left.unwrap_or_default(), folder, trouble: None, told: None, safe }
    }

    /// Whether a file is a copy of unsaved changes.
    pub fn is_copy(&self, path: &Path) -> bool {
        let folder = self.safe.data.as_ref().map(|data| unsaved_folder(data));
        folder.is_some_and(|folder| path.parent() == Some(&folder))
    }
}

impl Session {
    /// Saves to the lesson's own file, or asks where.
    pub(super) fn save(&mut self, over: Over) {
        self.settle_on_plan();
        let Some(doc) = &mut self.doc else { return };
        if doc.path.is_none() {
            self.events.push(Event::WhereToSave);
            return;
        }
        let done = doc.save(over);
        self.heard_of_saving(None, done);
    }

    /// Saves to another file, which becomes the lesson's own.
    pub fn save_as(&mut self, path: &Path, over: Over) {
        self.settle_on_plan();
        let Some(doc) = &mut self.doc else { return };
        let path = match path.extension() {
            Some(_) => path.to_path_buf(),
            None => path.with_extension("ron"),
        };
        let done = doc.save_as(&path, over);
        self.heard_of_saving(Some(path), done);
    }

    pub(super) fn heard_of_saving(
        &mut self,
        to: Option<PathBuf>,
        done: Result<Option<String>, NotSaved>,
    ) {
        let Some(own) = self.doc.as_ref().map(|d| d.path.clone()) else { return };
        match done {
            Ok(told) => {
                self.message = told.map(|words| format!("Saved, but {words}."));
                if let Some(path) = own {
                    self.events.push(Event::FileUsed(path));
                }
                if let Some(then) = self.questions.then.take() {
                    self.go(&then);
                }
            }
            Err(NotSaved::ChangedOnDisk) => {
                self.questions.before_writing = Some(Question::ChangedOnDisk)
            }
            Err(problem @ NotSaved::Exists(_)) => {
                let path = to.or(own).unwrap_or_default();
                let asking = Question::Exists(path, problem.to_string(), Over::File);
                self.questions.before_writing = Some(asking);
            }
            Err(problem @ NotSaved::HasCopy(..)) => {
                let path = to.or(own).unwrap_or_default();
                let asking = Question::Exists(path, problem.to_string(), Over::All);
                self.questions.before_writing = Some(asking);
            }
            Err(problem) => {
                self.questions.then = None;
                let path = to.or(own).unwrap_or_default();
                self.tell(format!("Not saved to {}: {problem}.", path.display()));
            }
        }
    }

    /// Takes what another program wrote in place of what is here.
    pub(super) fn read_again(&mut self) {
        let Some(doc) = &mut self.doc else { return };
        match doc.read_again() {
            Ok(()) => {
                self.changed("reading the file again");
                let words = "The file was read again. Undo goes back to the lesson as it was here.";
                self.tell(words);
            }
            Err(findings) => {
                self.tell(format!("The file was not read again: {}.", first_of(&findings)));
            }
        }
    }

    /// Asks before the class is cleared.
    pub(super) fn ask_to_clear(&mut self) {
        let goes = self.doc.as_ref().map(|doc| clear::what_goes(doc.file()));
        self.questions.before_writing = goes.map(Question::Clear);
    }

    /// Clears the class.
    pub(super) fn clear_class(&mut self) {
        let Some(doc) = &mut self.doc else { return };
        let class = doc.file().class.name.clone();
        match doc.clear_class(self.library.own()) {
            Ok(mut remains) => {
                if let Some(path) = self.outcomes.as_deref().map(minutes_beside)
                    && !class.trim().is_empty()
                    && let Err(error) = forget_class(&path, &class)
                {
                    remains.push(format!("In {} it is still there: {error}.", path.display()));
                }
                self.read_past_minutes();
                self.changed("clearing the class");
                self.laid.before = None;
                self.tell(match remains.as_slice() {
                    [] => "The class is cleared.".to_owned(),
                    remains => format!("Not all is cleared. {}", remains.join(" ")),
                });
            }
            Err(words) => self.tell(format!("Nothing is cleared: {words}.")),
        }
    }

    /// Says when changes are no longer kept in case the program ends.
    pub(super) fn hear_of_copies(&mut self) {
        let trouble = self.doc.as_ref().and_then(|doc| doc.care().trouble());
        if trouble != self.keeping.trouble {
            if let Some(words) = &trouble {
                let words = format!(
                    "Should the program end, the changes not saved would be lost: {words}. Save \
                     them soon."
                );
                self.keeping.told = Some(words.clone());
                self.tell(words);
            } else if self.message == self.keeping.told.take() {
                self.message = None;
            }
            self.keeping.trouble = trouble;
        }
    }

    /// A path that a dialog or field starts from; `last` is the file that was
    /// used last.
    pub fn likely_path(&self, to_save: bool, last: Option<&Path>) -> PathBuf {
        if let Some(week) = self.week_on_screen() {
            return if to_save { free(week.path()) } else { week.folder().join("") };
        }
        let own = self.doc.as_ref().and_then(|doc| doc.path.clone());
        if own.is_none()
            && to_save
            && let Some(of) = self.lesson_of_day()
        {
            return free(&self.copy_for_the_day(Path::new(&of.file)));
        }
        let last = own.clone().or_else(|| last.map(Path::to_path_buf));
        let last = last.map(|path| std::path::absolute(&path).unwrap_or(path));
        let folder = last.as_deref().and_then(Path::parent).map(Path::to_path_buf);
        let folder = folder.or_else(|| self.keeping.folder.clone()).unwrap_or_default();
        if !to_save {
            return folder.join("");
        }
        let name = own.as_deref().and_then(Path::file_name).map(PathBuf::from);
        let title = || self.doc.as_ref().map(|d| d.file().title.clone()).unwrap_or_default();
        folder.join(name.unwrap_or_else(|| {
            let title = title();
            let title = if title.trim().is_empty() { "lesson" } else { &title };
            let date = self.doc.as_ref().and_then(|d| d.file().date.clone());
            let name = safe_name(&[title, &date.unwrap_or_default()].join(" "));
            free(&folder.join(format!("{name}.ron")))
        }))
    }
}

/// A path at which there is nothing yet: this one, or with a number after the
/// name.
pub(super) fn free(path: &Path) -> PathBuf {
    let name = path.file_stem().unwrap_or_default().to_string_lossy();
    let more = (2..100).map(|i| path.with_file_name(format!("{name} {i}.ron")));
    let mut all = std::iter::once(path.to_owned()).chain(more);
    all.find(|path| !path.exists()).unwrap_or_else(|| path.to_owned())
}
