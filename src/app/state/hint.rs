//! The three hints of the first start.

use serde::{Deserialize, Serialize};

use super::{Command, Place, Selection};
use crate::session::Command as LessonCommand;

/// A hint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hint {
    /// The sentence at the top.
    Sentence,
    /// The board.
    Board,
    /// The way to a lesson of one's own.
    SetUp,
}

impl Hint {
    /// All, in the order in which they are shown.
    pub const ALL: [Hint; 3] = [Hint::Sentence, Hint::Board, Hint::SetUp];

    /// What it says.
    pub fn words(self) -> &'static str {
        match self {
            Hint::Sentence => {
                "This sentence says how the lesson ends. Change something, and it follows."
            }
            Hint::Board => {
                "Time runs between the bells; every group is a row. Choose a bar, or drag one."
            }
            Hint::SetUp => "Set up is where your own class goes in.",
        }
    }

    /// Whether this is what it invites to.
    pub fn is_done_by(self, command: &Command) -> bool {
        match self {
            Hint::Sentence => {
                matches!(command, Command::Lesson(LessonCommand::Edit(_) | LessonCommand::Keep))
            }
            Hint::Board => match command {
                Command::Select(selection) => *selection != Selection::Nothing,
                Command::Lesson(LessonCommand::TakeUp(..) | LessonCommand::Carry(..)) => true,
                Command::Focus(_) => true,
                _ => false,
            },
            Hint::SetUp => {
                let new = Command::Lesson(LessonCommand::New);
                matches!(command, Command::Go(Place::SetUp) | Command::SetUp(_) | Command::GoTo(_))
                    || *command == new
            }
        }
    }
}

/// Whether hints are shown at all.
#[derive(Debug, Clone, Copy, Default)]
pub struct Hinting {
    /// The window remembers which were put away.
    pub wanted: bool,
    /// The sample lesson has been opened, or somebody has asked for them.
    pub on: bool,
}
