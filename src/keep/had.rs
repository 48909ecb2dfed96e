//! What a group has in a plan, as locks.

use super::keeps::Keeps;
use crate::model::{GroupId, Lesson, LockedTo, OvenId, ShelfId, Slip};
use crate::plan::{Load, Plan};
use crate::units::{Minute, Minutes};

/// What a served group has in a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Had {
    method: LockedTo,
    tin: Option<LockedTo>,
    /// Where its tins stand, as far as one lock can say it.
    oven: Option<LockedTo>,
    steps: Vec<Start>,
}

/// When a step starts, and whether with it the tin is taken and the bake goes
/// in.
#[derive(Debug, Clone, PartialEq)]
struct Start {
    to: LockedTo,
    at: Minute,
    end: Minute,
    takes_tin: bool,
    loads: bool,
    /// It is loading, baking or taking out.
    of_bake: bool,
    /// It is known to be under way, wherever it stands.
    under_way: bool,
    /// It does not begin before this, if it has not begun.
    not_before: Option<Minute>,
}

impl Had {
    /// `None` if the group is not served.
    pub fn of(lesson: &Lesson, plan: &Plan, group: GroupId) -> Option<Self> {
        let choice = plan.choice(group)?;
        let method = lesson.method_of(group, choice.method);
        let mut steps = Vec::new();
        for placed in plan.steps.iter().filter(|s| s.group == group) {
            let name = method.steps.get(placed.step.0)?.name.clone();
            steps.push(Start {
                to: LockedTo::Start(name, placed.start),
                at: placed.start,
                end: placed.end,
                takes_tin: method.tin_held.is_some_and(|(first, _)| first == placed.step),
                loads: method.bake_steps().is_some_and(|(load, _, _)| load == placed.step),
                of_bake: method
                    .bake_steps()
                    .is_some_and(|(load, bake, out)| [load, bake, out].contains(&placed.step)),
                under_way: false,
                not_before: None,
            });
        }
        let place = stands(plan, group).filter(|_| choice.tin.is_some());
        Some(Self {
            method: LockedTo::Method(choice.method),
            tin: choice.tin.map(LockedTo::Tin),
            oven: place.map(|(oven, shelf)| LockedTo::Oven(oven, shelf)),
            steps,
        })
    }

    /// It in other words, and later by so much; `None` if its method or its
    /// tin cannot be said so.
    pub(super) fn told(
        self,
        lock: impl Fn(&LockedTo) -> Option<LockedTo>,
        later: Minutes,
    ) -> Option<Self> {
        let tin = match &self.tin {
            None => None,
            Some(tin) => Some(lock(tin)?),
        };
        let put_on = |start: Start| {
            let at = start.at + later;
            let to = match start.to {
                LockedTo::Start(name, _) => LockedTo::Start(name, at),
                other => other,
            };
            Start { to, at, end: start.end + later, ..start }
        };
        Some(Self {
            method: lock(&self.method)?,
            tin,
            oven: self.oven.as_ref().and_then(lock),
            steps: self.steps.into_iter().map(put_on).collect(),
        })
    }

    /// It, behind its plan: what is under way is told as so much later, unless it is
    /// in an oven, and so is what follows. Of several slips the later come after
    /// the earlier.
    #[must_use]
    pub(super) fn late(mut self, slips: &[Slip]) -> Self {
        let of_bake = || self.steps.iter().filter(|s| s.of_bake);
        let bake = of_bake().map(|s| s.at).min().zip(of_bake().map(|s| s.end).max());
        for start in &mut self.steps {
            let Some(slip) = slips.iter().rfind(|slip| slip.from < start.end) else { continue };
            let (from, late) = (slip.from, slip.late);
            let in_oven = bake.filter(|&(load, out)| load < from && from < out);
            if start.of_bake && in_oven.is_some() {
                continue;
            }
            start.not_before = in_oven.map(|(_, out)| out).filter(|&out| out <= start.at);
            start.not_before = start.not_before.map(|out| out + late);
            start.under_way = start.at < from;
            (start.at, start.end) = (start.at + late, start.end + late);
            if let LockedTo::Start(_, at) = &mut start.to {
                *at = start.at;
            }
        }
        self
    }

    /// Before which minute each step begins in no case that has not begun by one.
    pub(super) fn not_before(&self, by: Minute) -> Vec<(String, Minute)> {
        let open = || self.steps.iter().filter(|s| by <= s.at && !s.under_way);
        let next = open().map(|s| s.at).min().map_or(by, |next| next.max(by));
        let of = |start: &Start| {
            let LockedTo::Start(name, _) = &start.to else { return None };
            Some((name.clone(), start.not_before.map_or(next, |at| at.max(next))))
        };
        open().filter_map(of).collect()
    }

    /// Method and tin.
    pub fn choice(&self) -> impl Iterator<Item = &LockedTo> {
        std::iter::once(&self.method).chain(&self.tin)
    }

    /// The start of every step.
    pub fn starts(&self) -> impl Iterator<Item = &LockedTo> {
        self.steps.iter().map(|start| &start.to)
    }

    /// Whether it has more than a place to keep: a time of its bake.
    pub fn bakes(&self) -> bool {
        self.steps.iter().any(|start| start.loads)
    }

    /// Whether that is the start of a step other than loading.
    pub(super) fn is_step_but_load(&self, to: &LockedTo) -> bool {
        self.steps.iter().any(|start| start.to == *to && !start.loads)
    }

    /// So much of it.
    pub fn locks(&self, keeps: Keeps) -> Vec<&LockedTo> {
        let starts = |which: fn(&&Start) -> bool| self.steps.iter().filter(which).map(|s| &s.to);
        let place = || self.choice().chain(&self.oven);
        match keeps {
            Keeps::Nothing => Vec::new(),
            Keeps::Place => place().collect(),
            Keeps::Bake => place().chain(starts(|s| s.loads)).collect(),
            Keeps::All => place().chain(starts(|_| true)).collect(),
        }
    }

    /// What of it has begun before a minute: steps, the method with the first
    /// of them, the tin once it is in use, oven and shelf once the bake is on
    /// its way in.
    pub fn begun(&self, before: Minute) -> Vec<&LockedTo> {
        let begun: Vec<&Start> =
            self.steps.iter().filter(|s| s.at < before || s.under_way).collect();
        let method = (!begun.is_empty()).then_some(&self.method);
        let tin = self.tin.as_ref().filter(|_| begun.iter().any(|s| s.takes_tin || s.loads));
        let oven = self.oven.as_ref().filter(|_| begun.iter().any(|s| s.loads));
        let starts = begun.into_iter().map(|s| &s.to);
        method.into_iter().chain(tin).chain(oven).chain(starts).collect()
    }
}

/// The oven a group's tins stand in, and the shelf where all stand on one;
/// `None` if they stand in several ovens, or there are none.
pub fn stands(plan: &Plan, group: GroupId) -> Option<(OvenId, Option<ShelfId>)> {
    let loads: Vec<&Load> = plan.loads.iter().filter(|l| l.group == group).collect();
    let first = loads.first()?;
    let same_shelf = loads.iter().all(|l| l.shelf == first.shelf);
    let same_oven = loads.iter().all(|l| l.oven == first.oven);
    same_oven.then(|| (first.oven, Some(first.shelf).filter(|_| same_shelf)))
}
