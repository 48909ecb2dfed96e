//! Steps done outside the period: beforehand, or collected after it.

use std::collections::BTreeSet;

use super::Builder;
use super::findings::quoted;
use super::methods::is_of_bake;
use super::names::Names;
use crate::file::format::GroupShape;
use crate::finding::Path;
use crate::model::{Group, Method, Step, StepId};

/// On which side of the period.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum OutsideBells {
    Beforehand,
    Collected,
}

impl OutsideBells {
    fn field(self) -> &'static str {
        match self {
            OutsideBells::Beforehand => "beforehand",
            OutsideBells::Collected => "collected",
        }
    }

    fn allowed(self, step: &Step) -> bool {
        match self {
            OutsideBells::Beforehand => step.may_be_beforehand,
            OutsideBells::Collected => step.may_be_collected,
        }
    }

    /// The steps that must lie on the same side as `step`.
    fn neighbours(self, method: &Method, step: StepId) -> impl Iterator<Item = &Step> {
        method
            .links
            .iter()
            .filter_map(move |l| match self {
                OutsideBells::Beforehand => (l.to == step).then_some(l.from),
                OutsideBells::Collected => (l.from == step).then_some(l.to),
            })
            .filter_map(|s| method.steps.get(s.0))
    }
}

impl Builder<'_> {
    /// Works out which steps of a group are done outside the period.
    pub(super) fn outside(&mut self, path: &Path, shape: &GroupShape, group: &mut Group) {
        let file = self.file;
        group.beforehand =
            self.side(path, OutsideBells::Beforehand, (&file.beforehand, &shape.beforehand), group);
        group.collected =
            self.side(path, OutsideBells::Collected, (&file.collected, &shape.collected), group);
        for name in group.beforehand.intersection(&group.collected) {
            let message = format!("{} is both done beforehand and collected", quoted(name));
            self.findings.error("both-outside", path, message, "leave one of them out");
        }
    }

    fn side(
        &mut self,
        path: &Path,
        side: OutsideBells,
        (lesson, own): (&[String], &[String]),
        group: &Group,
    ) -> BTreeSet<String> {
        let steps = self.step_names_of(group);
        let mut names: Vec<(String, Path)> = Vec::new();
        for (i, name) in lesson.iter().enumerate().take(200) {
            // Another group's recipe may have it: see `check_lesson_outside`.
            if steps.position(name).is_some() {
                names.push((name.clone(), Path::root().field(side.field()).index(i)));
            }
        }
        for (i, name) in own.iter().enumerate().take(200) {
            let at = path.field(side.field()).index(i);
            if steps.find(&mut self.findings, &at, name).is_some() {
                names.push((name.clone(), at));
            }
        }
        let set: BTreeSet<String> = names.iter().map(|(n, _)| n.clone()).collect();
        for (name, at) in &names {
            self.check_side(at, side, name, &set, group);
        }
        set
    }

    /// Names of the steps of all methods a group may use, as in the file.
    pub(super) fn step_names_of(&self, group: &Group) -> Names {
        let mut names = Names::new("step");
        let mut add = |name: &str| {
            if names.position(name).is_none() {
                names.add_unchecked(name);
            }
        };
        let recipe = &self.parts.recipes[group.recipe.0];
        for id in &group.methods {
            let Some(method) = recipe.methods.get(id.0) else { continue };
            method.steps.iter().for_each(|s| add(&s.name));
            if let Some(Some(bake)) = self.inside[group.recipe.0].bakes.get(id.0) {
                add(bake);
            }
        }
        names
    }

    fn check_side(
        &mut self,
        path: &Path,
        side: OutsideBells,
        name: &str,
        set: &BTreeSet<String>,
        group: &Group,
    ) {
        let recipe = &self.parts.recipes[group.recipe.0];
        let bakes = &self.inside[group.recipe.0].bakes;
        let done = match side {
            OutsideBells::Beforehand => "done beforehand",
            OutsideBells::Collected => "collected after the lesson",
        };
        for id in &group.methods {
            let Some(method) = recipe.methods.get(id.0) else { continue };
            let is_bake = bakes.get(id.0).is_some_and(|b| b.as_deref() == Some(name));
            let step = method.step_named(name);
            let of_bake = step.is_some_and(|s| is_of_bake(method.steps[s.0].kind));
            if is_bake || of_bake {
                let message = format!("{} belongs to the bake: it is never {done}", quoted(name));
                self.findings.error("bake-outside", path, message, "");
                return;
            }
            let Some(step) = step else { continue };
            if !side.allowed(&method.steps[step.0]) {
                let message = format!(
                    "{} of {} is not marked as a step that may be {done}",
                    quoted(name),
                    quoted(&recipe.name)
                );
                let (code, hint) = match side {
                    OutsideBells::Beforehand => {
                        ("not-beforehand", "mark it `may_be_beforehand: true`")
                    }
                    OutsideBells::Collected => {
                        ("not-collected", "mark it `may_be_collected: true`")
                    }
                };
                self.findings.error(code, path, message, hint);
                return;
            }
            let missing = side.neighbours(method, step).find(|s| !set.contains(&s.name));
            if let Some(missing) = missing {
                let (code, where_) = match side {
                    OutsideBells::Beforehand => ("beforehand-order", "before"),
                    OutsideBells::Collected => ("collected-order", "after"),
                };
                let (step, missing) = (quoted(name), quoted(&missing.name));
                let message =
                    format!("{step} is {done}, but {missing}, which comes {where_} it, is not");
                self.findings.error(code, path, message, format!("add {missing} as well"));
                return;
            }
        }
    }

    /// Reports names said for every group that no group's recipe knows.
    pub(super) fn check_lesson_outside(&mut self) {
        let mut names = Names::new("step");
        for (group, sound) in self.parts.groups.iter().zip(&self.sound) {
            if *sound {
                for name in self.step_names_of(group).all() {
                    if names.position(name).is_none() {
                        names.add_unchecked(name);
                    }
                }
            }
        }
        let file = self.file;
        for (side, listed) in [
            (OutsideBells::Beforehand, &file.beforehand),
            (OutsideBells::Collected, &file.collected),
        ] {
            let path = Path::root().field(side.field());
            if !self.findings.length(&path, "steps", listed.len(), 200) {
                continue;
            }
            for (i, name) in listed.iter().enumerate() {
                names.find(&mut self.findings, &path.index(i), name);
            }
        }
    }
}
