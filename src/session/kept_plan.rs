//! The plan that is kept with a lesson: shown of it last, saved with it, and read
//! with it when it is opened.

use std::sync::Arc;

use super::planning::Planning;
use super::{Planned, Session};
use crate::check::{CheckedPlan, check};
use crate::file::told::{Told, ToldText, write_told};
use crate::finding::Finding;
use crate::keep::{NoLonger, told};
use crate::model::Lesson;
use crate::plan::{NotServed, Refusal};
use crate::today::differences;

/// The plan of a document's lesson.
#[derive(Debug, Default)]
pub(super) struct KeptPlan {
    /// Of the lesson as it now is, if one was shown.
    pub plan: Option<Arc<CheckedPlan>>,
    /// As it is written: of the lesson before a change until a plan of the
    /// lesson as it now is was shown.
    pub text: Option<ToldText>,
    /// As the lesson's own file has it.
    pub on_file: Option<ToldText>,
    /// As it was read, until there is a lesson to read it against.
    unread: Option<Told>,
}

impl KeptPlan {
    /// As its file was opened.
    pub fn opened(told: Option<Told>) -> Self {
        let on_file = told.as_ref().map(|told| told.text().clone());
        Self::as_read(told, on_file)
    }

    /// As it was read, beside what the lesson's own file has.
    pub fn as_read(told: Option<Told>, on_file: Option<ToldText>) -> Self {
        let text = told.as_ref().map(|told| told.text().clone());
        Self { plan: None, text, on_file, unread: told }
    }

    /// Another plan of a lesson; whether it says something else than before.
    pub fn becomes(&mut self, lesson: &Lesson, plan: Arc<CheckedPlan>) -> bool {
        self.unread = None;
        let text = Some(write_told(lesson, plan.plan()));
        self.plan = Some(plan);
        let before = std::mem::replace(&mut self.text, text);
        before != self.text
    }

    /// Whether nothing is lost if it is not saved: the lesson's own file says the
    /// same, or never had a plan.
    pub fn is_as_on_file(&self) -> bool {
        self.on_file.is_none() || self.on_file == self.text
    }

    /// The lesson's own file has it.
    pub fn is_saved(&mut self) {
        self.on_file.clone_from(&self.text);
    }

    /// Reads it, if that is still to be done.
    pub fn read(&mut self, lesson: &Lesson) -> Option<Box<NoLonger>> {
        let unread = self.unread.take()?;
        match told(lesson, &unread) {
            Ok(plan) => {
                // The same plan may be written in other ways.
                let own = self.on_file.as_ref() == Some(unread.text());
                let text = Some(write_told(lesson, plan.plan()));
                if own {
                    self.on_file.clone_from(&text);
                }
                (self.text, self.plan) = (text, Some(Arc::new(plan)));
                None
            }
            Err(no_longer) => Some(no_longer),
        }
    }
}

/// Whether something is not served and more may be proved of it.
pub(super) fn may_prove_more(lesson: &Lesson, plan: &CheckedPlan) -> bool {
    let unproved = |n: &NotServed| n.refusal == Refusal::NotFound;
    lesson.attending().count() > plan.plan().choices.len()
        && plan.plan().not_served.iter().any(unproved)
}

/// What became of a kept plan that no longer holds, in sentences.
fn told_of(findings: &[Finding]) -> String {
    let first = findings.first().map(|f| {
        let line = f.place.map(|p| format!("line {}: ", p.line)).unwrap_or_default();
        let more = match findings.len() {
            1 => String::new(),
            n => format!("; {} more with it", n - 1),
        };
        format!(" ({line}{}{more})", f.message.trim_end_matches('.'))
    });
    format!(
        "The plan kept with this lesson no longer holds{}. The lesson is planned again; the plan \
         is in the file as it was until you save.",
        first.unwrap_or_default()
    )
}

impl Session {
    /// Shows the plan that the lesson as it now is has already: shown of it
    /// before, or kept in its file. It is checked anew; nothing is looked for but
    /// proofs. A plan in the file that no longer holds is told of, and what still
    /// holds of it becomes the plan to keep to.
    pub(super) fn shows_kept_plan(&mut self) -> bool {
        self.replaced = None;
        let Some(doc) = &mut self.doc else { return false };
        if let Some(NoLonger { findings, rest }) = doc.read_plan().map(|gone| *gone) {
            let revision = doc.revision();
            self.tell_more([told_of(&findings)]);
            if let Some((lesson, plan)) = rest {
                let (lesson, plan) = (Arc::new(lesson), Arc::new(plan));
                self.was_on_paper(&lesson, &plan);
                let rest = Planned::new(revision, &lesson, plan);
                (self.to_keep, self.replaced) = (Some(rest.clone()), Some(rest));
            }
            return false;
        }
        let Some(plan) = doc.plan().cloned().or_else(|| doc.plan_as_it_was()) else {
            return false;
        };
        let Some(lesson) = doc.lesson().map(Arc::clone) else { return false };
        let Ok(plan) = check(&lesson, plan.plan().clone()) else { return false };
        let (revision, plan) = (doc.revision(), Arc::new(plan));
        if doc.is_plan_on_file() {
            self.was_on_paper(&lesson, &plan);
        }
        self.begin_to_tell_the_day();
        self.studies.plans.forget();
        self.show_plan(Some(Planned::new(revision, &lesson, Arc::clone(&plan))));
        self.heard_of_day();
        self.prove_of(&lesson, plan);
        true
    }

    /// The plan on screen stays; what can be proved of groups it does not serve
    /// is looked for.
    fn prove_of(&mut self, lesson: &Arc<Lesson>, plan: Arc<CheckedPlan>) {
        // Nor is it of use to anybody once groups are at work.
        if may_prove_more(lesson, &plan) && !self.is_being_taught() {
            self.plan(Planning::Proofs(Arc::clone(lesson), plan));
        }
    }

    /// What became of a kept plan that no longer held is told once another
    /// stands.
    pub(super) fn tell_what_is_replaced(&mut self) {
        let (Some(was), Some(is)) = (self.replaced.take(), &self.planned) else { return };
        let changed = differences((&was.lesson, &was.plan), (&is.lesson, &is.plan));
        self.tell_more(changed.sentences());
    }

    /// No other plan comes after this: what is on screen is saved.
    pub(super) fn settle_on_plan(&mut self) {
        if !self.studies.plans.is_busy() {
            return;
        }
        let Some((_, lesson, plan)) = self.at_hand() else { return };
        let (lesson, plan) = (Arc::clone(lesson), Arc::clone(plan));
        self.studies.plans.forget();
        self.prove_of(&lesson, plan);
    }
}
