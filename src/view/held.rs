//! What of a group the teacher has fixed, as the board marks it.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, LockedTo, StepId};
use crate::plan::StepPlacement;

/// What of a group is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct HeldOfGroup {
    /// Its tin.
    pub tin: bool,
    /// Its method.
    pub method: bool,
    /// Its oven.
    pub oven: bool,
    /// Its shelf of that oven.
    pub shelf: bool,
    /// The start of some step.
    pub some_start: bool,
    /// All of it: every step, and how and where it bakes.
    pub all: bool,
}

impl HeldOfGroup {
    /// Anything at all.
    pub fn any(self) -> bool {
        self.tin || self.method || self.oven || self.some_start
    }

    /// "all of it held", "tin and oven held"; empty if nothing is.
    pub fn words(self) -> String {
        if self.all {
            return "all of it held".to_owned();
        }
        let parts = [
            (self.tin, "tin"),
            (self.method, "method"),
            (self.oven, if self.shelf { "oven and shelf" } else { "oven" }),
            (self.some_start, "a time"),
        ];
        let named: Vec<String> =
            parts.iter().filter(|(held, _)| *held).map(|(_, name)| (*name).to_owned()).collect();
        match named.as_slice() {
            [] => String::new(),
            named => format!("{} held", crate::words::list(named)),
        }
    }
}

/// What of a group is held, as the plan serves it.
pub fn held_of(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> HeldOfGroup {
    let mut held = HeldOfGroup::default();
    for lock in lesson.locks.iter().filter(|l| l.group == id) {
        match &lock.to {
            LockedTo::Start(..) => held.some_start = true,
            LockedTo::Tin(_) => held.tin = true,
            LockedTo::Method(_) => held.method = true,
            LockedTo::Oven(_, shelf) => {
                held.oven = true;
                held.shelf |= shelf.is_some();
            }
        }
    }
    // What is done outside the bells is no work of the lesson.
    let period = &lesson.periods[lesson.group(id).period.0];
    let within = |s: &&StepPlacement| s.start >= period.start && s.start < period.end;
    let placed = plan.plan().steps.iter().filter(|s| s.group == id).filter(within);
    let mut starts = placed.map(|s| is_start_held(lesson, plan, id, s.step)).peekable();
    let baked = plan.plan().choice(id).is_some_and(|c| c.tin.is_some());
    held.all = starts.peek().is_some()
        && starts.all(|held| held)
        && held.method
        && (!baked || held.tin && held.oven);
    held
}

/// Whether the start of a group's step is held. Loading, baking and taking out
/// follow one another, so holding one holds all three.
pub fn is_start_held(lesson: &Lesson, plan: &CheckedPlan, id: GroupId, step: StepId) -> bool {
    let Some(choice) = plan.plan().choice(id) else { return false };
    let method = lesson.method_of(id, choice.method);
    let bake = method.bake_steps().map(|(load, bake, out)| [load, bake, out]);
    let together = bake.filter(|all| all.contains(&step));
    let together = together.as_ref().map_or(std::slice::from_ref(&step), |all| all.as_slice());
    let is_held = |name: &str| {
        lesson.locks.iter().filter(|l| l.group == id).any(|l| match &l.to {
            LockedTo::Start(step, _) => step == name,
            _ => false,
        })
    };
    together.iter().filter_map(|s| method.steps.get(s.0)).any(|s| is_held(&s.name))
}
