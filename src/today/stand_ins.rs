//! Who stands in for an adult who is not there any more, in sentences.

use super::differences::Planned;
use crate::model::{AdultId, GroupId, StepKind};
use crate::plan::StepPlacement;
use crate::view::words::{clock, list};

/// Who does by a plan what another was to do by the plan before, where that other is not
/// there: "The teacher stands in for the technician: with Unit 3 at 10:31."
pub(super) fn stand_ins(before: Planned<'_>, after: Planned<'_>) -> Vec<String> {
    let mut all: Vec<(AdultId, &str, Vec<String>)> = Vec::new();
    let mut steps: Vec<&StepPlacement> = after.1.plan().steps.iter().collect();
    steps.sort_by_key(|step| (step.start, step.group));
    for step in steps {
        let Some((now, is_at_door)) = whose(after, step) else { continue };
        let Some((was, _)) = same(before, after, step).and_then(|step| whose(before, step)) else {
            continue;
        };
        let was = before.0.adults[was.0].name.as_str();
        let mut adults = after.0.adults.iter();
        let is_there = |adult: &crate::model::Adult| {
            adult.name == was && adult.is_there_throughout(step.start, step.end)
        };
        if was == after.0.adults[now.0].name || adults.any(is_there) {
            continue;
        }
        let (group, at) = (&after.0.group(step.group).name, clock(after.0, step.start));
        let at_door = if is_at_door { "at the oven " } else { "" };
        let what = format!("{at_door}with {group} at {at}");
        match all.iter_mut().find(|(who, whom, _)| (*who, *whom) == (now, was)) {
            Some((.., does)) => does.push(what),
            None => all.push((now, was, vec![what])),
        }
    }
    let sentence = |(who, whom, does): (AdultId, &str, Vec<String>)| {
        format!("The {} stands in for the {whom}: {}.", after.0.adults[who.0].name, list(&does))
    };
    all.into_iter().map(sentence).collect()
}

/// The adult who is with a step, or begins to stand at the door it opens, and whether it is
/// a door.
fn whose((lesson, plan): Planned<'_>, placed: &StepPlacement) -> Option<(AdultId, bool)> {
    if let Some(adult) = placed.adult {
        return Some((adult, false));
    }
    let plan = plan.plan();
    let method = lesson.method_of(placed.group, plan.choice(placed.group)?.method);
    let kind = method.steps.get(placed.step.0)?.kind;
    let is_theirs = |load: &&crate::plan::Load| load.group == placed.group;
    let load = plan.loads.iter().find(is_theirs)?;
    let mut watches = plan.door_watches.iter();
    let watch = watches.find(|w| w.oven == load.oven && w.minute == placed.start);
    let is_at_door = matches!(kind, StepKind::Load | StepKind::TakeOut);
    watch.filter(|_| is_at_door).map(|watch| (watch.adult, true))
}

/// The same step by the plan before.
fn same<'a>(
    (lesson, plan): Planned<'a>,
    after: Planned<'_>,
    placed: &StepPlacement,
) -> Option<&'a StepPlacement> {
    let method = after.0.method_of(placed.group, after.1.plan().choice(placed.group)?.method);
    let (group, step) = (&after.0.group(placed.group).name, &method.steps[placed.step.0].name);
    let group = lesson.groups.iter().position(|g| g.name == *group).map(GroupId)?;
    let method = lesson.method_of(group, plan.plan().choice(group)?.method);
    let is_it = |s: &&StepPlacement| {
        s.group == group && method.steps.get(s.step.0).is_some_and(|s| s.name == *step)
    };
    plan.plan().steps.iter().find(is_it)
}
