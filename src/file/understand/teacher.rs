//! The teacher's own notes.

use super::Builder;
use super::findings::quoted;
use crate::finding::Path;
use crate::model::{Peg, TeacherNote};

/// Nobody keeps more of them in mind.
const MOST_NOTES: usize = 200;
/// The longest of their words, in characters.
const LONGEST: usize = 500;

impl Builder<'_> {
    /// Notes, once all they may hang on is known. One that hangs on nothing is no
    /// fault of the lesson.
    pub(super) fn teacher(&mut self) {
        let list = Path::root().field("teacher");
        if !self.findings.length(&list, "notes", self.file.teacher.len(), MOST_NOTES) {
            return;
        }
        for (i, shape) in self.file.teacher.iter().enumerate() {
            let path = list.index(i);
            for (field, words) in [("at", &shape.at), ("say", &shape.say), ("do", &shape.r#do)] {
                if words.chars().count() > LONGEST {
                    let message = format!("this note is over {LONGEST} characters long");
                    self.findings.error("long-name", &path.field(field), message, "shorten it");
                }
            }
            let peg = Peg::read(&self.parts, &shape.at);
            // With a fault elsewhere, what it hangs on may only seem to be gone.
            if peg.is_none() && !self.findings.any_error() {
                let message = format!("the note at {} belongs nowhere now", quoted(&shape.at));
                let hint = "hang it on a bell (`\"end bell\"`), on a step of the class \
                            (`\"demo\"`), on an oven (`\"load Oven 2\"`) or on a group's step \
                            (`\"mix Unit 3\"`), each by its name";
                self.findings.warning("note-nowhere", &path.field("at"), message, hint);
            }
            let (at, say, own) = (shape.at.clone(), shape.say.clone(), shape.r#do.clone());
            self.parts.teacher_notes.push(TeacherNote { at, peg, say, own });
        }
    }
}
