//! What people hold, and let go again.

use super::drop::{LockChange, Now};
use super::{Spot, Thing};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::{GroupId, Lesson, LockedTo, MethodId, OvenId, ShelfId, StepId, TinChoiceId};
use crate::units::Minute;

/// What of a group is held as it is in the plan, or let go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Held {
    /// The start of a step of the method it uses.
    Step(GroupId, StepId),
    /// Its tin.
    Tin(GroupId),
    /// Its method.
    Method(GroupId),
    /// Its oven, and its shelf where all its tins stand on one.
    Oven(GroupId),
    /// All of this, and the start of every step in the lesson.
    Group(GroupId),
}

/// What is held of one group.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Holds {
    /// Steps by name, with their starts.
    pub starts: Vec<(String, Minute)>,
    /// The tin.
    pub tin: Option<TinChoiceId>,
    /// The method.
    pub method: Option<MethodId>,
    /// The oven, and the shelf if that is held too.
    pub oven: Option<(OvenId, Option<ShelfId>)>,
}

impl Holds {
    /// Whether anything is held.
    pub fn any(&self) -> bool {
        *self != Self::default()
    }

    /// When a step of that name is held to start.
    pub fn step(&self, name: &str) -> Option<Minute> {
        self.starts.iter().find(|(step, _)| step == name).map(|(_, at)| *at)
    }
}

/// What is held of each group, in the lesson's order.
pub fn held(lesson: &Lesson) -> Vec<Holds> {
    let mut all = vec![Holds::default(); lesson.groups.len()];
    for lock in &lesson.locks {
        let of = &mut all[lock.group.0];
        match &lock.to {
            LockedTo::Start(name, at) => of.starts.push((name.clone(), *at)),
            LockedTo::Tin(tin) => of.tin = Some(*tin),
            LockedTo::Method(method) => of.method = Some(*method),
            LockedTo::Oven(oven, shelf) => of.oven = Some((*oven, *shelf)),
        }
    }
    all
}

/// The file with something held as it is in the plan. What the plan does not
/// have, such as the tin of a group that is not served, is not held.
pub fn hold(file: &LessonFile, lesson: &Lesson, plan: &CheckedPlan, what: Held) -> LessonFile {
    as_locks(lesson, plan, what).on_file(file, lesson)
}

/// The file with something let go. The start of a step that belongs to the bake
/// is let go with the two others.
pub fn let_go(file: &LessonFile, lesson: &Lesson, plan: &CheckedPlan, what: Held) -> LessonFile {
    let mut drop = LockChange { locks: Vec::new(), ..as_locks(lesson, plan, what) };
    match what {
        Held::Step(..) => {}
        Held::Tin(_) => drop.tin = true,
        Held::Method(_) => drop.method = true,
        Held::Oven(_) => drop.oven = true,
        Held::Group(group) => {
            (drop.tin, drop.method, drop.oven) = (true, true, true);
            drop.starts =
                held(lesson).swap_remove(group.0).starts.into_iter().map(|s| s.0).collect();
        }
    }
    drop.on_file(file, lesson)
}

fn as_locks(lesson: &Lesson, plan: &CheckedPlan, what: Held) -> LockChange {
    let plan = plan.plan();
    let only = |group, to: Option<LockedTo>| LockChange {
        locks: to.into_iter().collect(),
        ..LockChange::nothing(group)
    };
    match what {
        Held::Step(group, step) => {
            LockChange::of(lesson, plan, Thing::Step(group, step), Spot::default())
        }
        Held::Tin(group) => {
            let tin = plan.choice(group).and_then(|c| c.tin).map(LockedTo::Tin);
            LockChange { tin: tin.is_some(), ..only(group, tin) }
        }
        Held::Method(group) => {
            let method = plan.choice(group).map(|c| LockedTo::Method(c.method));
            LockChange { method: method.is_some(), ..only(group, method) }
        }
        Held::Oven(group) => {
            let place = Now::of(lesson, plan, group).place();
            let oven = place.map(|(oven, shelf)| LockedTo::Oven(oven, shelf));
            LockChange { oven: oven.is_some(), ..only(group, oven) }
        }
        Held::Group(group) if plan.choice(group).is_none() => LockChange::nothing(group),
        Held::Group(group) => Now::of(lesson, plan, group).row(Spot::default()),
    }
}
