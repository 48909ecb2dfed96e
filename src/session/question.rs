//! Questions that must be answered before something is written over or lost.

use std::path::PathBuf;

use crate::file::open_lesson::Over;
use crate::setup::again::Pupils;

/// What would take the place of the lesson on screen.
#[derive(Debug, Clone, PartialEq)]
pub enum Leaving {
    /// Another file.
    Open(PathBuf),
    /// The sample lesson.
    Demo,
    /// A new lesson.
    New,
    /// The same lesson for another day, for the same pupils or others.
    Again(Pupils),
    /// A copy for the day.
    Today,
    /// Nothing: the program ends.
    Close,
}

/// What would lose changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Loses {
    /// The lesson.
    #[default]
    Lesson,
    /// The week.
    Week,
}

/// A question before something is written.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// Another program has changed the lesson's own file.
    ChangedOnDisk,
    /// Something is there already: the file, how it is put, and how much would
    /// be written over.
    Exists(PathBuf, String, Over),
    /// What is said of the class goes: what that is.
    Clear(Vec<String>),
    /// The lesson this is the day of was found in another file: which, and how
    /// that is put.
    Found(PathBuf, String),
    /// A file has several recipes, of these names: which is to be read.
    WhichRecipe(PathBuf, Vec<String>),
    /// A lesson is taught again: whether to the pupils of whom this is said.
    Again(Vec<String>),
}

/// How a question before the lesson is left was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsaved {
    /// Its changes are saved first.
    Save,
    /// Its changes are lost.
    Lose,
    /// It is not left.
    Stay,
}

/// What is asked and what hangs on the answer.
#[derive(Debug, Default)]
pub struct Questions {
    /// Where to, once it is known that changes may be lost.
    pub(super) leaving: Option<Leaving>,
    /// What would lose them.
    loses: Loses,
    /// What must be known before something is written.
    pub(super) before_writing: Option<Question>,
    /// Where to, once the lesson is saved.
    pub(super) then: Option<Leaving>,
}

impl Questions {
    pub(super) fn ask_before(&mut self, to: Leaving, loses: Loses) {
        (self.leaving, self.loses) = (Some(to), loses);
    }
}

impl super::Session {
    /// Where to, if changes would be lost on the way.
    pub fn leaving(&self) -> Option<&Leaving> {
        self.questions.leaving.as_ref()
    }

    /// What would lose its changes on the way.
    pub fn loses(&self) -> Loses {
        self.questions.loses
    }

    /// What must be known before something is written.
    pub fn question(&self) -> Option<&Question> {
        self.questions.before_writing.as_ref()
    }

    /// Answers whether changes may be lost.
    pub fn answer_leaving(&mut self, answer: Unsaved) {
        let Some(to) = self.questions.leaving.take() else { return };
        match (answer, self.questions.loses) {
            (Unsaved::Save, loses) => {
                self.questions.then = Some(to);
                match loses {
                    Loses::Lesson => {
                        // Whatever is asked about it is asked where it is seen.
                        self.leave_week();
                        self.save(Over::Nothing);
                    }
                    Loses::Week => self.save_week(),
                }
            }
            (Unsaved::Lose, Loses::Lesson) => self.go_without_saving(&to),
            (Unsaved::Lose, Loses::Week) => {
                self.lose_week_changes();
                self.go(&to);
            }
            (Unsaved::Stay, _) => {}
        }
    }

    /// What had to be known before something was written is answered. What was
    /// asked for before that follows only if `goes_on`.
    pub fn answered(&mut self, goes_on: bool) {
        self.questions.before_writing = None;
        if !goes_on {
            self.questions.then = None;
        }
    }

    /// Whoever was asked for a path gave none: nothing is left.
    pub fn no_path_given(&mut self) {
        self.questions.then = None;
    }

    /// Wants to end the program; says whether it may, now.
    pub fn may_close(&mut self) -> bool {
        let loses = self.would_lose(&Leaving::Close);
        if let Some(loses) = loses {
            self.questions.ask_before(Leaving::Close, loses);
        }
        loses.is_none()
    }
}
