//! The day on which a lesson is taught: a copy of the lesson, what happens on
//! the day, and a plan in which the others keep their times.

use std::sync::Arc;

use chrono::Timelike;

use super::care::Leaving;
use super::document::Document;
use super::shell::App;
use super::state::Selection;
use super::worker::{Job, ToReplan};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::Lesson;
use crate::today::{Happening, differences, happens, start_of_day};
use crate::units::ClockTime;

/// A plan with its lesson, which later plans of the day keep to.
type Stands = (Arc<Lesson>, Arc<CheckedPlan>);

/// What is known of the day.
#[derive(Default)]
pub struct Day {
    /// The plan before what happened last.
    before: Option<Stands>,
    /// What has changed since then, in sentences.
    pub changed: Vec<String>,
}

impl App {
    /// Whether the document is a copy for the day.
    pub fn is_today(&self) -> bool {
        self.doc.as_ref().is_some_and(|d| d.file().today.is_some())
    }

    /// What has changed by what happened last, in sentences.
    pub fn changed_today(&self) -> &[String] {
        &self.the_day.changed
    }

    fn stands(&self) -> Option<Stands> {
        let (_, plan) = self.plan.as_ref()?;
        Some((Arc::clone(self.planned.as_ref()?), Arc::clone(plan)))
    }

    /// Shows the day; a lesson that is none yet gets a copy for it.
    pub(super) fn show_today(&mut self) {
        if self.is_today() {
            self.view.page = None;
            self.view.help = None;
            self.view.selection = Selection::Today;
        } else if self.doc.as_ref().is_some_and(|d| d.lesson().is_some()) {
            self.leave(Leaving::Today);
        }
    }

    /// The lesson on screen becomes a copy for the day, with the same plan.
    pub(super) fn begin_day(&mut self) {
        let Some(doc) = &self.doc else { return };
        let on_screen = (self.plan.clone(), self.planned.clone(), self.board.clone());
        let file = start_of_day(doc.file());
        self.revision += 1000;
        let (past, told) = self.past_bakes();
        let doc = Document::new(file, self.revision, past);
        self.show_document(doc, told);
        self.view.selection = Selection::Today;
        (self.plan, self.planned, self.board) = on_screen;
        if let (Some(stands), Some(doc)) = (self.stands(), &mut self.doc) {
            // Answers to what was asked on showing it are none to this.
            doc.revision += 1;
            self.plan_the_day(stands);
        }
    }

    /// Something happens on the day.
    pub(super) fn happened(&mut self, what: &Happening) {
        let now = (self.day.is_none()).then(|| chrono::Local::now().time());
        let at = now.and_then(|t| ClockTime::parse(&format!("{}:{}", t.hour(), t.minute())).ok());
        let Some(doc) = &mut self.doc else { return };
        let made = happens(doc.file(), what, at, &doc.past);
        let made: Result<LessonFile, _> = made.map_err(|finding| vec![finding]);
        match made.and_then(|file| doc.change_to(what.label(), file)) {
            Ok(()) => self.changed(&what.label()),
            Err(findings) => {
                let why = findings.first().map(|f| match f.hint.as_str() {
                    "" => f.message.clone(),
                    hint => format!("{}: {hint}", f.message),
                });
                self.message = Some(format!("Not done: {}.", why.unwrap_or_default()));
            }
        }
    }

    /// Plans the lesson of the day so that what stands is kept where it can
    /// be; whether it is one and there is a plan to keep to.
    pub(super) fn keeps_to_plan(&mut self) -> bool {
        match self.stands() {
            Some(stands) if self.is_today() => {
                self.plan_the_day(stands);
                true
            }
            _ => false,
        }
    }

    fn plan_the_day(&mut self, stands: Stands) {
        let Some(doc) = &self.doc else { return };
        self.planner.begin(Job::Day(Box::new(ToReplan {
            revision: doc.revision,
            before: stands.clone(),
            after: doc.file().clone(),
            past: Arc::clone(&doc.past),
        })));
        self.planning = true;
        self.the_day = Day { before: Some(stands), changed: Vec::new() };
    }

    /// A plan of the day has come.
    pub(super) fn heard_of_day(&mut self) {
        if let (Some((was, before)), Some((is, plan))) = (&self.the_day.before, self.stands()) {
            self.the_day.changed = differences((was, before), (&is, &plan)).sentences();
        }
    }
}
