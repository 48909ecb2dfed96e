//! The teacher's own notes, as changes of the lesson's file.

use crate::edit::FileChange;
use crate::file::format::{LessonFile, TeacherNoteShape};
use crate::finding::Finding;

/// A change of the teacher's notes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoteChange {
    /// A note comes to the others.
    Add(TeacherNoteShape),
    /// A note says something else, or hangs elsewhere.
    Change {
        /// Which, in the order of the file.
        number: usize,
        /// What it is then.
        to: TeacherNoteShape,
    },
    /// A note goes.
    Drop {
        /// Which, in the order of the file.
        number: usize,
        /// What it hangs on.
        at: String,
    },
}

impl FileChange for NoteChange {
    fn label(&self) -> String {
        match self {
            NoteChange::Add(note) => format!("a note at {}", note.at),
            NoteChange::Change { to, .. } => format!("the note at {}", to.at),
            NoteChange::Drop { at, .. } => format!("no note at {at}"),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        match self {
            NoteChange::Add(note) => file.teacher.push(note.clone()),
            NoteChange::Change { number, to } => {
                let note = file.teacher.get_mut(*number).ok_or_else(|| self.no_such_entry())?;
                note.clone_from(to);
            }
            NoteChange::Drop { number, at } => {
                let is_it = file.teacher.get(*number).is_some_and(|note| note.at == *at);
                if !is_it {
                    return Err(self.no_such_entry());
                }
                file.teacher.remove(*number);
            }
        }
        Ok(())
    }
}
