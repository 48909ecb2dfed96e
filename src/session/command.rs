//! Everything that can be done to a lesson: one list for the window, keys and
//! tests, playable without a window.

use std::path::PathBuf;

use super::afterwards::Answer;
use super::carrying::Place;
use super::library::ToKeep;
use super::odds::ToldWith;
use super::slipping::Thrown;
use super::week::WeekCommand;
use crate::edit::Edit;
use crate::file::own_library::LibraryShelf;
use crate::finding::Path;
use crate::hand::{Held, Spot, Thing};
use crate::model::{FactKind, GroupId, Lock, OvenId, PastBake};
use crate::papers::Part;
use crate::setup::again::Pupils;
use crate::today::Happening;
use crate::units::ClockTime;

/// Something to do to a lesson.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Open a file; a recipe from elsewhere comes into the lesson.
    Open(PathBuf),
    /// Read the recipe of a file into the lesson: the one at that place, where it has
    /// several.
    ReadRecipe(PathBuf, Option<usize>),
    /// Open the sample lesson.
    OpenDemo,
    /// Save to the lesson's own file, or ask where.
    Save,
    /// Save to the lesson's own file, whatever another program wrote to it.
    SaveOver,
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
    /// The same, for the same pupils or others.
    AgainTo(Pupils),
    /// The lesson as it goes on the day: a copy of its own.
    Today,
    /// The lesson this is the day of.
    ToLesson,
    /// This is the day of the lesson in that file.
    UseLesson(PathBuf),
    /// Something happens on the day.
    Happened(Happening),
    /// The lesson is taught on this very day.
    TeachToday,
    /// Something is told of groups at work.
    Tell(Vec<String>, FactKind),
    /// The fact told last is taken back.
    TakeBack,
    /// What can be done about who will not be out, by its words, becomes the plan.
    KeepResponse(String),
    /// Nothing is done about it, until more is told.
    LeaveAsItWas,
    /// What can be done is worked out again.
    RespondAgain,
    /// Something is answered once the lesson is over.
    Answer(Answer),
    /// Note for the class's next lessons what this one took.
    NoteTheDay,
    /// In the rehearsal something goes otherwise at a time.
    ThrowIn(Thrown, ClockTime),
    /// The rehearsal is as planned again.
    TakeSlipOut,
    /// A bell of the lesson goes at this moment: the clock is set to it.
    BellNow,
    /// The clock is the computer's again.
    BellAsComputer,
    /// A field was left: what is typed next is another change.
    Typed,
    /// Keep a part of the lesson in the user's own library.
    KeepInLibrary(ToKeep),
    /// Remove an entry of the user's own library.
    RemoveFromLibrary(LibraryShelf, String),
    /// What is typed in a field cannot be read: it holds what it held before.
    Untype(Path),
    /// Put a broken file right on the pages of setting up.
    PutRight(PathBuf),
    /// Leave the findings of a broken file.
    BackToLesson,
    /// Change the lesson.
    Edit(Edit),
    /// Note what a bake really took.
    Note(PastBake),
    /// Take back what was noted of a bake.
    Unnote(PastBake),
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
    /// Put a thing so that it starts at a time of day, as typed.
    PutAt(Thing, String),
    /// Hold things where they are, or let go of them.
    Hold(Vec<Held>, bool),
    /// Let go of a lock.
    LetGo(Lock),
    /// Plan all anew but what is held.
    PlanAnew,
    /// Call a group by another name.
    RenameGroup(GroupId, String),
    /// Call an oven by another name.
    RenameOven(OvenId, String),
    /// Take a change back.
    Undo,
    /// Make it again.
    Redo,
    /// See what each answer to who must be where while ovens are open comes to.
    CompareAtOvens,
    /// Show the odds of the plan, or not.
    ToggleOdds,
    /// Tell odds with another spread.
    OddsWith(ToldWith),
    /// Look for a plan with better odds.
    BetterOdds,
    /// Stop looking for better plans and for changes.
    Stop,
    /// Print sheets of these parts to a file; if `true`, those too that say the
    /// same as before.
    PrintSheets(PathBuf, Vec<Part>, bool),
    /// Show what a change would come to, by its words; `None` puts away
    /// whatever is laid over the board.
    Ghost(Option<String>),
    /// Show what choices on a group's card would come to, before they are made.
    TryChoice(Vec<Edit>),
    /// Keep the change that is shown.
    Keep,
    /// Drop the change that is shown from those offered.
    Drop,
    /// Lay the plan before the last change over the board, or not.
    ToggleBefore,
    /// Put a message away.
    Dismiss,
    /// Do something to the week.
    Week(WeekCommand),
}

impl Command {
    /// What a button for it says.
    pub fn label(&self) -> &'static str {
        match self {
            Command::Open(_) => "Open…",
            Command::ReadRecipe(..) => "Read it in",
            Command::OpenDemo => "Open the sample lesson",
            Command::Save | Command::SaveAs(_) => "Save",
            Command::SaveOver | Command::SaveAsOver(..) => "Save over it",
            Command::ReadAgain => "Read it again",
            Command::ClearClass => "Clear this class…",
            Command::ClearClassNow => "Clear this class",
            Command::New => "New",
            Command::Again => "Teach it again",
            Command::AgainTo(Pupils::Same) => "The same class",
            Command::AgainTo(Pupils::Others) => "Another class",
            Command::Today => "Today",
            Command::ToLesson => "The lesson of this day",
            Command::UseLesson(_) => "Use it",
            Command::Happened(_) => "It happened",
            Command::TeachToday => "Teach it today",
            Command::Tell(..) => "Tell",
            Command::TakeBack | Command::Unnote(_) => "Take it back",
            Command::KeepResponse(_) => "Keep",
            Command::LeaveAsItWas => "Leave it as it was",
            Command::RespondAgain => "Again?",
            Command::Answer(_) => "Answer",
            Command::NoteTheDay => "Note it for next time",
            Command::ThrowIn(..) => "Throw in a slip",
            Command::TakeSlipOut => "As planned again",
            Command::BellNow => "Bell now",
            Command::BellAsComputer => "Computer's clock",
            Command::Typed | Command::Untype(_) => "Enter",
            Command::KeepInLibrary(_) => "Keep in my library",
            Command::RemoveFromLibrary(..) => "Remove from my library",
            Command::PutRight(_) => "Put it right here",
            Command::BackToLesson => "Back to the last good lesson",
            Command::Edit(_) => "Change",
            Command::Note(_) => "Note this bake",
            Command::TakeUp(..) | Command::Carry(..) | Command::CarryTo(..) => "Move",
            Command::SetDown => "Put it here",
            Command::PutBack => "Leave it where it was",
            Command::Put(_) | Command::PutBy(..) | Command::PutAt(..) => "Move",
            Command::Hold(_, true) => "Hold",
            Command::Hold(_, false) | Command::LetGo(_) => "Let go",
            Command::PlanAnew => "Plan the rest anew",
            Command::RenameGroup(..) | Command::RenameOven(..) => "Rename",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::CompareAtOvens => "What each answer comes to",
            Command::ToggleOdds => "Odds",
            Command::OddsWith(_) => "Spread",
            Command::BetterOdds => "What would help these odds",
            Command::Stop => "Stop looking",
            Command::PrintSheets(..) => "Print to a file…",
            Command::Ghost(_) | Command::TryChoice(_) => "See it on the board",
            Command::Keep => "Keep",
            Command::Drop => "Drop",
            Command::ToggleBefore => "Plan before",
            Command::Week(command) => command.label(),
            Command::Dismiss => "Close",
        }
    }
}
