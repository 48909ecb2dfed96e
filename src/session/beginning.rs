//! Lessons begun from nothing, or from the one on screen.

use super::{Document, Event, Session};
use crate::file::format::LessonFile;
use crate::file::own_words;
use crate::setup::{again, starter};
use crate::speech::say_of_library;

impl Session {
    /// A lesson with nothing in it yet.
    pub(super) fn new_lesson(&mut self) {
        match starter::new_lesson() {
            Ok(mut file) => {
                let english = self.library.english();
                let say = &mut |word: &mut String| {
                    *word = say_of_library(word, english).into_owned();
                };
                own_words::lesson(&mut file, say);
                self.take_file(file, Event::SetUpNew);
            }
            Err(error) => self.tell(error.to_string()),
        }
    }

    /// The lesson on screen for another day, as a lesson of its own.
    pub(super) fn lesson_again(&mut self) {
        let Some(doc) = &self.doc else { return };
        let file = again::again(doc.file(), self.today());
        self.take_file(file, Event::SetUpAgain);
    }

    fn take_file(&mut self, file: LessonFile, event: Event) {
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        self.show_document(Document::new(file, id, past), told);
        self.events.push(event);
    }
}
