//! What a group has in a plan, as locks.

use super::keeps::Keeps;
use crate::model::{GroupId, Lesson, LockedTo, OvenId, ShelfId, Slip, StepKind};
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
    /// How long its bake lasts, if that is known not to be as planned.
    lasts: Option<Minutes>,
}

/// When a step starts, and whether with it the tin is taken and the bake goes
/// in.
#[derive(Debug, Clone, PartialEq)]
struct Start {
    to: LockedTo,
    at: Minute,
    end: Minute,
    takes_tin: bool,
    kind: StepKind,
    /// It is known to be under way, wherever it stands.
    under_way: bool,
    /// It does not begin before this, if it has not begun.
    not_before: Option<Minute>,
}

/// When a group's tins go in and come out: loading from and to, taking out from and to.
#[derive(Debug, Clone, Copy)]
pub(super) struct BakeTimes {
    pub load: Minute,
    pub loaded: Minute,
    pub out: Minute,
    pub over: Minute,
}

impl BakeTimes {
    /// Whether the tins are in, or on their way in or out, at a minute.
    fn is_in(self, minute: Minute) -> bool {
        self.load < minute && minute < self.over
    }
}

/// How long bakes last of which it is known by slips that this is not as planned.
pub fn bakes_told(lesson: &Lesson, plan: &Plan, slips: &[Slip]) -> Vec<(GroupId, Minutes)> {
    let groups = plan.choices.iter().map(|choice| choice.group);
    let lasts = groups.filter_map(|group| {
        let of_group: Vec<Slip> = slips.iter().filter(|s| s.group == group).copied().collect();
        Some((group, Had::of(lesson, plan, group)?.late(&of_group, true).lasts()?))
    });
    lasts.collect()
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
                kind: method.steps[placed.step.0].kind,
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
            lasts: None,
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
            lasts: self.lasts,
        })
    }

    /// It, behind its plan: what is under way is told as so much later, and so is what
    /// follows. A bake that is in its oven stays there until its tins are out; it may
    /// `last` otherwise than planned, or else they are out as planned. Of several slips
    /// each holds from its minute on.
    #[must_use]
    pub(super) fn late(mut self, slips: &[Slip], may_last: bool) -> Self {
        let is_late = |is_before: &dyn Fn(Minute) -> bool| {
            slips.iter().rfind(|slip| is_before(slip.from)).copied()
        };
        let late = |slip: Option<Slip>| slip.map_or(Minutes::ZERO, |slip| slip.late);
        let bake = self.bake().filter(|bake| slips.iter().any(|slip| bake.is_in(slip.from)));
        let bake = bake.map(|bake| {
            let went_in = late(is_late(&|from| from <= bake.load)).max(Minutes::ZERO);
            let told = late(is_late(&|from| from < bake.over));
            // Baking takes a minute at least.
            let least = went_in + (bake.loaded - bake.out) + Minutes::new(1);
            (bake, went_in, if may_last { told.max(least) } else { went_in })
        });
        if let Some((bake, went_in, is_out)) = bake {
            let lasts = bake.out + is_out - (bake.loaded + went_in);
            self.lasts = (went_in != is_out).then_some(lasts);
        }
        for start in &mut self.steps {
            // Told to be in, however early by the plan: what comes before is done, too.
            let is_told = |slip: &Slip| match start.kind {
                StepKind::Load => start.at <= slip.from,
                StepKind::Bake | StepKind::TakeOut => false,
                _ => start.end <= slip.from,
            };
            start.under_way = slips.iter().any(is_told);
            let (starts, ends) = match (bake, start.kind) {
                (Some((_, went_in, _)), StepKind::Load) => (went_in, went_in),
                (Some((_, went_in, is_out)), StepKind::Bake) => (went_in, is_out),
                (Some((bake, _, is_out)), StepKind::TakeOut) => {
                    let begun = |slip: &Slip| bake.out < slip.from && slip.from < bake.over;
                    start.under_way = may_last && slips.iter().any(begun);
                    (is_out, is_out)
                }
                _ => {
                    let Some(slip) = is_late(&|from| from < start.end) else { continue };
                    let late = slip.late.max(Minutes::ZERO);
                    let out = bake.map(|(bake, ..)| bake.over).filter(|&out| out <= start.at);
                    start.not_before = out.map(|out| out + late);
                    start.under_way |= start.at < slip.from;
                    (late, late)
                }
            };
            (start.at, start.end) = (start.at + starts, start.end + ends);
            if let LockedTo::Start(_, at) = &mut start.to {
                *at = start.at;
            }
        }
        self
    }

    /// When its tins go in and come out.
    pub(super) fn bake(&self) -> Option<BakeTimes> {
        let of = |kind: StepKind| self.steps.iter().find(|s| s.kind == kind);
        let (load, out) = (of(StepKind::Load)?, of(StepKind::TakeOut)?);
        Some(BakeTimes { load: load.at, loaded: load.end, out: out.at, over: out.end })
    }

    /// Whether its tins went in before a minute, or were told to be in.
    pub(super) fn went_in(&self, before: Minute) -> bool {
        let load = self.steps.iter().find(|s| s.kind == StepKind::Load);
        load.is_some_and(|load| load.at < before || load.under_way)
    }

    /// How long its bake lasts, if that is known not to be as planned.
    pub(super) fn lasts(&self) -> Option<Minutes> {
        self.lasts
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
        self.steps.iter().any(|start| start.kind == StepKind::Load)
    }

    /// Whether that is the start of a step other than loading.
    pub(super) fn is_step_but_load(&self, to: &LockedTo) -> bool {
        self.steps.iter().any(|start| start.to == *to && start.kind != StepKind::Load)
    }

    /// So much of it.
    pub fn locks(&self, keeps: Keeps) -> Vec<&LockedTo> {
        let starts = |which: fn(&&Start) -> bool| self.steps.iter().filter(which).map(|s| &s.to);
        let place = || self.choice().chain(&self.oven);
        match keeps {
            Keeps::Nothing => Vec::new(),
            Keeps::Place => place().collect(),
            Keeps::Bake => place().chain(starts(|s| s.kind == StepKind::Load)).collect(),
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
        let tin = self
            .tin
            .as_ref()
            .filter(|_| begun.iter().any(|s| s.takes_tin || s.kind == StepKind::Load));
        let oven = self.oven.as_ref().filter(|_| begun.iter().any(|s| s.kind == StepKind::Load));
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
