//! Everything the window can be told to do: one list for buttons, keys and
//! tests.

use std::path::PathBuf;

use eframe::egui::{Key, KeyboardShortcut, Modifiers};

use super::hints::Hint;
use super::in_place::InPlace;
use super::moving::Place;
use super::pages::Page;
use super::projector::Follows;
use super::shelves::ToKeep;
use super::state::Selection;
use crate::edit::Edit;
use crate::file::own_library::Shelf;
use crate::finding::Path;
use crate::hand::{Held, Spot, Thing};
use crate::model::{Lock, PastBake};
use crate::speech::English;
use crate::today::Happening;
use crate::view::board::BarId;
use crate::view::help::Topic;

/// Something to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Ask for a file to open.
    AskOpen,
    /// Open a file.
    Open(PathBuf),
    /// Open the demo lesson.
    OpenDemo,
    /// Save to the lesson's own file, or ask where.
    Save,
    /// Save to the lesson's own file, whatever another program wrote to it.
    SaveOver,
    /// Ask for a file to save to.
    AskSaveAs,
    /// Save to a file that is not there yet.
    SaveAs(PathBuf),
    /// Save to a file that may be there; if `true`, even over unsaved changes
    /// kept beside it.
    SaveAsOver(PathBuf, bool),
    /// Take what another program wrote to the lesson's file.
    ReadAgain,
    /// Ask whether to clear the class.
    ClearClass,
    /// Clear the class.
    ClearClassNow,
    /// Begin a new lesson.
    New,
    /// The lesson on screen for another day.
    Again,
    /// The lesson as it goes on the day: a copy of its own.
    Today,
    /// Something happens on the day.
    Happened(Happening),
    /// Show a page of setting up; `None` goes back to the plan.
    SetUp(Option<Page>),
    /// Go to the field that a finding is about.
    GoTo(Path),
    /// A field was left: what is typed next is another change.
    Typed,
    /// Keep a part of the lesson in the user's own library.
    KeepInLibrary(ToKeep),
    /// Remove an entry of the user's own library.
    RemoveFromLibrary(Shelf, String),
    /// What is typed in a field cannot be read: it holds what it held before.
    Untype(Path),
    /// Put a broken file right in the window.
    PutRight(PathBuf),
    /// Leave the findings of a broken file.
    BackToLesson,
    /// Show a finding's place in the text.
    ShowFinding(usize),
    /// Change the lesson.
    Edit(Edit),
    /// Note what a bake really took.
    Note(PastBake),
    /// Take hold of things of the plan, with the mouse or not.
    TakeUp(Vec<Thing>, bool),
    /// Carry what is taken hold of: by so many minutes, to an oven and shelf.
    CarryTo(i32, Option<Place>),
    /// Carry things, taking hold of them first: by so many minutes and shelves
    /// from where they are carried.
    Carry(Vec<Thing>, i32, i32),
    /// Put down what is carried.
    SetDown,
    /// Leave what is carried where it was.
    PutBack,
    /// Put things somewhere.
    Put(Vec<(Thing, Spot)>),
    /// Put a thing so many minutes and shelves further on.
    PutBy(Thing, i32, i32),
    /// Hold things where they are, or let go of them.
    Hold(Vec<Held>, bool),
    /// Let go of a lock.
    LetGo(Lock),
    /// Plan all anew but what is held.
    PlanAnew,
    /// Select something beside what is selected, or no longer.
    Mark(Thing),
    /// Edit something in its place; `None` leaves it.
    InPlace(Option<InPlace>),
    /// What was typed in its place.
    TypedInPlace(String),
    /// Take a change back.
    Undo,
    /// Make it again.
    Redo,
    /// Stop looking for better plans and for changes.
    Stop,
    /// Show what a change would come to, by its words; `None` puts away
    /// whatever is laid over the board.
    Ghost(Option<String>),
    /// Give a change's chip the keyboard.
    FocusChip(String),
    /// Keep the change that is shown.
    Keep,
    /// Drop the change that is shown from those offered.
    Drop,
    /// Lay the plan before the last change over the board, or not.
    ToggleBefore,
    /// Show the changes along the bottom, or only their heading.
    ToggleChanges,
    /// Show a card.
    Select(Selection),
    /// Give a bar the keyboard.
    Focus(BarId),
    /// Put the minute line at a minute, or away.
    Minute(Option<i32>),
    /// Move the minute line.
    StepMinute(i32),
    /// Show this stretch of time; all of it if `None`.
    Show(Option<(f32, f32)>),
    /// Show less or more time: factor on the stretch.
    Zoom(f32),
    /// Board or list.
    ToggleList,
    /// Show the class view, or close it.
    ClassView,
    /// The class view follows the clock or the minute line.
    ClassViewFollows(Follows),
    /// Light or dark.
    ToggleTheme,
    /// Larger or smaller text, in hundredths.
    Text(i32),
    /// British, Irish or US words, units and allergen list.
    English(English),
    /// High contrast, or not.
    ToggleContrast,
    /// Nothing moves by itself, or bars glide.
    ToggleMotion,
    /// Put a message away.
    Dismiss,
    /// Show a topic of the help; `None` shows the last one read, or leaves the
    /// help.
    Help(Option<Topic>),
    /// Show the keys over everything, or put them away.
    Shortcuts,
    /// Put a hint of the first start away for good; all of them if `None`.
    PutAwayHint(Option<Hint>),
    /// Show the hints of the first start again.
    ShowHints,
}

const CTRL: Modifiers = Modifiers::COMMAND;
const NONE: Modifiers = Modifiers::NONE;

/// Commands with keys of their own. Those without a modifier that write are
/// heeded only while no field is being typed in.
pub const KEYS: &[(Modifiers, Key, Command)] = &[
    (CTRL, Key::N, Command::New),
    (CTRL, Key::R, Command::Again),
    (CTRL, Key::T, Command::Today),
    (CTRL, Key::U, Command::SetUp(Some(Page::Start))),
    (CTRL, Key::O, Command::AskOpen),
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S, Command::AskSaveAs),
    (CTRL, Key::S, Command::Save),
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z, Command::Redo),
    (CTRL, Key::Z, Command::Undo),
    (CTRL, Key::Y, Command::Redo),
    (CTRL, Key::L, Command::ToggleList),
    (CTRL, Key::J, Command::ClassView),
    (CTRL, Key::D, Command::ToggleTheme),
    (CTRL, Key::ArrowLeft, Command::StepMinute(-1)),
    (CTRL, Key::ArrowRight, Command::StepMinute(1)),
    (CTRL, Key::M, Command::Minute(None)),
    (CTRL, Key::Plus, Command::Text(10)),
    (CTRL, Key::Equals, Command::Text(10)),
    (CTRL, Key::Minus, Command::Text(-10)),
    (CTRL, Key::Period, Command::Stop),
    (CTRL, Key::K, Command::Keep),
    (CTRL, Key::B, Command::ToggleBefore),
    (CTRL, Key::E, Command::ToggleChanges),
    (NONE, Key::Plus, Command::Zoom(0.8)),
    (NONE, Key::Minus, Command::Zoom(1.25)),
    (NONE, Key::Num0, Command::Show(None)),
    (NONE, Key::F1, Command::Help(None)),
    (CTRL, Key::Slash, Command::Shortcuts),
    (NONE, Key::Questionmark, Command::Shortcuts),
];

impl Command {
    /// What a button for it says.
    pub fn label(&self) -> &'static str {
        match self {
            Command::AskOpen | Command::Open(_) => "Open…",
            Command::OpenDemo => "Demo lesson",
            Command::Save | Command::SaveAs(_) => "Save",
            Command::SaveOver | Command::SaveAsOver(..) => "Save over it",
            Command::AskSaveAs => "Save as…",
            Command::ReadAgain => "Read it again",
            Command::ClearClass => "Clear this class…",
            Command::ClearClassNow => "Clear this class",
            Command::New => "New",
            Command::Again => "Teach it again",
            Command::Today => "Today",
            Command::Happened(_) => "It happened",
            Command::SetUp(_) => "Set up",
            Command::GoTo(_) => "Go to",
            Command::Typed | Command::Untype(_) => "Enter",
            Command::KeepInLibrary(_) => "Keep in my library",
            Command::RemoveFromLibrary(..) => "Remove from my library",
            Command::PutRight(_) => "Put it right here",
            Command::BackToLesson => "Back to the last good lesson",
            Command::ShowFinding(_) => "Show in the text",
            Command::Edit(_) => "Change",
            Command::Note(_) => "Note this bake",
            Command::TakeUp(..) | Command::Carry(..) | Command::CarryTo(..) => "Move",
            Command::SetDown => "Put it here",
            Command::PutBack => "Leave it where it was",
            Command::Put(_) | Command::PutBy(..) => "Move",
            Command::Hold(_, true) => "Hold",
            Command::Hold(_, false) | Command::LetGo(_) => "Let go",
            Command::PlanAnew => "Plan the rest anew",
            Command::Mark(_) => "Select beside",
            Command::InPlace(_) | Command::TypedInPlace(_) => "Edit here",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::Stop => "Stop looking",
            Command::Ghost(_) => "See it on the board",
            Command::FocusChip(_) => "Go to",
            Command::Keep => "Keep",
            Command::Drop => "Drop",
            Command::ToggleBefore => "Plan before",
            Command::ToggleChanges => "Changes",
            Command::Select(_) => "Show",
            Command::Focus(_) => "Go to",
            Command::Minute(_) => "Minute line",
            Command::StepMinute(_) => "Step a minute",
            Command::Show(_) => "Whole lesson",
            Command::Zoom(_) => "Zoom",
            Command::ToggleList => "As a list",
            Command::ClassView => "Show it to the class",
            Command::ClassViewFollows(Follows::Clock) => "It follows the clock",
            Command::ClassViewFollows(Follows::Line) => "It follows the minute line",
            Command::ToggleTheme => "Light or dark",
            Command::Text(_) => "Text size",
            Command::English(english) => english.label(),
            Command::ToggleContrast => "High contrast",
            Command::ToggleMotion => "Reduced motion",
            Command::Dismiss => "Close",
            Command::Help(_) => "Help",
            Command::Shortcuts => "Keys",
            Command::PutAwayHint(Some(_)) => "Put away",
            Command::PutAwayHint(None) => "Put all away",
            Command::ShowHints => "Show the hints of the first start again",
        }
    }

    /// Its keys, for tooltips.
    pub fn keys(&self) -> Option<KeyboardShortcut> {
        KEYS.iter()
            .find(|(_, _, command)| command == self)
            .map(|(modifiers, key, _)| KeyboardShortcut::new(*modifiers, *key))
    }
}
