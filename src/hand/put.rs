//! Puts a thing somewhere: the locks, and a plan that keeps to them and leaves
//! as many others as can be found where they are.

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::alone::{Alone, alone};
use super::drop::LockChange;
use super::others::Others;
use super::why::{Case, nothing_to_bake, refuse};
use super::{AtHand, Fit, Put, Refused, Spot, Thing};
use crate::check::{CheckedPlan, judge_of};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::keep::{Changed, Had};
use crate::model::{Attendance, GroupId, Lesson, Lock, PastBake};
use crate::plan::Plan;
use crate::planner::{Budget, plan_serving};
use crate::today::replan_around;

/// Puts a thing somewhere. First all others stay where they are and the thing
/// is fitted in; then it is asked whether it can be there at all, without
/// others but for those of which something is held; then as few others move as
/// are found in `budget`. Where the budget is a number of plans
/// the answer is the same in every run, but that a refusal is *proved* may hang
/// on the machine.
///
/// # Errors
/// If it cannot be there, or no way is found: the rule and the sum.
pub fn put(
    (file, lesson, plan): AtHand<'_>,
    past: &[PastBake],
    thing: Thing,
    spot: Spot,
    budget: &Budget,
    stop: &AtomicBool,
) -> Result<Put, Box<Refused>> {
    let group = thing.group();
    if matches!(thing, Thing::Bake(_)) && !bakes(lesson, group) {
        let now = as_it_is(lesson, plan, group, stop);
        return Err(Box::new(nothing_to_bake(lesson, now, (group, spot))));
    }
    let drop = LockChange::of(lesson, &as_it_is(lesson, plan, group, stop), thing, spot);
    let file = drop.on_file(file, lesson);
    let table = Others::new(lesson, plan, group);
    let case = |after: Lesson| Case {
        after: Arc::new(after),
        drop: &drop,
        staying: table.staying(),
        stop,
    };
    let Ok(after) = lesson_of_shapes(&file, past) else {
        let after = drop.on_lesson(lesson).unwrap_or_else(|| lesson.clone());
        return Err(Box::new(refuse(&case(after), false)));
    };
    let done = |plan: CheckedPlan, after: Lesson| {
        let changed = table.changed(&after, &plan);
        Put::of(file, (Arc::new(after), plan), changed)
    };
    if lesson.group(group).attendance == Attendance::LeftOut {
        return Err(Box::new(refuse(&case(after), true)));
    }
    if let Some(plan) = table.stays(&after) {
        return Ok(done(plan, after));
    }
    let by_itself = match alone(&after, &table.staying(), stop) {
        Alone::Served(plan) => *plan,
        Alone::Cannot => return Err(Box::new(refuse(&case(after), true))),
        Alone::NotFound => return Err(Box::new(refuse(&case(after), false))),
    };
    match with_others(&table, &after, &by_itself, budget, stop) {
        Some(plan) => Ok(done(plan, after)),
        None => Err(Box::new(refuse(&case(after), false))),
    }
}

impl Put {
    /// What it took is told by what becomes of the others.
    pub(super) fn of(
        file: LessonFile,
        (lesson, plan): (Arc<Lesson>, CheckedPlan),
        Changed { moved, lost, gained }: Changed,
    ) -> Self {
        let fit = match (lost.is_empty(), moved.is_empty()) {
            (false, _) => Fit::AtACost,
            (true, false) => Fit::OthersMove,
            (true, true) => Fit::Stays,
        };
        Self { lesson, file, plan, fit, moved, lost, gained }
    }
}

/// Whether a group has anything to bake.
pub(super) fn bakes(lesson: &Lesson, group: GroupId) -> bool {
    let of = lesson.group(group);
    of.methods.iter().any(|m| lesson.method_of(group, *m).bake_steps().is_some())
}

/// A plan in which the group is served: the one there is, or one of it alone.
pub(super) fn as_it_is(
    lesson: &Lesson,
    plan: &CheckedPlan,
    group: GroupId,
    stop: &AtomicBool,
) -> Plan {
    if plan.plan().choice(group).is_some() {
        return plan.plan().clone();
    }
    match alone(lesson, &[group], stop) {
        Alone::Served(plan) => *plan,
        _ => Plan::default(),
    }
}

/// A plan that serves whoever must be and moves few others. `by_itself` is one
/// of those alone.
fn with_others(
    table: &Others<'_>,
    after: &Lesson,
    by_itself: &Plan,
    budget: &Budget,
    stop: &AtomicBool,
) -> Option<CheckedPlan> {
    let staying = table.staying();
    let all = |plan: &CheckedPlan| staying.iter().all(|&g| plan.plan().choice(g).is_some());
    let around = (table.group, &staying[..]);
    let before = (table.lesson, table.plan);
    let found = replan_around(before, after, around, budget, stop).ok().filter(all);
    found.or_else(|| {
        // Those who must have a place have the one they have by themselves.
        let mut parts = after.clone().into_parts();
        for choice in &by_itself.choices {
            // Not its oven: that may be another with the others there.
            let had = Had::of(after, by_itself, choice.group)?;
            let locks = had.choice().chain(had.starts()).cloned();
            parts.locks.extend(locks.map(|to| Lock { group: choice.group, to }));
        }
        let held = Lesson::new(parts).ok()?;
        let on = |_: &CheckedPlan| ControlFlow::Continue(());
        let found = plan_serving((&held, &staying), budget, stop, judge_of(after), on).ok()?;
        Some(found.judged).filter(all)
    })
}
