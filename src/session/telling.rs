//! What is told of groups while they are at work: it is in the copy's file before
//! anything else is done.

use super::{Event, Session, first_of};
use crate::file::open_lesson::Over;
use crate::model::FactKind;
use crate::today::{TakeBack, tell};
use crate::view::words::list;

impl Session {
    /// Something is told of groups, as one step of undo.
    pub(super) fn tell_facts(&mut self, groups: &[String], what: FactKind) {
        let at = self.time_of_lesson();
        let Some((doc, at)) = self.doc.as_mut().zip(at) else {
            self.tell("Nothing can be told: this is not the day of the lesson.");
            return;
        };
        let all = groups.iter().try_fold(doc.file().clone(), |file, group| {
            tell(&file, (group, what), at, &doc.past).map_err(|finding| vec![finding])
        });
        let label = format!("{}: {what}", list(groups));
        match all.and_then(|file| doc.change_to(label, file)) {
            Ok(()) => self.more_is_told(),
            Err(findings) => self.tell(format!("Not told: {}", first_of(&findings))),
        }
    }

    /// The fact told last is taken back.
    pub(super) fn take_back_fact(&mut self) {
        let Some(doc) = &mut self.doc else { return };
        match doc.apply(&TakeBack) {
            Ok(()) => self.more_is_told(),
            Err(findings) => self.tell(first_of(&findings)),
        }
    }

    /// What would be taken back, in words.
    pub fn told_last(&self) -> Option<String> {
        let (who, what) = TakeBack::of(self.doc.as_ref()?.file())?;
        Some(format!("{who}: {what}"))
    }

    /// The log is another; the plan stays, and what changed before is still told.
    pub(super) fn more_is_told(&mut self) {
        let changed = std::mem::take(&mut self.day.changed);
        self.replan();
        self.day.changed = changed;
        self.write_the_day();
    }

    /// What happens in mid-lesson is written as soon as its plan stands.
    pub(super) fn write_the_day_when_planned(&mut self) {
        self.day.unwritten |= self.is_being_taught();
        if self.day.unwritten && !self.studies.plans.is_busy() {
            self.write_the_day();
        }
    }

    /// Writes the copy for the day. One that has no file yet is given one beside its
    /// lesson; that of a lesson without a file is kept where unsaved lessons are.
    fn write_the_day(&mut self) {
        self.day.unwritten = false;
        if !self.is_today() {
            return;
        }
        let has_place = self.lesson_of_day().is_some();
        let own = self.doc.as_ref().and_then(|doc| doc.path.clone());
        let to = own.is_none().then(|| self.likely_path(true, None)).filter(|_| has_place);
        let Some(doc) = &mut self.doc else { return };
        let done = match (&own, &to) {
            (Some(_), _) => doc.save(Over::Nothing),
            (None, Some(to)) => doc.save_as(to, Over::Nothing),
            (None, None) => {
                doc.care().flush();
                return;
            }
        };
        match done {
            Ok(told) => {
                if let Some(words) = told {
                    self.tell(format!("It is written, but {words}."));
                }
                self.events.extend(to.map(Event::FileUsed));
            }
            Err(problem) => self.heard_of_saving(to, Err(problem)),
        }
    }

    /// The lesson on screen is taught on this very day.
    pub(super) fn teach_today(&mut self) {
        let today = self.clock.today().to_string();
        let Some(doc) = &mut self.doc else { return };
        let mut file = doc.file().clone();
        file.date = Some(today);
        match doc.change_to("taught today".to_owned(), file) {
            Ok(()) => self.changed("taught today"),
            Err(findings) => self.tell(format!("Not done: {}", first_of(&findings))),
        }
    }
}
