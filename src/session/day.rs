//! The day on which a lesson is taught: a copy of the lesson, what happens on
//! the day, and a plan in which the others keep their times.

use std::slice;
use std::sync::Arc;

use super::{Document, Event, Leaving, Planned, Session};
use crate::file::format::LessonFile;
use crate::today::{Happening, differences, happens, is_over, not_begun, start_of_day};

/// What is known of the day.
#[derive(Default)]
pub(super) struct Day {
    /// The plan before what happened last, which later plans of the day keep to.
    before: Option<Planned>,
    /// What has changed since then, in sentences.
    changed: Vec<String>,
}

impl Session {
    /// Whether the document is a copy for the day.
    pub fn is_today(&self) -> bool {
        self.doc.as_ref().is_some_and(|d| d.file().today.is_some())
    }

    /// What has changed by what happened last, in sentences.
    pub fn changed_today(&self) -> &[String] {
        &self.day.changed
    }

    /// Shows the day. A document that is not yet a copy for the day gives way to
    /// such a copy, after a question if changes would be lost.
    pub(super) fn show_today(&mut self) {
        if self.is_today() {
            self.events.push(Event::ShowDay);
        } else if self.doc.as_ref().is_some_and(|d| d.lesson().is_some()) {
            self.leave(Leaving::Today);
        }
    }

    /// The lesson on screen becomes a copy for the day, with the same plan.
    pub(super) fn begin_day(&mut self) {
        let Some(doc) = &self.doc else { return };
        let plan = self.at_hand().map(|(_, _, plan)| Arc::clone(plan));
        let file = start_of_day(doc.file());
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        let mut day = Document::new(file, id, past);
        if let Some(plan) = plan {
            day.has_plan(plan);
        }
        self.show_document(day, told);
        self.events.push(Event::ShowDay);
    }

    /// Something happens on the day.
    pub(super) fn happened(&mut self, what: &Happening) {
        let at = self.clock.time_of_that_day();
        let today = self.clock.today().to_string();
        let Some(doc) = &mut self.doc else { return };
        // Somebody may look at another day's lesson, or at this one's in the evening before.
        let now = at.filter(|_| doc.file().date.as_ref() == Some(&today));
        let begun = match (&self.planned, now) {
            (Some(is), Some(now)) if !is_over(&is.lesson, now) => {
                not_begun((&is.lesson, &is.plan), slice::from_ref(what), now)
            }
            _ => Ok(()),
        };
        let made = begun.and_then(|()| happens(doc.file(), what, at, &doc.past));
        let made: Result<LessonFile, _> = made.map_err(|finding| vec![finding]);
        match made.and_then(|file| doc.change_to(what.label(), file)) {
            Ok(()) => self.changed(&what.label()),
            Err(findings) => {
                let why = findings.first().map(|f| match f.hint.as_str() {
                    "" => f.message.clone(),
                    hint => format!("{}: {hint}", f.message),
                });
                self.tell(format!("Not done: {}.", why.unwrap_or_default()));
            }
        }
    }

    /// What changes from here on is told, if the document is a copy for the day.
    pub(super) fn begin_to_tell_the_day(&mut self) {
        if self.is_today() {
            self.day = Day { before: self.planned.clone(), changed: Vec::new() };
        }
    }

    /// A plan of the day has come.
    pub(super) fn heard_of_day(&mut self) {
        if let (Some(was), Some(is)) = (&self.day.before, &self.planned) {
            let (before, after) = ((&*was.lesson, &*was.plan), (&*is.lesson, &*is.plan));
            self.day.changed = differences(before, after).sentences();
        }
    }
}
