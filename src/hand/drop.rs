//! Something put somewhere, as locks: those it makes and those it replaces.

use crate::edit::retain_that_fix;
use crate::file::format::{LessonFile, LockShape, StepKindShape};
use crate::keep::stands;
use crate::model::{
    Group, GroupId, Lesson, LessonParts, Lock, LockedTo, Method, MethodId, OvenId, ShelfId,
    StepKind, TinChoiceId,
};
use crate::plan::Plan;
use crate::units::{Minute, Minutes};

use super::{Spot, Thing};

/// Locks of one group to be made and to be replaced.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LockChange {
    pub(super) group: GroupId,
    /// Those it makes.
    pub(super) locks: Vec<LockedTo>,
    /// Starts of these steps are no longer locked otherwise.
    pub(super) starts: Vec<String>,
    /// Nor are these.
    pub(super) oven: bool,
    pub(super) tin: bool,
    pub(super) method: bool,
}

impl LockChange {
    pub(super) fn nothing(group: GroupId) -> Self {
        let (locks, starts) = (Vec::new(), Vec::new());
        Self { group, locks, starts, oven: false, tin: false, method: false }
    }

    /// What putting a thing somewhere comes to. `as_it_is` is a plan in which
    /// the group is served, if there is one.
    pub(super) fn of(lesson: &Lesson, as_it_is: &Plan, thing: Thing, spot: Spot) -> Self {
        let now = Now::of(lesson, as_it_is, thing.group());
        match thing {
            Thing::Step(_, step) => {
                let name = now.method().steps.get(step.0).map(|s| s.name.clone());
                now.step(&name.unwrap_or_default(), spot.at)
            }
            Thing::Bake(_) => now.bake(spot),
            Thing::Row(_) => now.row(spot),
        }
    }

    fn replaces(&self, to: &LockedTo) -> bool {
        match to {
            LockedTo::Start(name, _) => self.starts.contains(name),
            LockedTo::Tin(_) => self.tin,
            LockedTo::Method(_) => self.method,
            LockedTo::Oven(..) => self.oven,
        }
    }

    /// The lesson with these locks, whether its file would be read or not.
    pub(super) fn on_lesson(&self, lesson: &Lesson) -> Option<Lesson> {
        let mut parts: LessonParts = lesson.clone().into_parts();
        parts.locks.retain(|l| l.group != self.group || !self.replaces(&l.to));
        let lock = |to: &LockedTo| Lock { group: self.group, to: to.clone() };
        parts.locks.extend(self.locks.iter().map(lock));
        Lesson::new(parts).ok()
    }

    /// The file with these locks.
    pub(super) fn on_file(&self, file: &LessonFile, lesson: &Lesson) -> LessonFile {
        let mut file = file.clone();
        let group = &lesson.group(self.group).name;
        let bakes = bakes(&file, &lesson.recipe_of(self.group).name);
        for lock in file.locks.iter_mut().filter(|l| l.group == *group) {
            let bake = lock.step.as_ref().is_some_and(|s| bakes.contains(s));
            let name = if bake { Some("bake") } else { lock.step.as_deref() };
            if name.is_some_and(|name| self.starts.iter().any(|s| s == name)) {
                (lock.step, lock.at) = (None, None);
            }
            if self.oven {
                (lock.oven, lock.shelf) = (None, None);
            }
            if self.tin {
                lock.tin = None;
            }
            if self.method {
                lock.method = None;
            }
        }
        retain_that_fix(&mut file.locks);
        file.locks.extend(self.shapes(lesson));
        file
    }

    /// One for what is not a start, one for each start.
    fn shapes(&self, lesson: &Lesson) -> Vec<LockShape> {
        let group = || lesson.group(self.group).name.clone();
        let mut choice = LockShape { group: group(), ..LockShape::default() };
        let mut starts = Vec::new();
        for to in &self.locks {
            match to {
                LockedTo::Start(name, at) => starts.push(LockShape {
                    group: group(),
                    step: Some(name.clone()),
                    at: Some(at.get()),
                    ..LockShape::default()
                }),
                LockedTo::Tin(tin) => {
                    choice.tin = Some(lesson.tin_choice_of(self.group, *tin).label.clone());
                }
                LockedTo::Method(method) => {
                    choice.method = Some(lesson.method_of(self.group, *method).name.clone());
                }
                LockedTo::Oven(oven, shelf) => {
                    choice.oven = Some(lesson.ovens[oven.0].name.clone());
                    choice.shelf = shelf.and_then(|s| i64::try_from(s.0 + 1).ok());
                }
            }
        }
        let fixes = choice.tin.is_some() || choice.method.is_some() || choice.oven.is_some();
        Some(choice).filter(|_| fixes).into_iter().chain(starts).collect()
    }

    /// The minute of a start it makes.
    pub(super) fn start(&self) -> Option<(&str, Minute)> {
        self.locks.iter().find_map(|l| match l {
            LockedTo::Start(name, at) => Some((name.as_str(), *at)),
            _ => None,
        })
    }

    /// The place it makes.
    pub(super) fn place(&self) -> Option<(OvenId, Option<ShelfId>)> {
        self.locks.iter().find_map(|l| match l {
            LockedTo::Oven(oven, shelf) => Some((*oven, *shelf)),
            _ => None,
        })
    }

    /// Names of the steps it makes start somewhere.
    pub(super) fn names<'a>(&'a self) -> Vec<&'a str> {
        let name = |l: &'a LockedTo| match l {
            LockedTo::Start(name, _) => Some(name.as_str()),
            _ => None,
        };
        self.locks.iter().filter_map(name).collect()
    }
}

/// Names that the file's recipe has for its bakes.
fn bakes(file: &LessonFile, recipe: &str) -> Vec<String> {
    let of = file.recipes.iter().filter(|r| r.name == recipe);
    let steps = of.flat_map(|r| &r.methods).flat_map(|m| &m.steps);
    steps.filter(|s| s.kind == StepKindShape::Bake).map(|s| s.name.clone()).collect()
}

/// A group as it is in a plan.
pub(super) struct Now<'a> {
    lesson: &'a Lesson,
    plan: &'a Plan,
    id: GroupId,
    method: MethodId,
    tin: Option<TinChoiceId>,
}

impl<'a> Now<'a> {
    pub(super) fn of(lesson: &'a Lesson, plan: &'a Plan, id: GroupId) -> Self {
        let choice = plan.choice(id);
        let first = lesson.group(id).methods.first().copied().unwrap_or(MethodId(0));
        let method = choice.map_or(first, |c| c.method);
        Self { lesson, plan, id, method, tin: choice.and_then(|c| c.tin) }
    }

    pub(super) fn method(&self) -> &'a Method {
        self.lesson.method_of(self.id, self.method)
    }

    fn group(&self) -> &'a Group {
        self.lesson.group(self.id)
    }

    /// Where a step of that name is.
    pub(super) fn start(&self, name: &str) -> Option<Minute> {
        self.plan.choice(self.id)?;
        let step = self.method().step_named(name)?;
        let placed = self.plan.steps.iter().find(|s| s.group == self.id && s.step == step);
        placed.map(|s| s.start)
    }

    /// Where its tins stand, as far as one lock can say it.
    pub(super) fn place(&self) -> Option<(OvenId, Option<ShelfId>)> {
        stands(self.plan, self.id)
    }

    /// Names of the three steps that go together, if the name is of one.
    pub(super) fn glued(&self, name: &str) -> Vec<String> {
        let baked = |m: &MethodId| {
            let method = self.lesson.method_of(self.id, *m);
            let step = method.step_named(name)?;
            let (load, bake, out) = method.bake_steps()?;
            let all = [load, bake, out];
            let names = || all.iter().map(|s| method.steps[s.0].name.clone()).collect();
            all.contains(&step).then(names)
        };
        let methods = self.group().methods.iter().chain(std::iter::once(&self.method));
        methods.filter_map(baked).next().unwrap_or_else(|| vec![name.to_owned()])
    }

    /// Steps that are done in the lesson, by name, with their starts.
    pub(super) fn in_lesson(&self) -> Vec<(String, Minute)> {
        let group = self.group();
        let outside =
            |name: &String| group.beforehand.contains(name) || group.collected.contains(name);
        let steps = self.method().steps.iter().filter(|s| !outside(&s.name));
        steps.filter_map(|s| Some((s.name.clone(), self.start(&s.name)?))).collect()
    }

    fn load(&self) -> Option<String> {
        let methods = std::iter::once(&self.method).chain(&self.group().methods);
        methods
            .filter_map(|m| {
                let method = self.lesson.method_of(self.id, *m);
                method.bake_steps().map(|(load, _, _)| method.steps[load.0].name.clone())
            })
            .next()
    }

    fn step(&self, name: &str, at: Option<Minute>) -> LockChange {
        let at = at.or_else(|| self.start(name));
        LockChange {
            locks: at.map(|at| LockedTo::Start(name.to_owned(), at)).into_iter().collect(),
            starts: self.glued(name),
            ..LockChange::nothing(self.id)
        }
    }

    fn bake(&self, spot: Spot) -> LockChange {
        let Some(load) = self.load() else { return LockChange::nothing(self.id) };
        let mut drop = LockChange { starts: self.glued(&load), ..LockChange::nothing(self.id) };
        let now = Some(()).filter(|()| spot.place.is_none()).and_then(|()| self.start(&load));
        let at = spot.at.or(now);
        let place = spot.place.or_else(|| self.place().filter(|_| spot.at.is_none()));
        drop.oven = place.is_some();
        drop.locks.extend(place.map(|(oven, shelf)| LockedTo::Oven(oven, shelf)));
        drop.locks.extend(at.map(|at| LockedTo::Start(load, at)));
        drop
    }

    /// All of it, from another minute and in another place if that is said.
    pub(super) fn row(&self, spot: Spot) -> LockChange {
        let steps = self.in_lesson();
        let first = steps.iter().map(|(_, start)| *start).min();
        let later = match (spot.at, first) {
            (Some(at), Some(first)) => at - first,
            _ => Minutes::ZERO,
        };
        let place = spot.place.or_else(|| self.place());
        let mut locks = vec![LockedTo::Method(self.method)];
        locks.extend(self.tin.map(LockedTo::Tin));
        let oven = place.filter(|_| self.tin.is_some());
        locks.extend(oven.map(|(oven, shelf)| LockedTo::Oven(oven, shelf)));
        let starts: Vec<String> = steps.iter().map(|(name, _)| name.clone()).collect();
        // Load, bake and take out follow one another: one of them says it.
        let follows = |name: &String| {
            let step = self.method().step_named(name);
            let kind = step.map(|s| self.method().steps[s.0].kind);
            matches!(kind, Some(StepKind::Bake | StepKind::TakeOut))
        };
        let own = steps.into_iter().filter(|(name, _)| !follows(name));
        locks.extend(own.map(|(name, start)| LockedTo::Start(name, start + later)));
        LockChange {
            locks,
            starts,
            oven: true,
            tin: true,
            method: true,
            ..LockChange::nothing(self.id)
        }
    }
}
