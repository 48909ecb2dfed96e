//! How much of its plan a group keeps from one plan to another.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};
use crate::plan::Load;
use crate::units::{Minute, Minutes};

/// What a group keeps, from nothing to all of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Keeps {
    /// Not even its oven.
    Nothing,
    /// Recipe, method, tin, oven and shelf.
    Place,
    /// These, and when its tins go in and come out.
    Bake,
    /// These, and the time of every step.
    All,
}

/// What a group keeps that is served in both plans; `None` if it is not served
/// in one of them. Groups, ovens, methods, tins and steps are compared by their
/// names, times by the clock.
pub fn keeps(
    before: (&Lesson, &CheckedPlan, GroupId),
    after: (&Lesson, &CheckedPlan, GroupId),
) -> Option<Keeps> {
    let (was, is) = (Served::of(before)?, Served::of(after)?);
    let later = later(before.0, after.0);
    Some(if was.choice() != is.choice() || was.places() != is.places() {
        Keeps::Nothing
    } else if was.bakes() != is.bakes_later(later) {
        Keeps::Place
    } else if was.steps() != is.steps_later(later) {
        Keeps::Bake
    } else {
        Keeps::All
    })
}

/// By how much a lesson begins later than another.
pub(super) fn later(before: &Lesson, after: &Lesson) -> Minutes {
    after.periods[0].start_clock.minutes_since(before.periods[0].start_clock)
}

/// A served group of a plan.
pub(super) struct Served<'a> {
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    id: GroupId,
}

/// A step by its name, with its start and end.
pub(super) type Timed<'a> = (&'a str, Minute, Minute);

impl<'a> Served<'a> {
    /// `None` if it is not served.
    pub(super) fn of((lesson, plan, id): (&'a Lesson, &'a CheckedPlan, GroupId)) -> Option<Self> {
        plan.plan().choice(id).map(|_| Self { lesson, plan, id })
    }

    pub(super) fn recipe(&self) -> &'a str {
        &self.lesson.recipe_of(self.id).name
    }

    pub(super) fn method(&self) -> &'a str {
        let choice = self.plan.plan().choice(self.id);
        choice.map_or("", |c| &self.lesson.method_of(self.id, c.method).name)
    }

    pub(super) fn tin(&self) -> Option<&'a str> {
        let tin = self.plan.plan().choice(self.id)?.tin?;
        Some(&self.lesson.tin_choice_of(self.id, tin).label)
    }

    pub(super) fn choice(&self) -> (&'a str, &'a str, Option<&'a str>) {
        (self.recipe(), self.method(), self.tin())
    }

    /// Its loads, ordered by oven and shelf.
    pub(super) fn loads(&self) -> Vec<&'a Load> {
        let mut loads: Vec<&Load> =
            self.plan.plan().loads.iter().filter(|l| l.group == self.id).collect();
        loads.sort_by_key(|l| (l.oven, l.shelf, l.number));
        loads
    }

    /// Ovens and shelves of its tins, by the ovens' names.
    pub(super) fn places(&self) -> Vec<(&'a str, usize)> {
        let mut all: Vec<(&str, usize)> = self
            .loads()
            .iter()
            .map(|l| (self.lesson.ovens[l.oven.0].name.as_str(), l.shelf.0))
            .collect();
        all.sort_unstable();
        all
    }

    fn bakes_later(&self, by: Minutes) -> Vec<(Minute, Minute)> {
        let mut all: Vec<(Minute, Minute)> =
            self.loads().iter().map(|l| (l.start + by, l.end + by)).collect();
        all.sort_unstable();
        all
    }

    fn bakes(&self) -> Vec<(Minute, Minute)> {
        self.bakes_later(Minutes::ZERO)
    }

    fn steps_later(&self, by: Minutes) -> Vec<Timed<'a>> {
        let Some(choice) = self.plan.plan().choice(self.id) else { return Vec::new() };
        let method = self.lesson.method_of(self.id, choice.method);
        let mut all: Vec<Timed<'_>> = self
            .plan
            .plan()
            .steps
            .iter()
            .filter(|s| s.group == self.id)
            .filter_map(|s| {
                let step = method.steps.get(s.step.0)?;
                Some((step.name.as_str(), s.start + by, s.end + by))
            })
            .collect();
        all.sort_unstable_by_key(|&(name, start, end)| (start, end, name));
        all
    }

    /// Its steps, by their starts.
    pub(super) fn steps(&self) -> Vec<Timed<'a>> {
        self.steps_later(Minutes::ZERO)
    }
}
