//! Lessons begun from nothing, or from the one on screen.

use super::{Document, Event, Leaving, Question, Session};
use crate::file::format::LessonFile;
use crate::file::own_words;
use crate::setup::again::{Pupils, again, said_of_pupils};
use crate::setup::borrowed::give_back_all;
use crate::setup::starter;
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

    /// Asks whom the lesson is taught to again, where something is said of its
    /// pupils.
    pub(super) fn ask_whom_again(&mut self) {
        let Some(doc) = &self.doc else { return };
        let said = said_of_pupils(doc.file());
        if said.is_empty() {
            self.leave(Leaving::Again(Pupils::Same));
        } else {
            self.questions.before_writing = Some(Question::Again(said));
        }
    }

    /// The lesson on screen for another day, as a lesson of its own.
    pub(super) fn lesson_again(&mut self, pupils: Pupils) {
        let Some(doc) = &self.doc else { return };
        let file = again(doc.file(), pupils, self.today());
        let went_back = give_back_all(&mut doc.file().clone());
        self.take_file(file, Event::SetUpAgain);
        if pupils == Pupils::Others {
            let ask = "Of the other class nothing is known yet: name it here, and ask about its \
                       needs, its pace and who is kept apart.";
            self.tell_more([ask.to_owned()]);
        }
        if !went_back.is_empty() {
            self.tell_more([format!(
                "Borrowed for that lesson only, and gone back: {}.",
                went_back.join(", ")
            )]);
        }
    }

    fn take_file(&mut self, file: LessonFile, event: Event) {
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        self.show_document(Document::new(file, id, past), told);
        self.events.push(event);
    }
}
