//! Opening lessons, and leaving the one on screen such that no work is lost.

use std::path::{Path, PathBuf};

use super::document::{Document, Reading};
use super::question::Loses;
use super::recipe_in::is_recipe;
use super::{Event, Leaving, Offering, Session};
use crate::file::plain_words::{Doing, why};
use crate::file::{LARGEST_FILE, picture_in, read_lesson_shapes};
use crate::finding::Finding;

const DEMO: &str = include_str!("../../lessons/demo.ron");

/// A file that cannot be planned.
#[derive(Debug)]
pub struct Broken {
    /// Which.
    pub path: PathBuf,
    /// Its lines.
    pub lines: Vec<String>,
    /// What is wrong.
    pub findings: Vec<Finding>,
    /// Its text reads as a lesson; only what it says is wrong.
    pub can_be_put_right: bool,
}

/// Sentences one after the other; `None` if there are none.
fn all(words: Vec<String>) -> Option<String> {
    (!words.is_empty()).then(|| words.join(" "))
}

impl Session {
    /// The first lesson: the one named, a new one with the recipe of a file from
    /// elsewhere, one that was not saved when the program
    /// last ended, the one that was open last, or the sample.
    pub fn begin(&mut self, file: Option<PathBuf>, last: Option<&Path>) {
        if let Some(path) = file {
            if is_recipe(&path) {
                self.new_lesson();
                self.read_recipe(&path, None);
            } else {
                self.open(&path);
            }
            return;
        }
        let mut told = Vec::new();
        while self.doc.is_none() && !self.keeping.left.is_empty() {
            let copy = self.keeping.left.remove(0);
            self.open(&copy.path);
            if self.doc.is_none() {
                told.extend(self.message.take());
            }
        }
        if let Some(last) = last.filter(|_| self.doc.is_none()) {
            self.open(last);
            if self.doc.is_none() && self.week().is_none() {
                told.extend(self.message.take());
            }
        }
        if self.doc.is_none() && self.broken.is_none() && self.week().is_none() {
            self.open_demo();
        }
        let more = match self.keeping.left.len() {
            0 => None,
            1 => Some(
                "Another lesson that was not saved is in the menu Lesson, under Recent.".to_owned(),
            ),
            n => Some(format!(
                "{n} more lessons that were not saved are in the menu Lesson, under Recent."
            )),
        };
        self.tell_more(told.into_iter().chain(more));
    }

    pub(super) fn open_demo(&mut self) {
        self.events.push(Event::Demo);
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        match Document::read(DEMO, None, id, past) {
            Ok(mut doc) => {
                doc.is_sample = true;
                self.show_document(doc, told);
            }
            Err(findings) => self.show_broken(Path::new("demo"), DEMO, findings),
        }
    }

    /// Opens a file, or the copy of a lesson that was not saved.
    pub(super) fn open(&mut self, path: &Path) {
        if !self.open_if_week(path) {
            self.open_as(path, Document::read);
        }
    }

    fn open_as(&mut self, path: &Path, read: Reading) {
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        let keeping = self.keeping.safe.clone();
        if self.keeping.is_copy(path) {
            self.keeping.left.retain(|copy| copy.path != path);
            match Document::take_up(path, &keeping, id, past) {
                Ok((doc, mut words)) => {
                    words.extend(told);
                    self.show_document(doc, all(words));
                }
                Err(words) => self.tell(words),
            }
            return;
        }
        // Our own hold on it must not keep us from opening it.
        let ours = |doc: &&mut Document| doc.care().is_of(path);
        if let Some(doc) = self.doc.as_mut().filter(ours) {
            doc.care_mut().let_go();
        }
        match Document::open(read, path, &keeping, id, past) {
            Ok((doc, mut words)) => {
                words.extend(told);
                self.show_document(doc, all(words));
                self.events.push(Event::FileUsed(path.to_path_buf()));
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
        let disk = &self.keeping.safe.disk;
        match disk.read(&disk.resolved(path), LARGEST_FILE) {
            // Bytes of a picture are no text that could be mended.
            Ok(bytes) if picture_in(&bytes).is_some() => self.show_broken(path, "", findings),
            Ok(bytes) => self.show_broken(path, &String::from_utf8_lossy(&bytes), findings),
            Err(error) if error.kind() == std::io::ErrorKind::FileTooLarge => {
                self.show_broken(path, "", findings);
            }
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                self.tell(format!("There is no file {}.", path.display()));
            }
            Err(error) => {
                let words = why(&error, Doing::Reading(path));
                self.tell(format!("{} cannot be opened: {words}.", path.display()));
            }
        }
    }

    pub(super) fn show_broken(&mut self, path: &Path, text: &str, findings: Vec<Finding>) {
        let lines = text.lines().map(str::to_owned).collect();
        let path = path.to_path_buf();
        let can_be_put_right = read_lesson_shapes(text).is_ok();
        self.broken = Some(Broken { path, lines, findings, can_be_put_right });
        self.events.push(Event::Broken);
    }

    /// A broken file becomes a draft, to be put right on the pages.
    pub(super) fn put_right(&mut self, path: &Path) {
        self.open_as(path, Document::read_draft);
        let first = self.doc.as_ref().and_then(|d| d.to_do.first()).map(|f| f.path.clone());
        if self.broken.is_none() {
            self.events.push(Event::PutRight(first));
        }
    }

    /// Leaves the findings of a broken file.
    pub fn back_to_lesson(&mut self) {
        self.broken = None;
    }

    /// Another document comes on screen, with something to tell.
    pub(super) fn show_document(&mut self, mut doc: Document, told: Option<String>) {
        if doc.care().path().is_none() && !doc.changed {
            doc.keep_safe(&self.keeping.safe);
        }
        self.doc = Some(doc);
        self.broken = None;
        (self.planned, self.to_keep, self.replaced) = (None, None, None);
        self.offering = Offering::default();
        self.laid = super::laid_over::LaidOver::default();
        self.message = told;
        self.lesson_is_shown();
        self.tell_of_week();
        self.events.push(Event::AnotherDocument);
        self.forget_typed();
        self.moving = super::Moving::default();
        self.day = super::day::Day::default();
        self.day_over = None;
        self.read_past_minutes();
        self.replan();
    }

    /// Leaves the lesson on screen, but asks first if changes would be lost. A week
    /// is opened beside the lesson.
    pub(super) fn leave(&mut self, to: Leaving) {
        match self.would_lose(&to) {
            None => self.go(&to),
            Some(loses) => self.questions.ask_before(to, loses),
        }
    }

    /// What would lose its changes on the way.
    pub(super) fn would_lose(&self, to: &Leaving) -> Option<Loses> {
        let lesson = self.doc.as_ref().is_some_and(|d| d.changed);
        let week = self.week_changed();
        match to {
            Leaving::Open(path) if self.is_week(path) => week.then_some(Loses::Week),
            Leaving::Close if !lesson && week => Some(Loses::Week),
            _ => lesson.then_some(Loses::Lesson),
        }
    }

    /// Leaves the lesson on screen and its unsaved changes.
    pub(super) fn go_without_saving(&mut self, to: &Leaving) {
        let lost = self.doc.as_mut().map(Document::lose_changes);
        self.go(to);
        if let Some(Err(words)) = lost {
            self.tell_more([format!("The copy of the changes that were not saved {words}.")]);
        }
    }

    /// Leaves the lesson on screen whatever is lost.
    pub(super) fn go(&mut self, to: &Leaving) {
        match to {
            Leaving::Open(path) => self.open(path),
            Leaving::Demo => self.open_demo(),
            Leaving::New => self.new_lesson(),
            Leaving::Again(pupils) => self.lesson_again(*pupils),
            Leaving::Today => self.begin_day(),
            Leaving::Close => match self.would_lose(to) {
                Some(Loses::Week) => self.leave(Leaving::Close),
                _ => self.events.push(Event::Close),
            },
        }
    }
}
