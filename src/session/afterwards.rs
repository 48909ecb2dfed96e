//! The day once its last bell has gone: how it went against its plan, what is answered,
//! and what of it is noted for the next lesson.

use std::sync::Arc;

use super::{Revision, Session, first_of};
use crate::afterwards::{
    Answers, Asked, ClassTook, Learned, Observed, Part, class_took, is_noted, note, observed,
    taught,
};
use crate::check::CheckedPlan;
use crate::file::data_folders::minutes_beside;
use crate::file::past_minutes::load_minutes;
use crate::model::Lesson;
use crate::today::is_over;
use crate::units::ClockTime;

/// Something that is answered once the lesson is over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// When groups set to work.
    SetToWork(ClockTime),
    /// The last group that was ready, by its name, and when.
    Last(String, ClockTime),
    /// What held groups up.
    Held(String),
    /// A line for next time.
    Next(String),
}

/// A day that is over.
#[derive(Debug, Clone)]
pub struct DayOver {
    /// The lesson and the plan that groups were told.
    pub told: (Arc<Lesson>, Arc<CheckedPlan>),
    /// What its facts say.
    pub observed: Observed,
    /// What is asked.
    pub asked: Asked,
    /// What parts teach, with all lessons of the class that are noted.
    pub learned: Vec<(Part, Learned)>,
    /// The user's tables say it already.
    pub noted: bool,
    revision: Revision,
}

impl DayOver {
    /// Whether anything was told of it, in the lesson or after it.
    pub fn is_told(&self) -> bool {
        let today = self.told.0.today.as_ref();
        today.is_some_and(|today| !today.facts.is_empty() || today.afterwards.is_some())
    }
}

impl Session {
    /// The day on screen, if it is over.
    pub fn day_over(&self) -> Option<&DayOver> {
        self.day_over.as_ref()
    }

    /// What the lesson's class took for its parts, as far as it is noted.
    pub fn class_took(&self) -> &[ClassTook] {
        self.class_took.as_ref().map_or(&[], |(_, took)| took)
    }

    /// Reads the user's table of minutes anew.
    pub(super) fn read_past_minutes(&mut self) {
        let path = self.outcomes.as_deref().map(minutes_beside);
        self.past_minutes = path.map_or(Vec::new(), |path| load_minutes(&path).0);
        self.class_took = None;
    }

    /// Looks at what the class took, again when the plan is another.
    pub(super) fn look_at_the_class(&mut self) {
        let Some(planned) = &self.planned else { return };
        let is_same = |(of, _): &(Revision, Vec<ClassTook>)| *of == planned.revision;
        if !self.class_took.as_ref().is_some_and(is_same) {
            let took = match self.past_minutes.as_slice() {
                [] => Vec::new(),
                past => class_took(&planned.lesson, &planned.plan, past),
            };
            self.class_took = Some((planned.revision, took));
        }
    }

    /// Whether the last bell of the copy on screen has gone.
    fn is_day_over(&self, lesson: &Lesson) -> bool {
        let gone = lesson.date.is_some_and(|date| date < self.clock.today());
        self.is_today() && (gone || self.time_of_lesson().is_some_and(|at| is_over(lesson, at)))
    }

    /// Looks at how the day went, again when more of it is told.
    pub(super) fn look_at_the_day_over(&mut self) {
        let over = self.planned.as_ref().filter(|planned| self.is_day_over(&planned.lesson));
        let Some(planned) = over else {
            self.day_over = None;
            return;
        };
        let is_same = |over: &DayOver| over.revision == planned.revision;
        if self.day_over.as_ref().is_some_and(is_same) {
            return;
        }
        let (lesson, plan) = (Arc::clone(&planned.lesson), Arc::clone(&planned.plan));
        let date = lesson.date.unwrap_or_else(|| self.clock.today());
        let observed = observed(&lesson, &plan, date);
        let past = self.doc.as_ref().map_or(&[][..], |doc| &doc.past);
        self.day_over = Some(DayOver {
            asked: Asked::of((&lesson, &plan), &observed, past),
            learned: taught(&observed, &self.past_minutes),
            noted: self.outcomes.as_deref().is_some_and(|path| is_noted(path, &observed)),
            revision: planned.revision,
            observed,
            told: (lesson, plan),
        });
    }

    /// Something is answered, as one step of undo; it is in the copy's file before
    /// anything else is done.
    pub(super) fn answer(&mut self, answer: &Answer) {
        let Some(doc) = &mut self.doc else { return };
        let past = Arc::clone(&doc.past);
        let none = Answers { past: &past, ..Answers::default() };
        let answers = match answer {
            Answer::SetToWork(at) => Answers { set_to_work: Some(*at), ..none },
            Answer::Last(group, at) => Answers { last: Some((group, *at)), ..none },
            Answer::Held(words) => Answers { held: Some(words), ..none },
            Answer::Next(words) => Answers { next: Some(words), ..none },
        };
        match doc.apply(&answers) {
            Ok(()) => self.more_is_told(),
            Err(findings) => self.tell(format!("Not answered: {}", first_of(&findings))),
        }
    }

    /// Notes in the user's tables what the day took. The day itself goes by what was
    /// known before it.
    pub(super) fn note_the_day(&mut self) {
        let Some(over) = &self.day_over else { return };
        let Some(path) = self.outcomes.clone() else {
            self.tell("There is no folder here to keep minutes in.");
            return;
        };
        match note(&path, &over.observed) {
            Ok(()) => self.tell(format!(
                "Noted in {} and {}.",
                minutes_beside(&path).display(),
                path.display()
            )),
            Err((path, error)) => self.tell(format!("{}: not noted: {error}", path.display())),
        }
        self.look_at_the_day_anew();
    }

    fn look_at_the_day_anew(&mut self) {
        self.read_past_minutes();
        self.day_over = None;
        self.look_at_the_day_over();
    }
}
