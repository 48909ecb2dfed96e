//! The names by which a plan file calls the parts of its lesson.
//!
//! A number stands as `#3`, counted from 1, where a name would not lead back
//! to the same thing; a plan is written whatever it says.

use crate::file::understand::names::Names;
use crate::model::{ClassStepId, GroupId, Lesson, MethodId, PoolId, Recipe};
use crate::plan::Rule;

/// The names of everything a plan speaks of.
pub(super) struct PlanNames<'a> {
    pub lesson: &'a Lesson,
    pub groups: Names,
    pub ovens: Names,
    pub adults: Names,
    pub periods: Names,
    pub rooms: Names,
    pub tins: Names,
    pub kit: Names,
    pub rules: Names,
}

impl<'a> PlanNames<'a> {
    pub fn new(lesson: &'a Lesson) -> Self {
        Self {
            lesson,
            groups: listed("group", lesson.groups.iter().map(|g| g.name.as_str())),
            ovens: listed("oven", lesson.ovens.iter().map(|o| o.name.as_str())),
            adults: listed("adult", lesson.adults.iter().map(|a| a.name.as_str())),
            periods: listed("period", lesson.periods.iter().map(|p| p.name.as_str())),
            rooms: listed("room", lesson.rooms.iter().map(|r| r.name.as_str())),
            tins: listed("tin", lesson.tins.iter().map(|t| t.name.as_str())),
            kit: listed("kit", lesson.kit_kinds.iter().map(|k| k.name.as_str())),
            rules: listed("rule", Rule::ALL.iter().map(|r| r.name())),
        }
    }

    fn recipe(&self, group: GroupId) -> Option<&'a Recipe> {
        self.lesson.recipes.get(self.lesson.groups.get(group.0)?.recipe.0)
    }

    /// Methods of a group's recipe.
    pub fn methods(&self, group: GroupId) -> Names {
        let methods = self.recipe(group).map_or(&[][..], |r| &r.methods);
        listed("method", methods.iter().map(|m| m.name.as_str()))
    }

    /// Tin choices of a group's recipe.
    pub fn labels(&self, group: GroupId) -> Names {
        let tins = self.recipe(group).map_or(&[][..], |r| &r.tins);
        listed("tin choice", tins.iter().map(|t| t.label.as_str()))
    }

    /// Steps of a method of a group's recipe; none without a method.
    pub fn steps(&self, group: GroupId, method: Option<MethodId>) -> Names {
        let method = self.recipe(group).and_then(|r| r.methods.get(method?.0));
        let steps = method.map_or(&[][..], |m| &m.steps);
        listed("step", steps.iter().map(|s| s.name.as_str()))
    }

    /// The class steps of a period, each with its place in the lesson.
    pub fn class_steps(&self, period: usize) -> (Names, Vec<ClassStepId>) {
        let mut names = Names::new("class step");
        let mut ids = Vec::new();
        for (i, step) in self.lesson.class_steps.iter().enumerate() {
            if step.period.0 == period {
                names.add_unchecked(&step.name);
                ids.push(ClassStepId(i));
            }
        }
        (names, ids)
    }

    /// The pool of that kit in that place.
    pub fn pool(&self, kit: usize, room: Option<usize>, unit: Option<&str>) -> Option<PoolId> {
        let fits = |p: &crate::model::KitPool| {
            let named = p.unit.and_then(|u| self.lesson.units.get(u.0)).map(|u| u.name.as_str());
            p.kit.0 == kit && p.room.map(|r| r.0) == room && named == unit
        };
        self.lesson.kit_pools.iter().position(fits).map(PoolId)
    }
}

fn listed<'n>(what: &'static str, all: impl Iterator<Item = &'n str>) -> Names {
    let mut names = Names::new(what);
    all.for_each(|name| names.add_unchecked(name));
    names
}

/// The name of the thing at a position, or its number where no name leads
/// back to it.
pub(super) fn called(names: &Names, position: usize) -> String {
    match names.all().nth(position) {
        Some(name) if names.position(name) == Some(position) => name.to_owned(),
        _ => format!("#{}", position.saturating_add(1)),
    }
}

/// The position of what is called so.
pub(super) fn meant(names: &Names, called: &str) -> Option<usize> {
    names.position(called).or_else(|| {
        let number: usize = called.strip_prefix('#')?.parse().ok()?;
        number.checked_sub(1).filter(|&n| n < names.len())
    })
}
