//! The plan of the lesson as it now stands: when it is looked for, and what
//! comes of that.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use super::kept_plan::may_prove_more;
use super::mid_lesson::Begun;
use super::study::Heard;
use super::{LookedForBetter, Planned, Session};
use crate::check::{CheckedPlan, judge_of};
use crate::file::lesson_of_shapes;
use crate::model::Lesson;
use crate::plan::Plan;
use crate::planner::{Budget, plan_lesson, told_beside};
use crate::today::{Replanned, replan_begun, replan_read};

/// How long to look for better plans, unless a session is given another budget.
const USUAL: Budget =
    Budget { within: Some(Duration::from_secs(4)), decodings: Some(30_000), seed: 1 };

/// What is to be planned, and how long to look for better plans of it.
pub(super) struct ToPlan {
    what: Planning,
    budget: Budget,
}

/// What is to be planned.
pub(super) enum Planning {
    /// A lesson of which there is no plan yet, or that is to have the best.
    Lesson(Arc<Lesson>),
    /// A lesson that was another: as few groups as can be are moved.
    Keeping(Box<ToReplan>),
    /// Nothing but what can be proved of groups that this plan does not serve.
    Proofs(Arc<Lesson>, Arc<CheckedPlan>),
}

/// A lesson with the plan that stood before.
pub(super) struct ToReplan {
    /// The lesson and the plan before.
    pub before: (Arc<Lesson>, Arc<CheckedPlan>),
    /// The lesson as it now is.
    pub after: Arc<Lesson>,
    /// What has begun of the plan before, in mid-lesson.
    pub begun: Option<Begun>,
}

/// The checker, as the planner wants it.
pub(super) fn judge(lesson: &Lesson) -> impl Fn(Plan) -> Result<Arc<CheckedPlan>, String> {
    |plan| judge_of(lesson)(plan).map(Arc::new)
}

pub(super) fn plan(
    ToPlan { what, budget }: ToPlan,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<CheckedPlan>),
) -> Result<(), String> {
    match what {
        Planning::Lesson(lesson) => {
            let each = |plan: &Arc<CheckedPlan>| tell(Arc::clone(plan));
            let found = plan_lesson(&lesson, &budget, stop, judge(&lesson), each);
            tell(found.map_err(|fault| fault.to_string())?.judged);
        }
        Planning::Keeping(of) => {
            let before = (&*of.before.0, &*of.before.1);
            let each = |found: &Replanned| tell(Arc::new(found.plan.clone()));
            let found = match &of.begun {
                Some((by, slips)) => {
                    replan_begun(before, &of.after, (*by, slips), &budget, stop, each)
                }
                None => replan_read(before, &of.after, &budget, stop, each),
            };
            let plan = Arc::new(found.map_err(|fault| fault.to_string())?.plan);
            tell(Arc::clone(&plan));
            // What is proved of a lesson that has not begun says nothing of one that has.
            if of.begun.is_some() {
                return Ok(());
            }
            let more = |other: &CheckedPlan| other.objective().served > plan.objective().served;
            if let Some(proved) = prove(&of.after, &plan, &budget, more, stop)? {
                tell(proved);
            }
        }
        Planning::Proofs(lesson, plan) => {
            if let Some(proved) = prove(&lesson, &plan, &budget, |_| false, stop)? {
                tell(proved);
            }
        }
    }
    Ok(())
}

/// The plan with what can be proved of groups it does not serve; another one that
/// is found on the way, if that is so much better.
fn prove(
    lesson: &Lesson,
    plan: &CheckedPlan,
    budget: &Budget,
    is_so_much_better: impl Fn(&CheckedPlan) -> bool,
    stop: &AtomicBool,
) -> Result<Option<Arc<CheckedPlan>>, String> {
    if stop.load(Ordering::Relaxed) || !may_prove_more(lesson, plan) {
        return Ok(None);
    }
    let found = plan_lesson(lesson, budget, stop, judge(lesson), |_| {});
    let found = found.map_err(|fault| fault.to_string())?;
    if is_so_much_better(&found.judged) {
        return Ok(Some(found.judged));
    }
    let told = told_beside(lesson, plan.plan().clone(), found.judged.plan());
    judge(lesson)(told).map(Some)
}

impl Session {
    /// How long to look for something: as long as usual, unless it is to build so many
    /// plans each time.
    pub(super) fn budget(&self, usual: Budget) -> Budget {
        match self.decodings {
            Some(decodings) => Budget { within: None, decodings: Some(decodings), ..usual },
            None => usual,
        }
    }

    /// So many plans, unless fewer are to be built each time.
    pub(super) fn at_most(&self, usual: u64) -> u64 {
        self.decodings.unwrap_or(usual).min(usual)
    }

    /// How long to look for better plans.
    pub(super) fn planning_budget(&self) -> Budget {
        self.budget(USUAL)
    }

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

    /// Plans the lesson as it now is; nothing else is looked for until then. What
    /// has a plan already shows it, and what had one before keeps to it.
    pub(super) fn replan(&mut self) {
        self.put_back();
        self.studies.forget_about_plan();
        if self.shows_kept_plan() {
            return;
        }
        let Some(lesson) = self.doc.as_ref().and_then(|d| d.lesson()).map(Arc::clone) else {
            self.studies.plans.forget();
            return;
        };
        self.begin_to_tell_the_day();
        let what = match self.plan_to_keep() {
            Some(before) => {
                let begun = self.begun((&before.0, &before.1));
                Planning::Keeping(Box::new(ToReplan { before, after: lesson, begun }))
            }
            None => Planning::Lesson(lesson),
        };
        self.plan(what);
    }

    /// The plan that people have been told, with its lesson: what is left of one
    /// that was kept, the one before what is being typed, or else the one on
    /// screen.
    fn plan_to_keep(&mut self) -> Option<(Arc<Lesson>, Arc<CheckedPlan>)> {
        if let Some(kept) = self.to_keep.take() {
            return Some((kept.lesson, kept.plan));
        }
        let doc = self.doc.as_ref()?;
        if let Some((file, plan)) = doc.before_what_is_typed()
            && let Ok(lesson) = lesson_of_shapes(&file, &doc.past)
        {
            return Some((Arc::new(lesson), plan));
        }
        let shown = self.planned.as_ref()?;
        Some((Arc::clone(&shown.lesson), Arc::clone(&shown.plan)))
    }

    pub(super) fn plan(&mut self, what: Planning) {
        if let Some(revision) = self.revision() {
            let budget = self.planning_budget();
            self.studies.plans.ask(revision, ToPlan { what, budget });
        }
    }

    /// Plans the lesson anew: what is held stays, all else goes where it is
    /// best. Undo goes back to the plan there was.
    pub(super) fn plan_anew(&mut self) {
        if self.is_being_taught() {
            self.tell("The lesson is under way: what has begun stays, and no plan is made anew.");
            return;
        }
        let label = "all but what is held planned anew";
        let Some(doc) = &mut self.doc else { return };
        let Some(lesson) = doc.lesson().map(Arc::clone) else { return };
        doc.plan_goes(label.to_owned());
        self.offering.forget();
        self.plan_before_is(label);
        self.put_back();
        self.studies.forget_about_plan();
        self.begin_to_tell_the_day();
        self.plan(Planning::Lesson(lesson));
    }

    /// Stops looking for better plans and for changes; what was found stays.
    pub(super) fn stop_looking(&mut self) {
        self.studies.plans.stop();
        self.stop_offers();
        if self.looked_for_better_odds() == LookedForBetter::Looking {
            self.put_away_better_odds();
        }
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
                Heard::Ended => {
                    self.tell_what_is_replaced();
                    if self.day.unwritten {
                        self.write_the_day_when_planned();
                    }
                }
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
