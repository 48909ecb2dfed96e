//! Planning a lesson with changes, as far as is needed to see whether they
//! are enough.

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::alteration::Alteration;
use super::item::{Item, apply_all};
use super::menu::outside::beforehand_asks;
use super::offer::{Goal, Offer};
use crate::check::{CheckedPlan, judge_of};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::graph::expand;
use crate::model::{Lesson, PastBake};
use crate::plan::Plan;
use crate::planner::bounds::Bounder;
use crate::planner::{Budget, plan_lesson, plan_until};

/// The checker, as the planner wants it.
pub(super) fn judge(lesson: &Lesson) -> impl Fn(Plan) -> Result<Arc<CheckedPlan>, String> {
    |plan| judge_of(lesson)(plan).map(Arc::new)
}

/// A first look takes so small a part of the plans of a whole one.
const FIRST_LOOK: u64 = 10;

/// Whether so few are left out that a longer look may find a place for them.
fn is_near(lesson: &Lesson, plan: &CheckedPlan) -> bool {
    let all = lesson.attending().count();
    let served = usize::try_from(plan.objective().served).unwrap_or(usize::MAX);
    all.saturating_sub(served) <= 1 + all / 4
}

/// What came of trying a set of changes.
pub(super) enum Trial {
    /// Nothing was planned: they cannot be made, or all work was stopped.
    Unplanned,
    /// It is proved that they are not enough.
    RuledOut,
    /// A plan, enough or not.
    Planned(Box<Offer>),
}

/// What a trial goes by.
#[derive(Clone, Copy)]
pub(super) struct Trying<'a> {
    pub(super) file: &'a LessonFile,
    pub(super) past: &'a [PastBake],
    pub(super) goal: Goal,
    pub(super) stop: &'a AtomicBool,
}

impl Trying<'_> {
    fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// The lesson with some changes.
    pub(super) fn changed(&self, items: &[&Item]) -> Option<(LessonFile, Lesson)> {
        let mut file = self.file.clone();
        apply_all(&mut file, items.iter().copied()).ok()?;
        let lesson = lesson_of_shapes(&file, self.past).ok()?;
        Some((file, lesson))
    }

    /// Plans it until all are out, if that is wanted, or so many plans are
    /// built. Where short
    /// sums rule that out, nothing is planned unless `whatever`.
    pub(super) fn attempt(&self, items: &[&Item], decodings: u64, whatever: bool) -> Trial {
        let Some((file, lesson)) = self.changed(items) else { return Trial::Unplanned };
        if self.is_stopped() {
            return Trial::Unplanned;
        }
        if !whatever && cannot_serve_all(&lesson) {
            return Trial::RuledOut;
        }
        if self.is_stopped() {
            return Trial::Unplanned;
        }
        let goal = self.goal;
        // That all are out stays so in better plans; the wanted spare may give
        // way to a first choice.
        let met = |plan: &Arc<CheckedPlan>| {
            if goal == Goal::Everyone && goal.is_met(&lesson, plan) {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        };
        let few = (decodings / FIRST_LOOK).max(1);
        let Some(mut plan) = planned(&lesson, few, self.stop, met) else {
            return Trial::Unplanned;
        };
        if !goal.is_met(&lesson, &plan) && is_near(&lesson, &plan) {
            let Some(longer) = planned(&lesson, decodings, self.stop, met) else {
                return Trial::Unplanned;
            };
            plan = longer;
        }
        let cost = items.iter().map(|i| i.cost).sum();
        let told = |item: &Item| {
            let mut item = item.clone();
            if let Alteration::Beforehand { steps } = &item.what {
                item.asks = vec![beforehand_asks(&lesson, steps)];
            }
            item
        };
        let items = items.iter().map(|&i| told(i)).collect();
        Trial::Planned(Box::new(Offer { items, cost, file, lesson: Arc::new(lesson), plan }))
    }
}

impl Trying<'_> {
    /// Whether it is proved, with so many conflicts for each question, that
    /// not all groups can be served.
    pub(super) fn is_ruled_out(&self, items: &[&Item], conflicts: u64) -> bool {
        let Some((_, lesson)) = self.changed(items) else { return true };
        let budget = Budget { within: None, decodings: Some(conflicts), ..Budget::default() };
        let found = plan_lesson(&lesson, &budget, self.stop, judge(&lesson), |_| {});
        let most = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
        found.is_ok_and(|found| {
            let bounds = found.judged.plan().bounds;
            bounds.is_some_and(|b| most(b.served_at_most) < lesson.attending().count())
        })
    }
}

/// The best plan found; `None` if the class's own steps find no place.
pub(super) fn planned(
    lesson: &Lesson,
    decodings: u64,
    stop: &AtomicBool,
    each: impl FnMut(&Arc<CheckedPlan>) -> ControlFlow<()>,
) -> Option<Arc<CheckedPlan>> {
    let budget = Budget { within: None, decodings: Some(decodings), ..Budget::default() };
    plan_until(lesson, &budget, stop, judge(lesson), each).ok().map(|found| found.judged)
}

/// Whether short sums show that not all groups can be served as planned.
pub(super) fn cannot_serve_all(lesson: &Lesson) -> bool {
    let problem = expand(lesson);
    let bounder = Bounder { lesson, problem: &problem };
    let at_most = usize::try_from(bounder.planned().served_at_most).unwrap_or(usize::MAX);
    at_most < lesson.attending().count()
}
