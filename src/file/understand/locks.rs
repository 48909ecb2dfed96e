//! Locks: what the teacher has fixed.

use std::collections::BTreeMap;

use super::Builder;
use super::findings::quoted;
use super::methods::BAKE;
use crate::file::format::LockShape;
use crate::finding::Path;
use crate::model::{
    Group, GroupId, Lock, LockedTo, MethodId, OvenId, ShelfId, StepId, TinChoiceId,
};
use crate::units::{Minute, Minutes};

/// The locks of one group, each with its place in the file.
#[derive(Default)]
pub(super) struct Fixed {
    pub starts: Vec<(String, Minute, Path)>,
    tin: Option<(TinChoiceId, Path)>,
    pub method: Option<(MethodId, Path)>,
    oven: Option<OvenId>,
}

impl Builder<'_> {
    pub(super) fn locks(&mut self) {
        let path = Path::root().field("locks");
        let file = self.file;
        if !self.findings.length(&path, "locks", file.locks.len(), 1000) {
            return;
        }
        let mut fixed: BTreeMap<GroupId, Fixed> = BTreeMap::new();
        for (i, shape) in file.locks.iter().enumerate() {
            let path = path.index(i);
            let at = path.field("group");
            let Some(group) = self.groups.find(&mut self.findings, &at, &shape.group) else {
                continue;
            };
            if !self.sound.get(group).copied().unwrap_or(false) {
                continue;
            }
            let group = GroupId(group);
            self.lock(&path, shape, group, fixed.entry(group).or_default());
        }
        for (group, fixed) in &fixed {
            self.check_starts(*group, fixed);
            self.check_tin_and_method(*group, fixed);
        }
    }

    fn lock(&mut self, path: &Path, shape: &LockShape, id: GroupId, fixed: &mut Fixed) {
        let group = self.parts.groups[id.0].clone();
        let nothing = shape.tin.is_none()
            && shape.method.is_none()
            && shape.oven.is_none()
            && shape.shelf.is_none();
        match (&shape.step, shape.at) {
            (Some(step), Some(at)) => self.lock_start(path, (step, at), id, fixed),
            (None, None) if nothing => {
                let hint = "say a step and `at`, or a tin, a method or an oven";
                self.findings.error("lock-empty", path, "this lock fixes nothing", hint);
            }
            (None, None) => {}
            (step, _) => {
                let missing = if step.is_some() { "at" } else { "step" };
                let message =
                    format!("`{missing}` is missing: a start is fixed by `step` and `at`");
                self.findings.error("lock-empty", path, message, "");
            }
        }
        if let Some(name) = &shape.method {
            self.lock_method(&path.field("method"), name, &group, id, fixed);
        }
        if let Some(label) = &shape.tin {
            self.lock_tin(&path.field("tin"), label, &group, id, fixed);
        }
        match &shape.oven {
            Some(name) => self.lock_oven(path, name, shape.shelf, id, fixed),
            None if shape.shelf.is_some() => {
                let message = "a shelf is fixed, but not of which oven";
                self.findings.error("lock-empty", &path.field("shelf"), message, "add `oven`");
            }
            None => {}
        }
    }

    fn put(&mut self, group: GroupId, to: LockedTo) {
        self.parts.locks.push(Lock { group, to });
    }

    fn conflict(&mut self, path: &Path, group: GroupId, what: &str) {
        let name = quoted(&self.parts.groups[group.0].name);
        let message = format!("for group {name} {what} is fixed twice, and differently");
        self.findings.error("lock-conflict", path, message, "leave one of them out");
    }

    fn lock_start(&mut self, path: &Path, (step, at): (&str, i32), id: GroupId, fixed: &mut Fixed) {
        let group = self.parts.groups[id.0].clone();
        let names = self.step_names_of(&group);
        let known = names.find(&mut self.findings, &path.field("step"), step);
        if known.is_none() {
            return;
        }
        let bakes = &self.inside[group.recipe.0].bakes;
        let is_bake = group
            .methods
            .iter()
            .any(|m| bakes.get(m.0).is_some_and(|b| b.as_deref() == Some(step)));
        let step = if is_bake { BAKE } else { step };
        let start = Minute::new(at.clamp(-1440, 2880));
        self.check_start(&path.field("at"), step, start, &group);
        match fixed.starts.iter().find(|(name, _, _)| name == step) {
            Some((_, other, _)) if *other != start => {
                self.conflict(&path.field("at"), id, &format!("the start of {}", quoted(step)));
            }
            Some(_) => {}
            None => {
                fixed.starts.push((step.to_owned(), start, path.field("at")));
                self.put(id, LockedTo::Start(step.to_owned(), start));
            }
        }
    }

    /// Reports a start on the wrong side of a bell.
    fn check_start(&mut self, path: &Path, step: &str, start: Minute, group: &Group) {
        let Some(period) = self.parts.periods.get(group.period.0) else { return };
        let (bell, end) = (period.start, period.end);
        let recipe = &self.parts.recipes[group.recipe.0];
        let is_hand = |m: &MethodId| {
            let method = recipe.methods.get(m.0);
            method.and_then(|m| Some(m.steps[m.step_named(step)?.0].kind.is_hand())) == Some(true)
        };
        let (wrong, should) = if group.beforehand.contains(step) {
            (start >= bell, format!("before the start bell, minute {}", bell.get()))
        } else if group.collected.contains(step) && !group.methods.iter().any(is_hand) {
            // What cools or waits until it is collected may begin before the bell.
            (start < bell, format!("at the start bell, minute {}, or later", bell.get()))
        } else if group.collected.contains(step) {
            (start < end, format!("at the end bell, minute {}, or later", end.get()))
        } else {
            let wrong = start < bell || start >= end;
            (wrong, format!("from minute {} to before minute {}", bell.get(), end.get()))
        };
        if wrong {
            let message = format!("{} cannot start at {start}: it starts {should}", quoted(step));
            let hint = "minutes count from the first start bell";
            self.findings.error("lock-outside-period", path, message, hint);
        }
    }

    fn lock_method(
        &mut self,
        path: &Path,
        name: &str,
        group: &Group,
        id: GroupId,
        fixed: &mut Fixed,
    ) {
        let methods = &self.inside[group.recipe.0].methods;
        let Some(method) = methods.find(&mut self.findings, path, name).map(MethodId) else {
            return;
        };
        if !group.methods.contains(&method) {
            let message =
                format!("group {} may not use the method {}", quoted(&group.name), quoted(name));
            let hint = "add it to the group's `methods`";
            self.findings.error("lock-not-accepted", path, message, hint);
        }
        match &fixed.method {
            Some((other, _)) if *other != method => self.conflict(path, id, "the method"),
            Some(_) => {}
            None => {
                fixed.method = Some((method, path.clone()));
                self.put(id, LockedTo::Method(method));
            }
        }
    }

    fn lock_tin(
        &mut self,
        path: &Path,
        label: &str,
        group: &Group,
        id: GroupId,
        fixed: &mut Fixed,
    ) {
        let labels = &self.inside[group.recipe.0].labels;
        let Some(tin) = labels.find(&mut self.findings, path, label).map(TinChoiceId) else {
            return;
        };
        if !group.tins.contains(&tin) {
            let message =
                format!("group {} cannot use the tin {}", quoted(&group.name), quoted(label));
            let hint = "add it to the group's `tins`, and see that it has minutes and fits";
            self.findings.error("lock-not-accepted", path, message, hint);
        }
        match &fixed.tin {
            Some((other, _)) if *other != tin => self.conflict(path, id, "the tin"),
            Some(_) => {}
            None => {
                fixed.tin = Some((tin, path.clone()));
                self.put(id, LockedTo::Tin(tin));
            }
        }
    }

    fn lock_oven(
        &mut self,
        path: &Path,
        name: &str,
        shelf: Option<i64>,
        id: GroupId,
        fixed: &mut Fixed,
    ) {
        let at = path.field("oven");
        let Some(oven) = self.ovens.find(&mut self.findings, &at, name).map(OvenId) else { return };
        let group = self.parts.groups[id.0].clone();
        let found = self.parts.ovens[oven.0].clone();
        if found.out_of_order {
            let message = format!("{} is out of order", quoted(name));
            self.findings.error("lock-out-of-order", &at, message, "choose another oven");
        } else if !self.may_use(&group, Some(found.room), found.unit) {
            let message = format!("group {} may not use {}", quoted(&group.name), quoted(name));
            self.findings.error("lock-not-accepted", &at, message, "it stands elsewhere");
        }
        let shelf = shelf.and_then(|shelf| {
            let most = u32::try_from(found.shelves.len()).unwrap_or(1);
            let what = format!("the shelf of {}, from the top,", quoted(name));
            let shelf = self.findings.count(&path.field("shelf"), &what, shelf, (1, most))?;
            Some(ShelfId(shelf as usize - 1))
        });
        match fixed.oven {
            Some(other) if other != oven => self.conflict(&at, id, "the oven"),
            _ => {
                fixed.oven = Some(oven);
                self.put(id, LockedTo::Oven(oven, shelf));
            }
        }
    }

    fn check_tin_and_method(&mut self, group: GroupId, fixed: &Fixed) {
        let (Some((tin, path)), Some((method, _))) = (&fixed.tin, &fixed.method) else { return };
        let recipe = self.parts.groups[group.0].recipe;
        let Some(choice) = self.parts.recipes[recipe.0].tins.get(tin.0) else { return };
        if !choice.goes_with(*method) {
            let message =
                format!("{} does not go with the method that is fixed", quoted(&choice.label));
            self.findings.error("lock-conflict", path, message, "");
        }
    }

    /// Minutes a step takes at least, for any tin.
    pub(super) fn least_minutes(&self, group: &Group, method: MethodId, step: StepId) -> Minutes {
        let recipe = &self.parts.recipes[group.recipe.0];
        let step = &recipe.methods[method.0].steps[step.0];
        let of_step = step.minutes.map(|m| m.quick());
        let of_tins = recipe.tins.iter().filter_map(|t| match step.minutes {
            None => {
                let quick = t.temperatures().filter_map(|at| t.minutes_at(at)).map(|m| m.quick());
                quick.reduce(|a, b| if b < a { b } else { a })
            }
            Some(_) => {
                t.step_minutes.iter().find(|(name, _)| *name == step.name).map(|(_, m)| m.quick())
            }
        });
        let least = of_tins.chain(of_step).map(|m| m.get()).fold(f64::INFINITY, f64::min);
        let pace = if step.kind.is_hand() { group.pace } else { 1.0 };
        let least = if least.is_finite() { least * pace } else { 0.0 };
        crate::units::ExactMinutes::new(least).unwrap_or_default().rounded_up()
    }
}
