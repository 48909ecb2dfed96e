//! A served group of a plan, by the names of its lesson.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};
use crate::plan::Load;
use crate::units::{Minute, Minutes};

/// A group that has a place in a plan.
pub struct Served<'a> {
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    id: GroupId,
}

/// A step by its name, with its start and end.
pub type Timed<'a> = (&'a str, Minute, Minute);

impl<'a> Served<'a> {
    /// `None` if it is not served.
    pub fn of((lesson, plan, id): (&'a Lesson, &'a CheckedPlan, GroupId)) -> Option<Self> {
        plan.plan().choice(id).map(|_| Self { lesson, plan, id })
    }

    /// Its recipe's name.
    pub fn recipe(&self) -> &'a str {
        &self.lesson.recipe_of(self.id).name
    }

    /// Its method's name.
    pub fn method(&self) -> &'a str {
        let choice = self.plan.plan().choice(self.id);
        choice.map_or("", |c| &self.lesson.method_of(self.id, c.method).name)
    }

    /// What its recipe calls the tin, if it bakes.
    pub fn tin(&self) -> Option<&'a str> {
        let tin = self.plan.plan().choice(self.id)?.tin?;
        Some(&self.lesson.tin_choice_of(self.id, tin).label)
    }

    /// Recipe, method and tin.
    pub fn choice(&self) -> (&'a str, &'a str, Option<&'a str>) {
        (self.recipe(), self.method(), self.tin())
    }

    /// Its loads, ordered by oven and shelf.
    pub fn loads(&self) -> Vec<&'a Load> {
        let mut loads: Vec<&Load> =
            self.plan.plan().loads.iter().filter(|l| l.group == self.id).collect();
        loads.sort_by_key(|l| (l.oven, l.shelf, l.number));
        loads
    }

    /// Ovens and shelves of its tins, by the ovens' names.
    pub fn places(&self) -> Vec<(&'a str, usize)> {
        let mut all: Vec<(&str, usize)> = self
            .loads()
            .iter()
            .map(|l| (self.lesson.ovens[l.oven.0].name.as_str(), l.shelf.0))
            .collect();
        all.sort_unstable();
        all
    }

    /// When its tins go in and come out, the clock being put on by so much.
    pub(super) fn bakes_later(&self, by: Minutes) -> Vec<(Minute, Minute)> {
        let mut all: Vec<(Minute, Minute)> =
            self.loads().iter().map(|l| (l.start + by, l.end + by)).collect();
        all.sort_unstable();
        all
    }

    /// When its tins go in and come out.
    pub(super) fn bakes(&self) -> Vec<(Minute, Minute)> {
        self.bakes_later(Minutes::ZERO)
    }

    /// Its steps by their starts, the clock being put on by so much.
    pub(super) fn steps_later(&self, by: Minutes) -> Vec<Timed<'a>> {
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
    pub fn steps(&self) -> Vec<Timed<'a>> {
        self.steps_later(Minutes::ZERO)
    }
}
