//! The plan of the lesson as it now stands: when it is looked for, and what
//! comes of that.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use super::study::Heard;
use super::{Planned, Session};
use crate::check::{CheckedPlan, judge_of};
use crate::file::format::LessonFile;
use crate::model::{Lesson, PastBake};
use crate::plan::Plan;
use crate::planner::{Budget, plan_lesson};
use crate::today::{Replanned, replan};

/// How long to look for better plans.
const BUDGET: Budget =
    Budget { within: Some(Duration::from_secs(4)), decodings: Some(30_000), seed: 1 };

/// What is to be planned.
pub(super) enum ToPlan {
    /// A lesson.
    Lesson(Arc<Lesson>),
    /// A lesson of the day, so that others keep their times.
    Day(Box<ToReplan>),
}

/// A lesson of the day with the plan that stood before.
pub(super) struct ToReplan {
    /// The lesson and the plan before.
    pub before: (Arc<Lesson>, Arc<CheckedPlan>),
    /// The file as it now is.
    pub after: LessonFile,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
}

/// The checker, as the planner wants it.
pub(super) fn judge(lesson: &Lesson) -> impl Fn(Plan) -> Result<Arc<CheckedPlan>, String> {
    |plan| judge_of(lesson)(plan).map(Arc::new)
}

pub(super) fn plan(
    what: ToPlan,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<CheckedPlan>),
) -> Result<(), String> {
    match what {
        ToPlan::Lesson(lesson) => {
            let each = |plan: &Arc<CheckedPlan>| tell(Arc::clone(plan));
            let found = plan_lesson(&lesson, &BUDGET, stop, judge(&lesson), each);
            tell(found.map_err(|fault| fault.to_string())?.judged);
        }
        ToPlan::Day(of) => {
            let before = (&*of.before.0, &*of.before.1);
            let each = |found: &Replanned| tell(Arc::new(found.plan.clone()));
            let found = replan(before, &of.after, &of.past, &BUDGET, stop, each);
            tell(Arc::new(found.map_err(|fault| fault.to_string())?.plan));
        }
    }
    Ok(())
}

impl Session {
    /// Whether a plan is being looked for, or will be once the typing pauses.
    pub fn is_planning(&self) -> bool {
        let has_lesson = || self.doc.as_ref().is_some_and(|d| d.lesson().is_some());
        self.studies.plans.is_busy() || (self.is_typing() && has_lesson())
    }

    /// Plans the lesson after the change called `what`. Offers are forgotten; the
    /// plan on screen is kept as the plan before.
    pub(super) fn changed(&mut self, what: &str) {
        self.offering.forget();
        self.plan_before_is(what);
        self.replan();
    }

    /// Plans the lesson as it now is; nothing else is looked for until then.
    pub(super) fn replan(&mut self) {
        self.put_back();
        self.studies.forget_about_plan();
        if self.shows_remembered() {
            return;
        }
        let Some(lesson) = self.doc.as_ref().and_then(|d| d.lesson()).map(Arc::clone) else {
            self.studies.plans.forget();
            return;
        };
        if !self.keeps_to_plan() {
            self.plan(ToPlan::Lesson(lesson));
        }
    }

    pub(super) fn plan(&mut self, what: ToPlan) {
        if let Some(revision) = self.revision() {
            self.studies.plans.ask(revision, what);
        }
    }

    /// Plans the lesson anew: what is held stays, all else goes where it is
    /// best.
    pub(super) fn plan_anew(&mut self) {
        self.moving.remembered.clear();
        let Some(doc) = &mut self.doc else { return };
        // The lesson is the same, its plan is another.
        doc.is_asked_anew();
        self.changed("all but what is held planned anew");
    }

    /// Stops looking for better plans and for changes; what was found stays.
    pub(super) fn stop_looking(&mut self) {
        self.studies.plans.stop();
        self.stop_offers();
    }

    pub(super) fn hear_plans(&mut self) {
        let now = self.revision();
        for heard in self.studies.plans.hear(now) {
            match heard {
                Heard::Answer(plan) => {
                    let lesson = self.doc.as_ref().and_then(|d| d.lesson());
                    if let Some((revision, lesson)) = now.zip(lesson) {
                        self.show_plan(Some(Planned::new(revision, lesson, plan)));
                        self.heard_of_day();
                    }
                }
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }

    /// Tells of a fault of the program's own in looking for something; what else
    /// is being looked for goes on.
    pub(super) fn tell_of_fault(&mut self, fault: &str) {
        self.tell(match self.planned {
            Some(_) => format!("{fault}. The plan shown is the last one that was checked."),
            None => format!("{fault}."),
        });
    }
}
