//! A plan taken over as it is for another lesson, without those who no longer
//! take part. Where it keeps every rule nobody has to change anything.

use super::keeps::later;
use super::renumber::Renumber;
use crate::check::{CheckedPlan, check};
use crate::model::{Attendance, GroupId, Lesson, OvenId, StepKind};
use crate::plan::Plan;
use crate::planner::told_anew;
use crate::units::Minute;

/// The plan of the lesson before for the lesson after; `None` if it breaks a
/// rule there.
pub fn taken_over((before, plan): (&Lesson, &CheckedPlan), after: &Lesson) -> Option<CheckedPlan> {
    if later(before, after).get() != 0 {
        return None;
    }
    let stays = |group: GroupId| {
        let was = before.group(group);
        after.groups.iter().enumerate().any(|(g, is)| {
            is.name == was.name
                && is.attendance == Attendance::TakesPart
                && after.recipe_of(GroupId(g)).name == before.recipe_of(group).name
        })
    };
    let mut plan = plan.plan().clone();
    keep_only(&mut plan, stays);
    let mut plan = Renumber::new(before, after).plan(&plan)?;
    for group in after.attending() {
        name_pupils(after, &mut plan, group)?;
    }
    leave_doors(after, &mut plan);
    check(after, told_anew(after, plan)).ok()
}

pub(super) fn keep_only(plan: &mut Plan, stays: impl Fn(GroupId) -> bool) {
    plan.choices.retain(|c| stays(c.group));
    plan.steps.retain(|s| stays(s.group));
    plan.loads.retain(|l| stays(l.group));
    plan.uses.retain(|u| stays(u.group));
    plan.not_served.clear();
    plan.bounds = None;
}

/// Says anew which pupils do what; `None` if they are too few.
fn name_pupils(lesson: &Lesson, plan: &mut Plan, id: GroupId) -> Option<()> {
    let Some(choice) = plan.choice(id).copied() else { return Some(()) };
    let (group, method) = (lesson.group(id), lesson.method_of(id, choice.method));
    let mut steps: Vec<_> =
        plan.steps.iter_mut().filter(|s| s.group == id && !s.pupils.is_empty()).collect();
    steps.sort_by_key(|s| (s.start, s.step));
    let mut free_from: Vec<Minute> =
        vec![Minute::new(i32::MIN); usize::try_from(group.pupils).ok()?];
    for placed in steps {
        let step = method.steps.get(placed.step.0)?;
        let wanted = usize::try_from(step.pupils.of(group.pupils)).ok()?;
        let (start, end) = (placed.start, placed.end);
        let free = (0..free_from.len()).filter(|&p| free_from[p] <= start);
        let who: Vec<usize> = free.take(wanted).collect();
        if who.len() < wanted {
            return None;
        }
        who.iter().for_each(|&p| free_from[p] = end);
        placed.pupils = who.into_iter().filter_map(|p| u32::try_from(p).ok()).collect();
    }
    Some(())
}

/// Ovens nobody uses any more stay off, and nobody stands at a door that is
/// not opened.
pub(super) fn leave_doors(lesson: &Lesson, plan: &mut Plan) {
    let opened: Vec<(OvenId, Minute, Minute)> = plan
        .loads
        .iter()
        .flat_map(|load| {
            let method = plan.choice(load.group).map(|c| lesson.method_of(load.group, c.method));
            let at_door = move |s: &&crate::plan::StepPlacement| {
                let kind = method.and_then(|m| m.steps.get(s.step.0)).map(|s| s.kind);
                s.group == load.group && matches!(kind, Some(StepKind::Load | StepKind::TakeOut))
            };
            plan.steps.iter().filter(at_door).map(|s| (load.oven, s.start, s.end))
        })
        .collect();
    plan.door_watches.retain(|w| {
        opened
            .iter()
            .any(|&(oven, from, until)| w.oven == oven && from <= w.minute && w.minute < until)
    });
    let used: Vec<OvenId> = plan.loads.iter().map(|l| l.oven).collect();
    plan.settings.retain(|s| used.contains(&s.oven));
}
