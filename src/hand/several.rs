//! Several things put somewhere at once, and one lock let go of.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::by_hand::dropped;
use super::drop::LockChange;
use super::{AtHand, Put, Refused, Spot, Thing, put};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::keep::Changed;
use crate::model::{GroupId, Lesson, Lock, LockedTo, PastBake};
use crate::planner::Budget;
use crate::today::replan;

/// Puts several things somewhere at once. One is put as by [`put`]; of more, a
/// plan is looked for that has all of them where they were put.
///
/// # Errors
/// If one of them cannot be there, or no way is found: the rule and the sum of
/// the first of which that is so, those before it being where they were put.
pub fn put_all(
    from: AtHand<'_>,
    past: &[PastBake],
    spots: &[(Thing, Spot)],
    budget: &Budget,
    stop: &AtomicBool,
) -> Result<Option<Put>, Box<Refused>> {
    let [(first, spot), rest @ ..] = spots else { return Ok(None) };
    if !rest.is_empty()
        && let Some(put) = together(from, past, spots, budget, stop)
    {
        return Ok(Some(put));
    }
    let mut last = put(from, past, *first, *spot, budget, stop)?;
    for (thing, spot) in rest {
        let from = (&last.file, &*last.lesson, &last.plan);
        last = put(from, past, *thing, *spot, budget, stop)?;
    }
    let (_, lesson, plan) = from;
    Ok(Some(told((lesson, plan), spots, last.file, (last.lesson, last.plan))))
}

/// All of them in one go, if the groups are then served.
fn together(
    (file, lesson, plan): AtHand<'_>,
    past: &[PastBake],
    spots: &[(Thing, Spot)],
    budget: &Budget,
    stop: &AtomicBool,
) -> Option<Put> {
    let after = dropped((file, lesson, plan), spots, stop);
    let found = replan((lesson, plan), &after, past, budget, stop, |_| {}).ok()?;
    let served = |(thing, _): &(Thing, Spot)| found.plan.plan().choice(thing.group()).is_some();
    if !spots.iter().all(served) {
        return None;
    }
    Some(told((lesson, plan), spots, after, (found.lesson, found.plan)))
}

/// What it comes to for the others.
fn told(
    before: (&Lesson, &CheckedPlan),
    spots: &[(Thing, Spot)],
    file: LessonFile,
    (lesson, plan): (Arc<Lesson>, CheckedPlan),
) -> Put {
    let put = |g: &GroupId| spots.iter().any(|(thing, _)| thing.group() == *g);
    let others = (0..lesson.groups.len()).map(GroupId).filter(|g| !put(g));
    let changed = Changed::between(before, (&lesson, &plan), others);
    Put::of(file, (lesson, plan), changed)
}

/// The file without one of the lesson's locks, whether its group is served or
/// not.
pub fn let_go_lock(file: &LessonFile, lesson: &Lesson, lock: &Lock) -> LessonFile {
    let mut drop = LockChange::nothing(lock.group);
    match &lock.to {
        LockedTo::Start(name, _) => drop.starts.push(name.clone()),
        LockedTo::Tin(_) => drop.tin = true,
        LockedTo::Method(_) => drop.method = true,
        LockedTo::Oven(..) => drop.oven = true,
    }
    drop.on_file(file, lesson)
}
