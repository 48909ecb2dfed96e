//! Holding groups to what they had, by locks. The locks are only a means: plans
//! made with them are judged without.

use std::collections::BTreeMap;

use super::had::Had;
use super::keeps::{Keeps, keeps, later};
use super::renumber::Renumber;
use crate::check::CheckedPlan;
use crate::graph::expand;
use crate::model::{
    Attendance, ClassStepId, GroupId, Lesson, LessonParts, Lock, OvenId, Phase, Slip, Timing,
};
use crate::units::{Minute, Minutes};

/// The plan people were told, beside the lesson as it is now. Groups are given
/// by their numbers in the lesson as it is now.
pub struct Base<'a> {
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    pub(super) now: &'a Lesson,
    pub(super) names: Renumber<'a>,
    was: Vec<Was>,
    /// Groups that are behind their plan.
    pub(super) late: Vec<GroupId>,
    /// Where the class's own steps that may be moved were.
    class: BTreeMap<usize, Minute>,
}

/// How a group fared in the base plan.
enum Was {
    /// It has nothing that it could be held to.
    Else,
    /// It took part and was not served.
    Refused,
    /// It was served, and had this.
    Served(Had),
}

/// What is held of a base plan.
#[derive(Debug, Clone, Copy)]
pub struct Holding<'h> {
    /// How much each group keeps; nothing, where no more are said. All of a
    /// group that was not served is that it is not.
    pub groups: &'h [Keeps],
    /// The class's own steps that may lie here or there stay where they were.
    pub class: bool,
    /// What began before this minute stays, whoever's it is, and loads that are
    /// called by then; nothing else begins before it. Who was not served by then
    /// is not, nor who lost their bake.
    pub begun_before: Option<Minute>,
    /// Locks that the lesson has on groups that keep something give way; else
    /// they come first.
    pub instead_of_locks: bool,
}

impl<'h> Holding<'h> {
    /// So much of each group and nothing else.
    pub fn only(groups: &'h [Keeps]) -> Self {
        Self { groups, class: false, begun_before: None, instead_of_locks: false }
    }
}

impl<'a> Base<'a> {
    /// A lesson with its plan, and the lesson as it is now.
    pub fn new((lesson, plan): (&'a Lesson, &'a CheckedPlan), now: &'a Lesson) -> Self {
        let names = Renumber::new(lesson, now);
        let mut base = Self {
            lesson,
            plan,
            now,
            names,
            was: Vec::new(),
            late: Vec::new(),
            class: BTreeMap::new(),
        };
        base.was = (0..now.groups.len()).map(|g| base.fared(GroupId(g))).collect();
        base.class = base.class_steps();
        base
    }

    /// It, with groups behind the plan. Groups and minutes are those of the plan's
    /// lesson.
    #[must_use]
    pub fn behind(mut self, slips: &[Slip]) -> Self {
        let by = -later(self.lesson, self.now);
        for (g, was) in self.was.iter_mut().enumerate() {
            let before = self.names.group_before(GroupId(g));
            let of_group = slips.iter().filter(|slip| Some(slip.group) == before);
            let of_group: Vec<Slip> =
                of_group.map(|slip| Slip { from: slip.from + by, ..*slip }).collect();
            if let (Was::Served(had), false) = (&*was, of_group.is_empty()) {
                let late = had.clone().late(&of_group, true);
                // The lesson as it is now may not know yet how long the bake lasts.
                let is_known = late.lasts().is_none_or(|m| self.now.groups[g].baked_for == Some(m));
                let late = if is_known { late } else { had.clone().late(&of_group, false) };
                *was = Was::Served(late);
                self.late.push(GroupId(g));
            }
        }
        self
    }

    /// The lesson of the plan.
    pub fn lesson(&self) -> &'a Lesson {
        self.lesson
    }

    /// The plan.
    pub fn plan(&self) -> &'a CheckedPlan {
        self.plan
    }

    /// The number a group had in the lesson of the plan.
    pub fn group(&self, group: GroupId) -> Option<GroupId> {
        self.names.group_before(group)
    }

    /// How much a group keeps in a plan of the lesson as it is now.
    pub fn keeps(&self, plan: &CheckedPlan, group: GroupId) -> Option<Keeps> {
        keeps((self.lesson, self.plan, self.group(group)?), (self.now, plan, group))
    }

    /// Whether a group that was served is as it was: its pupils, its recipe and
    /// where and how it works.
    pub fn is_as_it_was(&self, group: GroupId) -> bool {
        let Some(before) = self.group(group) else { return false };
        let (was, is) = (self.lesson.group(before), self.now.group(group));
        self.plan.plan().choice(before).is_some()
            && (was.pupils, was.room, was.unit, was.keep_apart, was.attendance)
                == (is.pupils, is.room, is.unit, is.keep_apart, is.attendance)
            && was.pace.total_cmp(&is.pace).is_eq()
            && self.makes_the_same(before, group)
    }

    /// Whether the first on a group's list of tins is another than it was: somebody
    /// has chosen it.
    pub fn chooses_anew(&self, group: GroupId) -> bool {
        let first = |lesson: &'a Lesson, group: GroupId| {
            let tin = *lesson.group(group).tins.first()?;
            Some(lesson.tin_choice_of(group, tin).label.as_str())
        };
        self.group(group).is_some_and(|before| first(self.lesson, before) != first(self.now, group))
    }

    /// Whether a group took part and was not served, and takes part again.
    pub fn was_refused(&self, group: GroupId) -> bool {
        matches!(self.was[group.0], Was::Refused)
    }

    /// Whether a group that was not served would make the same again: in mid-lesson
    /// it does not begin.
    pub fn stays_refused(&self, group: GroupId) -> bool {
        let same = |before| self.makes_the_same(before, group);
        self.was_refused(group) && self.group(group).is_some_and(same)
    }

    /// Whether a time of its bake is known to which a group can be held.
    pub fn has_bake(&self, group: GroupId) -> bool {
        matches!(&self.was[group.0], Was::Served(had) if had.bakes())
    }

    /// Ovens a group's tins stood in, by their numbers now.
    pub fn ovens(&self, group: GroupId) -> Vec<OvenId> {
        let Some(before) = self.group(group) else { return Vec::new() };
        let loads = self.plan.plan().loads.iter().filter(|l| l.group == before);
        loads.filter_map(|l| self.names.oven(l.oven)).collect()
    }

    /// What a group had, by the numbers and minutes of the lesson as it is now.
    pub(super) fn had_of(&self, group: GroupId) -> Option<&Had> {
        match &self.was[group.0] {
            Was::Served(had) => Some(had),
            Was::Else | Was::Refused => None,
        }
    }

    fn makes_the_same(&self, before: GroupId, now: GroupId) -> bool {
        self.lesson.recipe_of(before).name == self.now.recipe_of(now).name
    }

    fn fared(&self, group: GroupId) -> Was {
        let Some(before) = self.group(group) else { return Was::Else };
        let takes_part = |of: &crate::model::Group| of.attendance == Attendance::TakesPart;
        if self.plan.plan().choice(before).is_some() {
            return self.had(before, group).map_or(Was::Else, Was::Served);
        }
        match takes_part(self.lesson.group(before)) && takes_part(self.now.group(group)) {
            true => Was::Refused,
            false => Was::Else,
        }
    }

    fn had(&self, before: GroupId, now: GroupId) -> Option<Had> {
        if !self.makes_the_same(before, now) {
            return None;
        }
        let had = Had::of(self.lesson, self.plan.plan(), before)?;
        had.told(|to| self.names.lock(before, to), -later(self.lesson, self.now))
    }

    /// Steps in the course of the lesson that may lie here or there, and still
    /// may lie where they were.
    fn class_steps(&self) -> BTreeMap<usize, Minute> {
        let later = -later(self.lesson, self.now);
        let mut all = BTreeMap::new();
        for (i, step) in self.now.class_steps.iter().enumerate() {
            let Timing::Between(from, until) = step.timing else { continue };
            let period = &self.now.periods[step.period.0];
            let is_it = |placed: &&crate::plan::ClassPlacement| {
                self.names.class_step(placed.step) == Some(ClassStepId(i))
            };
            let Some(was) = self.plan.plan().class_steps.iter().find(is_it) else { continue };
            let (start, end) = (was.start + later, was.end + later);
            let opening: Minutes = self
                .now
                .class_steps_in(step.period, Phase::Opening)
                .map(|(_, s)| s.minutes.with_caution(self.now.rules.caution).rounded_up())
                .fold(Minutes::ZERO, |a, b| a + b);
            if from <= start && end <= until && period.start + opening <= start {
                all.insert(i, start);
            }
        }
        all
    }

    /// The lesson as it is now with things held; `None` if it would be no
    /// lesson.
    pub fn held(&self, holding: Holding<'_>) -> Option<Lesson> {
        let mut parts: LessonParts = self.now.clone().into_parts();
        for (g, was) in self.was.iter().enumerate() {
            let keeps = holding.groups.get(g).copied().unwrap_or(Keeps::Nothing);
            let lost = holding.begun_before.is_some_and(|by| self.is_lost(GroupId(g), by));
            let had = match was {
                Was::Served(had) if !lost => had,
                Was::Served(_) => {
                    parts.groups[g].attendance = Attendance::LeftOut;
                    continue;
                }
                Was::Refused
                    if keeps == Keeps::All
                        || holding.begun_before.is_some() && self.stays_refused(GroupId(g)) =>
                {
                    parts.groups[g].attendance = Attendance::LeftOut;
                    continue;
                }
                Was::Refused | Was::Else => continue,
            };
            let mut all = had.locks(keeps);
            if let Some(before) = holding.begun_before {
                let begun = self.begun_locks(had, GroupId(g), before).into_iter();
                let more: Vec<_> = begun.filter(|to| !all.contains(to)).collect();
                all.extend(more);
            }
            if holding.instead_of_locks && keeps > Keeps::Nothing {
                parts.locks.retain(|l| l.group != GroupId(g));
            }
            let lock = |to: &crate::model::LockedTo| Lock { group: GroupId(g), to: to.clone() };
            parts.locks.extend(all.into_iter().map(lock));
        }
        let begun = |at: Minute| holding.begun_before.is_some_and(|before| at < before);
        for (&step, &at) in self.class.iter().filter(|(_, at)| holding.class || begun(**at)) {
            parts.class_steps[step].timing = Timing::At(at);
        }
        parts.begun = holding.begun_before.map(|before| self.begun(before));
        Lesson::new(parts).ok()
    }

    /// The most each group can be held to by itself: as far as its method, tin
    /// and oven are still there and the bells leave time, with what has begun
    /// before a minute held anyway.
    pub fn most(&self, begun_before: Option<Minute>) -> Vec<Keeps> {
        let able = |was: &Was| match was {
            Was::Else => Keeps::Nothing,
            Was::Refused | Was::Served(_) => Keeps::All,
        };
        let mut most: Vec<Keeps> = self.was.iter().map(able).collect();
        for lower in [Keeps::Bake, Keeps::Place, Keeps::Nothing] {
            let holding = Holding { begun_before, ..Holding::only(&most) };
            let Some(lesson) = self.held(holding) else {
                return vec![Keeps::Nothing; most.len()];
            };
            let problem = expand(&lesson);
            for (g, keeps) in most.iter_mut().enumerate() {
                let task = problem.groups.iter().find(|t| t.group == GroupId(g));
                let possible = task.is_some_and(|t| {
                    t.options
                        .iter()
                        .any(|o| o.windows.possible() && (o.bake.is_none() || !t.ovens.is_empty()))
                });
                if !possible && !self.was_refused(GroupId(g)) {
                    *keeps = (*keeps).min(lower);
                }
            }
        }
        most
    }
}
