//! A department's week at work beside the lesson: its file, what is told of it, and
//! changes that are tried before they are kept.
//!
//! A week is open beside a lesson, not instead of it: opening one loses nothing of
//! the other, and going from one to the other closes neither.

mod begin;
mod document;
mod lessons;
mod needed;
mod planning;
mod saving;
mod tried;

use std::path::{Path, PathBuf};
use std::sync::Arc;

pub use document::WeekDocument;
pub use lessons::OfWeek;
pub use needed::WeekNeeds;
pub use tried::Tried;

pub(super) use needed::{ToNeed, work_out};
pub(super) use planning::{ToPlanWeek, plan};

use super::{Command, Event, Session};
use crate::file::{LARGEST_FILE, is_week};
use crate::week::{Change, EntryNo, Memory};

/// Something to do to a week.
#[derive(Debug, Clone, PartialEq)]
pub enum WeekCommand {
    /// Go to the week that is open.
    Show,
    /// Go from the week to the lesson that is open.
    Leave,
    /// Open the file of a lesson of the week.
    OpenLesson(EntryNo),
    /// Begin a week in a file that is not there yet.
    Begin(PathBuf),
    /// Begin the week after this one in a file that is not there yet.
    BeginAfter(PathBuf),
    /// Put the lessons of files into the week.
    Add(Vec<PathBuf>),
    /// Try a change: what comes of it is shown, nothing is changed.
    Try(Change),
    /// Keep the change that is tried, as one step of undo.
    Keep,
    /// Leave the change that is tried.
    Drop,
    /// Change the week at once, as one step of undo.
    Make(Change),
    /// The lesson on screen takes over what its week says of its bells, its room and
    /// what it shares.
    TakeOver,
}

impl WeekCommand {
    /// What a button for it says.
    pub const fn label(&self) -> &'static str {
        match self {
            Self::Show => "Week",
            Self::Leave => "To the lesson",
            Self::OpenLesson(_) => "Open the lesson",
            Self::Begin(_) => "Begin a week",
            Self::BeginAfter(_) => "Begin the week after",
            Self::Add(_) => "Put it in",
            Self::Make(Change::Remove(_)) => "Take it out of the week",
            Self::Try(Change::Works(_)) | Self::Make(Change::Works(_)) => "Works again",
            Self::Try(_) => "See it on the picture",
            Self::Keep => "Keep",
            Self::Drop => "Leave it as it is",
            Self::Make(Change::Hold(_, true)) => "Hold",
            Self::Make(Change::Hold(_, false)) => "Let go",
            Self::Make(_) => "Change the week",
            Self::TakeOver => "Take over from the week",
        }
    }
}

fn words_not_kept(why: &str) -> String {
    format!("What is changed in this week is not kept until it is saved: {why}.")
}

/// The week that is open, and how it is worked on.
#[derive(Default)]
pub(super) struct WeekAtWork {
    open: Option<WeekDocument>,
    /// It is what is shown, not the lesson.
    shown: bool,
    /// What was planned so far.
    memory: Memory,
    /// The lesson that was opened from the week.
    of_week: Option<OfWeek>,
    /// What its lessons need.
    needed: needed::Needed,
}

impl Session {
    /// The week that is open, if one is.
    pub fn week(&self) -> Option<&WeekDocument> {
        self.weeks.open.as_ref()
    }

    /// The week, if it is what is shown, not the lesson.
    pub fn week_on_screen(&self) -> Option<&WeekDocument> {
        self.weeks.open.as_ref().filter(|_| self.weeks.shown && self.broken.is_none())
    }

    /// The text of a file, if it is that of a week.
    fn text_of_week(&self, path: &Path) -> Option<String> {
        let disk = &self.keeping.safe.disk;
        let bytes = disk.read(&disk.resolved(path), LARGEST_FILE).ok()?;
        Some(String::from_utf8_lossy(&bytes).into_owned()).filter(|text| is_week(text))
    }

    /// Whether a file is that of a week.
    pub(super) fn is_week(&self, path: &Path) -> bool {
        self.text_of_week(path).is_some()
    }

    /// Opens a file if it is that of a week; whether it is.
    pub(super) fn open_if_week(&mut self, path: &Path) -> bool {
        let Some(text) = self.text_of_week(path) else { return false };
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        let disk = Arc::clone(&self.keeping.safe.disk);
        match WeekDocument::open(path, &text, id, (past, &disk)) {
            Ok(week) => {
                let left = week.has_left().then(|| {
                    "Changes of this week that were not saved are here again; Undo takes them back."
                        .to_owned()
                });
                let not_kept = week.not_kept().map(words_not_kept);
                self.weeks = WeekAtWork { open: Some(week), shown: true, ..WeekAtWork::default() };
                self.broken = None;
                self.message = told;
                self.tell_more(left.into_iter().chain(not_kept));
                self.events.push(Event::AnotherWeek);
                self.events.push(Event::FileUsed(path.to_path_buf()));
                self.plan_week();
            }
            Err(findings) => self.show_broken(path, &text, findings),
        }
        true
    }

    /// Keeps what of the week is not saved.
    fn keep_week_copy(&mut self) {
        let why = self.weeks.open.as_mut().and_then(WeekDocument::keep_copy);
        if let Some(why) = why {
            self.tell(words_not_kept(&why));
        }
    }

    /// What is done while the week is what is shown; a command that is none of the
    /// week's comes back, one that would change a lesson out of sight does not.
    pub(super) fn apply_to_week(&mut self, command: Command) -> Option<Command> {
        if self.week_on_screen().is_none() {
            return Some(command);
        }
        match command {
            Command::Save => self.save_week(),
            Command::SaveAs(path) | Command::SaveAsOver(path, _) => self.save_week_as(&path),
            Command::Undo => self.undo_in_week(),
            Command::Redo => self.redo_in_week(),
            Command::Stop => {
                self.studies.week.stop();
                self.studies.week_tried.stop();
            }
            Command::Keep => self.keep_tried(),
            Command::Drop => self.drop_tried(),
            Command::Open(_)
            | Command::ReadRecipe(..)
            | Command::OpenDemo
            | Command::New
            | Command::PutRight(_)
            | Command::BackToLesson
            | Command::PrintSheets(..)
            | Command::Week(_)
            | Command::Dismiss => return Some(command),
            _ => {}
        }
        None
    }

    pub(super) fn week_command(&mut self, command: &WeekCommand) {
        match command {
            WeekCommand::Show => self.show_week(),
            WeekCommand::Leave => self.leave_week(),
            WeekCommand::OpenLesson(entry) => self.open_lesson_of_week(*entry),
            WeekCommand::Begin(path) => self.begin_week(path),
            WeekCommand::BeginAfter(path) => self.begin_week_after(path),
            WeekCommand::Add(paths) => self.add_to_week(paths),
            WeekCommand::Try(change) => self.try_in_week(change),
            WeekCommand::Keep => self.keep_tried(),
            WeekCommand::Drop => self.drop_tried(),
            WeekCommand::Make(change) => self.make_in_week(change),
            WeekCommand::TakeOver => self.take_over(),
        }
    }

    /// Goes to the week; what its lessons' files say by now is read.
    fn show_week(&mut self) {
        let Some(week) = &mut self.weeks.open else { return };
        self.broken = None;
        self.weeks.shown = true;
        // What was told of the lesson is not of the week.
        self.message = None;
        if week.read_lessons_again() {
            self.plan_week();
        }
    }

    /// Goes to the lesson that is open, if one is.
    pub fn leave_week(&mut self) {
        if self.doc.is_some() {
            self.weeks.shown = false;
        }
    }

    /// The lesson is what is shown from now on.
    pub(super) fn lesson_is_shown(&mut self) {
        self.weeks.shown = false;
    }
}
