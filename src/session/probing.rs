//! What each tin and method of a group would come to, as the planner says:
//! the lesson is planned anew with the group held to each.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::Session;
use super::planning::judge;
use super::study::Heard;
use crate::bake::tin_table::{TinRow, tin_table};
use crate::check::Verdict;
use crate::model::{GroupId, Lesson, Lock, LockedTo, MethodId, PastBake, TinChoiceId};
use crate::planner::{Budget, plan_lesson};
use crate::units::Minute;

/// Plans built for each choice: enough to find a place if there is one.
const BUDGET: Budget = Budget { within: None, decodings: Some(300), seed: 1 };

/// What a choice would come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChoiceOutcome {
    /// The method.
    pub method: MethodId,
    /// The tin; `None` if the method is not baked.
    pub tin: Option<TinChoiceId>,
    /// The group's verdict.
    pub verdict: Verdict,
    /// When it would be ready, from its period's start bell.
    pub ready: Option<Minute>,
    /// How many groups would be served in all.
    pub served: u32,
    /// Why it would not be served.
    pub reason: Option<String>,
}

/// The tin table of a group's recipe, and what each of its tins comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct TinsTried {
    /// Every tin: the recipe's own, then others of the lesson.
    pub table: Vec<TinRow>,
    /// What they come to. Tins are numbered by their place in the table.
    pub all: Vec<ChoiceOutcome>,
}

/// A group of a lesson.
pub(super) struct ToTry {
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    pub group: GroupId,
}

pub(super) fn try_tins(
    of: ToTry,
    stop: &AtomicBool,
    tell: &dyn Fn((GroupId, TinsTried)),
) -> Result<(), String> {
    tell((of.group, tried(&of.lesson, &of.past, of.group, stop)));
    Ok(())
}

impl Session {
    /// Asks what the tins and methods of the selected group come to, once its
    /// plan is there.
    pub(super) fn try_tins_of(&mut self, selected: Option<GroupId>) {
        let (Some(group), Some(doc), Some(planned)) = (selected, &self.doc, &self.planned) else {
            return;
        };
        let Some(lesson) = doc.lesson() else { return };
        let wanted = Some((doc.revision(), group));
        let is_there = planned.revision == doc.revision() && group.0 < lesson.groups.len();
        if !is_there || self.studies.tins_of == wanted || self.tins_tried(group).is_some() {
            return;
        }
        let (lesson, past) = (Arc::clone(lesson), Arc::clone(&doc.past));
        self.studies.tins.ask(doc.revision(), ToTry { lesson, past, group });
        self.studies.tins_of = wanted;
    }

    pub(super) fn hear_tins_tried(&mut self) {
        let now = self.revision();
        for heard in self.studies.tins.hear(now) {
            match heard {
                Heard::Answer((group, tried)) => {
                    self.tried = now.map(|revision| (revision, group, tried));
                    // The longer proofs come after what is soon known.
                    self.ask_why(group);
                }
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }
}

/// Tries every method of the group with every tin that has minutes.
fn tried(lesson: &Lesson, past: &[PastBake], group: GroupId, stop: &AtomicBool) -> TinsTried {
    let recipe = lesson.recipe_of(group);
    let table = tin_table(recipe, &lesson.tins, past);
    let mut parts = lesson.clone().into_parts();
    parts.recipes[lesson.group(group).recipe.0].tins =
        table.iter().map(|row| row.as_choice.clone()).collect();
    let mut all = Vec::new();
    if let Ok(lesson) = Lesson::new(parts) {
        for (method, tin) in choices(&lesson, group) {
            if stop.load(Ordering::Relaxed) {
                break;
            }
            all.extend(one(&lesson, group, method, tin, stop));
        }
    }
    TinsTried { table, all }
}

/// The group's own choices first, then what else its recipe has.
fn choices(lesson: &Lesson, group: GroupId) -> Vec<(MethodId, Option<TinChoiceId>)> {
    let recipe = lesson.recipe_of(group);
    let mut tins = lesson.group(group).tins.clone();
    let others = (0..recipe.tins.len()).map(TinChoiceId);
    let others: Vec<TinChoiceId> = others.filter(|t| !tins.contains(t)).collect();
    tins.extend(others);
    let mut choices = Vec::new();
    for &method in &lesson.group(group).methods {
        if recipe.methods[method.0].bake_steps().is_none() {
            choices.push((method, None));
            continue;
        }
        for &tin in &tins {
            let choice = &recipe.tins[tin.0];
            if choice.goes_with(method) && choice.minutes.is_some() {
                choices.push((method, Some(tin)));
            }
        }
    }
    choices
}

fn one(
    lesson: &Lesson,
    group: GroupId,
    method: MethodId,
    tin: Option<TinChoiceId>,
    stop: &AtomicBool,
) -> Option<ChoiceOutcome> {
    let mut parts = lesson.clone().into_parts();
    parts
        .locks
        .retain(|l| l.group != group || !matches!(l.to, LockedTo::Tin(_) | LockedTo::Method(_)));
    parts.locks.push(Lock { group, to: LockedTo::Method(method) });
    let of = &mut parts.groups[group.0];
    of.attendance = crate::model::Attendance::TakesPart;
    if let Some(tin) = tin {
        if !of.tins.contains(&tin) {
            of.tins.push(tin);
        }
        parts.locks.push(Lock { group, to: LockedTo::Tin(tin) });
    }
    let variant = Lesson::new(parts).ok()?;
    let found = plan_lesson(&variant, &BUDGET, stop, judge(&variant), |_| {}).ok()?;
    let plan = found.judged;
    let outcome = plan.group_outcomes()[group.0];
    let refused = plan.plan().not_served.iter().find(|n| n.group == group);
    Some(ChoiceOutcome {
        method,
        tin,
        verdict: outcome.verdict,
        ready: outcome.ready,
        served: plan.objective().served,
        reason: refused.map(|n| n.reason.clone()),
    })
}
