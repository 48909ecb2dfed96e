//! Holding groups to what they had before, by locks. The locks are only a
//! means: plans made with them are judged without.

use std::collections::BTreeMap;

use super::keeps::later;
use crate::check::CheckedPlan;
use crate::graph::expand;
use crate::model::{
    Attendance, GroupId, Lesson, LessonParts, Lock, LockedTo, MethodId, OvenId, Phase, ShelfId,
    Timing, TinChoiceId,
};
use crate::units::{Minute, Minutes};

/// What a group is held to, from nothing to all of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Hold {
    /// Nothing.
    Free,
    /// Method, tin, oven and shelf.
    Place,
    /// These, and when it goes into the oven.
    Bake,
    /// These, and the start of every step.
    Steps,
    /// It was not served, and is not.
    Out,
}

/// What each group is held to, by its place in the lesson of the day.
pub(super) type Holds = Vec<Hold>;

/// The plan before, for the lesson of the day.
pub(super) struct Before<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) plan: &'a CheckedPlan,
    pub(super) after: &'a Lesson,
    /// What each group of the day had, to be held to in full; empty where it
    /// cannot be held at all.
    had: Vec<Had>,
    /// Where the class's own steps that may be moved were.
    class: BTreeMap<usize, Minute>,
}

/// What a group had, in terms of the lesson of the day.
#[derive(Default)]
struct Had {
    place: Vec<LockedTo>,
    bake: Option<LockedTo>,
    steps: Vec<LockedTo>,
}

impl<'a> Before<'a> {
    pub(super) fn new(lesson: &'a Lesson, plan: &'a CheckedPlan, after: &'a Lesson) -> Self {
        let mut before = Self { lesson, plan, after, had: Vec::new(), class: BTreeMap::new() };
        let groups = (0..after.groups.len()).map(GroupId);
        before.had = groups.map(|g| before.had(g).unwrap_or_default()).collect();
        before.class = before.class_steps();
        before
    }

    /// The group of that name before.
    pub(super) fn group(&self, after: GroupId) -> Option<GroupId> {
        let name = &self.after.group(after).name;
        self.lesson.groups.iter().position(|g| g.name == *name).map(GroupId)
    }

    /// Whether a group that was served is as it was: its pupils, its recipe and
    /// where and how it works.
    pub(super) fn is_other(&self, after: GroupId) -> bool {
        let Some(before) = self.group(after) else { return false };
        let (was, is) = (self.lesson.group(before), self.after.group(after));
        let recipe = |lesson: &Lesson, id| lesson.recipe_of(id).name.clone();
        self.plan.plan().choice(before).is_some()
            && (was.pupils, was.room, was.unit, was.keep_apart, was.attendance)
                == (is.pupils, is.room, is.unit, is.keep_apart, is.attendance)
            && was.pace.total_cmp(&is.pace).is_eq()
            && recipe(self.lesson, before) == recipe(self.after, after)
    }

    /// Whether a group wanted to take part and was not served.
    fn was_refused(&self, after: GroupId) -> bool {
        let Some(before) = self.group(after) else { return false };
        let (was, is) = (self.lesson.group(before), self.after.group(after));
        self.plan.plan().choice(before).is_none()
            && (was.attendance, is.attendance) == (Attendance::TakesPart, Attendance::TakesPart)
    }

    /// Ovens a group's tins stood in, by the ids of the lesson of the day.
    pub(super) fn ovens(&self, after: GroupId) -> Vec<OvenId> {
        let Some(before) = self.group(after) else { return Vec::new() };
        let loads = self.plan.plan().loads.iter().filter(|l| l.group == before);
        loads.filter_map(|l| self.oven(l.oven)).collect()
    }

    fn oven(&self, before: OvenId) -> Option<OvenId> {
        let name = &self.lesson.ovens[before.0].name;
        self.after.ovens.iter().position(|o| o.name == *name).map(OvenId)
    }

    fn had(&self, after: GroupId) -> Option<Had> {
        let before = self.group(after)?;
        let choice = self.plan.plan().choice(before)?;
        let was = self.lesson.recipe_of(before);
        let is = self.after.recipe_of(after);
        if was.name != is.name {
            return None;
        }
        let method_was = self.lesson.method_of(before, choice.method);
        let method = is.methods.iter().position(|m| m.name == method_was.name).map(MethodId)?;
        let mut place = vec![LockedTo::Method(method)];
        if let Some(tin) = choice.tin {
            let label = &self.lesson.tin_choice_of(before, tin).label;
            let tin = is.tins.iter().position(|t| t.label == *label).map(TinChoiceId)?;
            place.push(LockedTo::Tin(tin));
            place.extend(self.stood(before));
        }
        let later = -later(self.lesson, self.after);
        let starts = self.plan.plan().steps.iter().filter(|s| s.group == before);
        let mut steps = Vec::new();
        for placed in starts {
            let step = method_was.steps.get(placed.step.0)?;
            steps.push(LockedTo::Start(step.name.clone(), placed.start + later));
        }
        let load = method_was.bake_steps().map(|(load, _, _)| &method_was.steps[load.0].name);
        let is_load = |to: &&LockedTo| matches!(to, LockedTo::Start(name, _) if Some(name) == load);
        let bake = steps.iter().find(is_load).cloned();
        Some(Had { place, bake, steps })
    }

    /// Where its tins stood, as far as one lock can say it.
    fn stood(&self, before: GroupId) -> Option<LockedTo> {
        let mut loads = self.plan.plan().loads.iter().filter(|l| l.group == before);
        let first = loads.next()?;
        let (mut same_oven, mut same_shelf) = (true, true);
        for load in loads {
            same_oven &= load.oven == first.oven;
            same_shelf &= load.shelf == first.shelf;
        }
        let oven = self.oven(first.oven).filter(|_| same_oven)?;
        let shelves = self.after.ovens[oven.0].shelves.len();
        let shelf = Some(first.shelf).filter(|s: &ShelfId| same_shelf && s.0 < shelves);
        Some(LockedTo::Oven(oven, shelf))
    }

    /// Steps in the course of the lesson that may lie here or there, and still
    /// may lie where they were.
    fn class_steps(&self) -> BTreeMap<usize, Minute> {
        let later = -later(self.lesson, self.after);
        let mut all = BTreeMap::new();
        for (i, step) in self.after.class_steps.iter().enumerate() {
            let Timing::Between(from, until) = step.timing else { continue };
            let period = &self.after.periods[step.period.0];
            let same = |placed: &&crate::plan::ClassPlacement| {
                let was = &self.lesson.class_steps[placed.step.0];
                was.name == step.name && self.lesson.periods[was.period.0].name == period.name
            };
            let Some(was) = self.plan.plan().class_steps.iter().find(same) else { continue };
            let (start, end) = (was.start + later, was.end + later);
            let opening: Minutes = self
                .after
                .class_steps_in(step.period, Phase::Opening)
                .map(|(_, s)| s.minutes.with_caution(self.after.rules.caution).rounded_up())
                .fold(Minutes::ZERO, |a, b| a + b);
            if from <= start && end <= until && period.start + opening <= start {
                all.insert(i, start);
            }
        }
        all
    }

    /// The lesson of the day with groups held, and with the class's own steps
    /// where they were if `class`; `None` if it would be no lesson.
    pub(super) fn held(&self, holds: &[Hold], class: bool) -> Option<Lesson> {
        let mut parts: LessonParts = self.after.clone().into_parts();
        for (g, &hold) in holds.iter().enumerate() {
            let had = &self.had[g];
            let all: Vec<&LockedTo> = match hold {
                Hold::Free | Hold::Out => Vec::new(),
                Hold::Place => had.place.iter().collect(),
                Hold::Bake => had.place.iter().chain(&had.bake).collect(),
                Hold::Steps => had.place.iter().chain(&had.steps).collect(),
            };
            let lock = |to: &LockedTo| Lock { group: GroupId(g), to: to.clone() };
            parts.locks.extend(all.into_iter().map(lock));
            if hold == Hold::Out {
                parts.groups[g].attendance = Attendance::LeftOut;
            }
        }
        if class {
            for (&step, &at) in &self.class {
                parts.class_steps[step].timing = Timing::At(at);
            }
        }
        Lesson::new(parts).ok()
    }

    /// The most each group can be held to by itself: as far as its method, tin
    /// and oven are still there and the bells leave time.
    pub(super) fn most(&self) -> Holds {
        let mut holds: Holds = (0..self.after.groups.len())
            .map(|g| match self.had[g].place.is_empty() {
                false => Hold::Steps,
                true if self.was_refused(GroupId(g)) => Hold::Out,
                true => Hold::Free,
            })
            .collect();
        for lower in [Hold::Bake, Hold::Place, Hold::Free] {
            let Some(lesson) = self.held(&holds, false) else {
                return vec![Hold::Free; holds.len()];
            };
            let problem = expand(&lesson);
            for (g, hold) in holds.iter_mut().enumerate() {
                let task = problem.groups.iter().find(|t| t.group == GroupId(g));
                let possible = task.is_some_and(|t| {
                    t.options
                        .iter()
                        .any(|o| o.windows.possible() && (o.bake.is_none() || !t.ovens.is_empty()))
                });
                if !possible && *hold != Hold::Out {
                    *hold = (*hold).min(lower);
                }
            }
        }
        holds
    }

    /// Whether a group can be held to more than its place.
    pub(super) fn has_bake(&self, group: usize) -> bool {
        self.had[group].bake.is_some()
    }
}
