//! Opening, saving and leaving lessons, such that no work is lost.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::{self, ViewportCommand};

use super::changes::Changes;
use super::command::Command;
use super::document::{Document, OpenedDocument};
use super::pages::Page;
use super::shell::{App, Broken, Start};
use super::state::ViewState;
use crate::file::copies::{UnsavedCopy, left_behind, unsaved_folder};
use crate::file::open_lesson::{NotSaved, Over, Safekeeping};
use crate::file::own_library::OwnLibrary;
use crate::file::plain_words::{Doing, why};
use crate::file::safe_name::safe_name;
use crate::file::{Disk, LARGEST_FILE, RealDisk, clear, data_folders};
use crate::finding::Finding;
use crate::model::PastBake;

const DEMO: &str = include_str!("../../lessons/demo.ron");

/// What would take the place of the lesson on screen.
#[derive(Debug, Clone, PartialEq)]
pub enum Leaving {
    /// Another file.
    Open(PathBuf),
    /// The demo lesson.
    Demo,
    /// A new lesson.
    New,
    /// The same lesson for another day.
    Again,
    /// A copy for the day.
    Today,
    /// Nothing: the window closes.
    Close,
}

/// A question that must be answered before something is written.
#[derive(Debug, Clone, PartialEq)]
pub enum Asking {
    /// Another program has changed the lesson's own file.
    ChangedOnDisk,
    /// Something is there already: the file, how it is put, and how much would
    /// be written over.
    Exists(PathBuf, String, Over),
    /// What is said of the class goes: what that is.
    Clear(Vec<String>),
}

/// A way of opening a file.
type Opening =
    fn(&Path, &Safekeeping, u64, Arc<[PastBake]>) -> Result<OpenedDocument, Vec<Finding>>;

/// Sentences one after the other; `None` if there are none.
fn all(words: Vec<String>) -> Option<String> {
    (!words.is_empty()).then(|| words.join(" "))
}

/// How the window keeps the user's work.
pub(super) struct Caring {
    pub keeping: Safekeeping,
    /// The user's own library.
    pub own: OwnLibrary,
    /// Paths are asked for in a field, never by the system's dialog.
    pub by_field: bool,
    pub asking: Option<Asking>,
    /// Where to, once the lesson is saved.
    pub then: Option<Leaving>,
    /// Lessons of runs that ended without saving them.
    pub left: Vec<UnsavedCopy>,
    /// Where lessons are saved first.
    folder: Option<PathBuf>,
    /// What was last told of copies that could not be written.
    trouble: Option<String>,
}

impl Caring {
    pub fn new(ctx: &egui::Context, start: &Start) -> Self {
        let disk: Arc<dyn Disk> = Arc::new(RealDisk);
        let of_system = || if start.remember { data_folders::data_folder() } else { None };
        let data = start.data.clone().or_else(of_system);
        let folder =
            if start.remember { data_folders::documents_folder() } else { start.data.clone() };
        let own = OwnLibrary::at(data.clone(), Arc::clone(&disk));
        let ctx = ctx.clone();
        let wake = Arc::new(move || ctx.request_repaint());
        let keeping = Safekeeping { wake, ..Safekeeping::new(disk, data) };
        let left = keeping.data.as_ref().map(|data| left_behind(&keeping.disk, data));
        Self {
            own,
            by_field: start.paths_by_field,
            asking: None,
            then: None,
            left: left.unwrap_or_default(),
            folder,
            trouble: None,
            keeping,
        }
    }

    /// Whether a file is a copy of unsaved changes.
    fn is_copy(&self, path: &Path) -> bool {
        let folder = self.keeping.data.as_ref().map(|data| unsaved_folder(data));
        folder.is_some_and(|folder| path.parent() == Some(&folder))
    }
}

impl App {
    /// The first lesson: the one named, one that was not saved when the program
    /// last ended, or the demo.
    pub(super) fn begin(&mut self, file: Option<PathBuf>) {
        if let Some(path) = file {
            self.open(&path);
            return;
        }
        let mut told = Vec::new();
        while self.doc.is_none() && !self.caring.left.is_empty() {
            let copy = self.caring.left.remove(0);
            self.open(&copy.path);
            if self.doc.is_none() {
                told.extend(self.message.take());
            }
        }
        if self.doc.is_none() {
            self.open_demo();
        }
        let more = match self.caring.left.len() {
            0 => None,
            1 => Some("Another lesson that was not saved is under Recent.".to_owned()),
            n => Some(format!("{n} more lessons that were not saved are under Recent.")),
        };
        self.tell(told.into_iter().chain(more));
    }

    /// Adds to what is told.
    fn tell(&mut self, more: impl IntoIterator<Item = String>) {
        self.message = all(self.message.take().into_iter().chain(more).collect());
    }

    pub(super) fn open_demo(&mut self) {
        self.hinting.on |= self.hinting.wanted;
        self.revision += 1000;
        let (past, told) = self.past_bakes();
        match Document::read(DEMO, None, self.revision, past) {
            Ok(doc) => self.show_document(doc, told),
            Err(findings) => self.show_broken(Path::new("demo"), DEMO, findings),
        }
    }

    /// Opens a file, or the copy of a lesson that was not saved.
    pub(super) fn open(&mut self, path: &Path) {
        self.open_as(path, Document::open);
    }

    fn open_as(&mut self, path: &Path, open: Opening) {
        self.revision += 1000;
        let (past, told) = self.past_bakes();
        let keeping = self.caring.keeping.clone();
        if self.caring.is_copy(path) {
            self.caring.left.retain(|copy| copy.path != path);
            match Document::take_up(path, &keeping, self.revision, past) {
                Ok((doc, mut words)) => {
                    words.extend(told);
                    self.show_document(doc, all(words));
                }
                Err(words) => self.message = Some(words),
            }
            return;
        }
        // Our own hold on it must not keep us from opening it.
        let ours = |doc: &&mut Document| doc.care().is_of(path);
        if let Some(doc) = self.doc.as_mut().filter(ours) {
            doc.care_mut().let_go();
        }
        match open(path, &keeping, self.revision, past) {
            Ok((doc, mut words)) => {
                words.extend(told);
                self.show_document(doc, all(words));
                self.prefs.opened(path);
            }
            Err(findings) => {
                if let Some(doc) = &mut self.doc {
                    doc.care_mut().hold_again();
                }
                self.cannot_open(path, findings);
            }
        }
    }

    fn cannot_open(&mut self, path: &Path, findings: Vec<Finding>) {
        match self.caring.keeping.disk.read(path, LARGEST_FILE) {
            Ok(bytes) => self.show_broken(path, &String::from_utf8_lossy(&bytes), findings),
            Err(error) if error.kind() == std::io::ErrorKind::FileTooLarge => {
                self.show_broken(path, "", findings);
            }
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                self.message = Some(format!("There is no file {}.", path.display()));
            }
            Err(error) => {
                let words = why(&error, Doing::Reading(path));
                self.message = Some(format!("{} cannot be opened: {words}.", path.display()));
            }
        }
    }

    fn show_broken(&mut self, path: &Path, text: &str, findings: Vec<Finding>) {
        let lines = text.lines().map(str::to_owned).collect();
        let chosen = (!findings.is_empty()).then_some(0);
        let path = path.to_path_buf();
        let can_be_put_right = crate::file::read_lesson_shapes(text).is_ok();
        let scroll_now = true;
        self.broken = Some(Broken { path, lines, findings, chosen, scroll_now, can_be_put_right });
    }

    /// A broken file becomes a draft, to be put right on the pages.
    pub(super) fn put_right(&mut self, path: &Path) {
        self.open_as(path, Document::open_draft);
        let first = self.doc.as_ref().and_then(|d| d.to_do.first()).map(|f| f.path.clone());
        if self.broken.is_none() {
            self.apply(first.map_or(Command::SetUp(Some(Page::Start)), Command::GoTo));
        }
    }

    /// Another document comes on screen, with something to tell.
    pub(super) fn show_document(&mut self, mut doc: Document, told: Option<String>) {
        if doc.care().path().is_none() && !doc.changed {
            doc.keep_safe(&self.caring.keeping);
        }
        self.doc = Some(doc);
        self.broken = None;
        self.plan = None;
        self.planned = None;
        self.board = None;
        self.changes = Changes::default();
        self.overlay = None;
        self.before = None;
        self.message = told;
        let ViewState { as_list, folded, .. } = self.view;
        self.view = ViewState { as_list, folded, ..ViewState::default() };
        self.forget_typed();
        self.moving.forget();
        self.the_day = super::day::Day::default();
        self.replan();
    }

    /// Leaves the lesson on screen, but asks first if changes would be lost.
    pub(super) fn leave(&mut self, to: Leaving) {
        if self.doc.as_ref().is_some_and(|d| d.changed) {
            self.leaving = Some(to);
        } else {
            self.go(&to);
        }
    }

    /// Leaves the lesson on screen and its unsaved changes.
    pub(super) fn go_without_saving(&mut self, to: &Leaving) {
        let lost = self.doc.as_mut().map(Document::lose_changes);
        self.go(to);
        if let Some(Err(words)) = lost {
            self.tell([format!("The copy of the changes that were not saved {words}.")]);
        }
    }

    /// Leaves the lesson on screen whatever is lost.
    pub(super) fn go(&mut self, to: &Leaving) {
        match to {
            Leaving::Open(path) => self.open(path),
            Leaving::Demo => self.open_demo(),
            Leaving::New => self.new_lesson(),
            Leaving::Again => self.lesson_again(),
            Leaving::Today => self.begin_day(),
            Leaving::Close => {
                self.may_close = true;
                self.wake.send_viewport_cmd(ViewportCommand::Close);
            }
        }
    }

    /// Saves to the lesson's own file, or asks where.
    pub(super) fn save(&mut self, over: Over) {
        let Some(doc) = &mut self.doc else { return };
        if doc.path.is_none() {
            self.ask(true);
            return;
        }
        let done = doc.save(over);
        self.heard_of_saving(None, done);
    }

    /// Saves to another file, which becomes the lesson's own.
    pub(super) fn save_as(&mut self, path: &Path, over: Over) {
        let Some(doc) = &mut self.doc else { return };
        let path = match path.extension() {
            Some(_) => path.to_path_buf(),
            None => path.with_extension("ron"),
        };
        let done = doc.save_as(&path, over);
        self.heard_of_saving(Some(path), done);
    }

    fn heard_of_saving(&mut self, to: Option<PathBuf>, done: Result<Option<String>, NotSaved>) {
        let Some(own) = self.doc.as_ref().map(|d| d.path.clone()) else { return };
        match done {
            Ok(told) => {
                self.message = told.map(|words| format!("Saved, but {words}."));
                if let Some(path) = own {
                    self.prefs.opened(&path);
                }
                if let Some(then) = self.caring.then.take() {
                    self.go(&then);
                }
            }
            Err(NotSaved::ChangedOnDisk) => self.caring.asking = Some(Asking::ChangedOnDisk),
            Err(problem @ NotSaved::Exists(_)) => {
                let path = to.or(own).unwrap_or_default();
                let asking = Asking::Exists(path, problem.to_string(), Over::File);
                self.caring.asking = Some(asking);
            }
            Err(problem @ NotSaved::HasCopy(..)) => {
                let path = to.or(own).unwrap_or_default();
                let asking = Asking::Exists(path, problem.to_string(), Over::All);
                self.caring.asking = Some(asking);
            }
            Err(problem) => {
                self.caring.then = None;
                let path = to.or(own).unwrap_or_default();
                self.message = Some(format!("Not saved to {}: {problem}.", path.display()));
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
                self.message = Some(words.to_owned());
            }
            Err(findings) => {
                let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                self.message = Some(format!("The file was not read again: {why}."));
            }
        }
    }

    /// Asks before the class is cleared.
    pub(super) fn ask_to_clear(&mut self) {
        let goes = self.doc.as_ref().map(|doc| clear::what_goes(doc.file()));
        self.caring.asking = goes.map(Asking::Clear);
    }

    /// Clears the class.
    pub(super) fn clear_class(&mut self) {
        let Some(doc) = &mut self.doc else { return };
        match doc.clear_class(&self.caring.own) {
            Ok(remains) => {
                self.changed("clearing the class");
                self.before = None;
                self.message = Some(match remains.as_slice() {
                    [] => "The class is cleared.".to_owned(),
                    remains => format!("Not all is cleared. {}", remains.join(" ")),
                });
            }
            Err(words) => self.message = Some(format!("Nothing is cleared: {words}.")),
        }
    }

    /// Says when changes are no longer kept in case the program ends.
    pub(super) fn hear_of_copies(&mut self) {
        let trouble = self.doc.as_ref().and_then(|doc| doc.care().trouble());
        if trouble != self.caring.trouble {
            if let Some(words) = &trouble {
                let words = format!(
                    "Should the program end, the changes not saved would be lost: {words}. Save \
                     them soon."
                );
                self.message = Some(words);
            }
            self.caring.trouble = trouble;
        }
    }

    /// A path that a dialog or field starts from.
    pub(super) fn likely_path(&self, to_save: bool) -> PathBuf {
        let own = self.doc.as_ref().and_then(|doc| doc.path.clone());
        let last = own.clone().or_else(|| self.prefs.recent.first().cloned());
        let last = last.map(|path| std::path::absolute(&path).unwrap_or(path));
        let folder = last.as_deref().and_then(Path::parent).map(Path::to_path_buf);
        let folder = folder.or_else(|| self.caring.folder.clone()).unwrap_or_default();
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
            let more = (2..100).map(|i| format!("{name} {i}.ron"));
            let mut names = std::iter::once(format!("{name}.ron")).chain(more);
            let free = names.find(|name| !folder.join(name).exists());
            PathBuf::from(free.unwrap_or(name))
        }))
    }
}
