//! What has begun by a minute of the lesson, presumed by a plan: it stays.
//!
//! Steps that have begun go on, a tin in use stays that tin, and a bake stays
//! where it is once it is in or called. A bake whose oven fails meanwhile is lost:
//! nobody plans it into another oven from before.

use super::base::Base;
use super::had::Had;
use super::keeps::{Keeps, later};
use crate::check::CheckedPlan;
use crate::model::{Attendance, Begun, BegunBake, GroupId, LockedTo, OvenId, StandingTin, Tin};
use crate::plan::{Load, OvenSetting, Place, StepPlacement};
use crate::units::{Celsius, FineMillimetres, Millimetres, Minute, Minutes};

/// A load that is called within so many minutes counts as begun: pupils are on
/// their way to the oven (common practice of the trade).
pub const CALLED: Minutes = Minutes::new(2);

impl Base<'_> {
    /// Whether a group's bake is in an oven by a minute and that oven fails before
    /// it is done.
    pub fn is_lost(&self, group: GroupId, by: Minute) -> bool {
        let Some(had) = self.had_of(group) else { return false };
        let is_in = had.bake().filter(|bake| had.went_in(by) && by < bake.over);
        is_in.is_some_and(|bake| !self.ovens_work(group, bake.over))
    }

    /// Whether the ovens in which a group's tins stand work until a minute.
    fn ovens_work(&self, group: GroupId, until: Minute) -> bool {
        let works = |load: &&Load| {
            let oven = self.names.oven(load.oven).map(|oven| &self.now.ovens[oven.0]);
            oven.is_some_and(|oven| oven.works_until(until))
        };
        self.loads_of(group).iter().all(works)
    }

    /// Whether something of a group has begun by a minute and can go on.
    pub fn has_begun(&self, group: GroupId, by: Minute) -> bool {
        let begun = |had: &Had| !had.begun(by).is_empty();
        self.now.group(group).attendance == Attendance::TakesPart
            && self.had_of(group).is_some_and(begun)
            && !self.is_lost(group, by)
    }

    /// What stays of a group by a minute.
    pub(super) fn begun_locks<'h>(
        &self,
        had: &'h Had,
        group: GroupId,
        by: Minute,
    ) -> Vec<&'h LockedTo> {
        let mut locks = had.begun(by);
        if self.is_called(group, by) {
            let called = had.begun(by + CALLED).into_iter().filter(|to| !had.is_step_but_load(to));
            let more: Vec<_> = called.filter(|to| !locks.contains(to)).collect();
            locks.extend(more);
        }
        locks
    }

    /// Whether a group's bake is in, or called, and its ovens work.
    fn is_called(&self, group: GroupId, by: Minute) -> bool {
        let Some(had) = self.had_of(group).filter(|had| had.went_in(by + CALLED)) else {
            return false;
        };
        had.bake().is_some_and(|bake| self.ovens_work(group, bake.over))
    }

    /// What has begun by a minute, for a search for plans.
    pub(super) fn begun(&self, by: Minute) -> Begun {
        let groups = (0..self.now.groups.len()).map(GroupId);
        let stays = |&group: &GroupId| self.has_begun(group, by) && self.is_called(group, by);
        let set = (0..self.now.ovens.len()).map(|oven| self.set_to(OvenId(oven), by));
        Begun {
            by,
            not_before: groups.clone().flat_map(|group| self.late_steps(group, by)).collect(),
            bakes: groups.filter(stays).filter_map(|group| self.begun_bake(group)).collect(),
            set: set.collect(),
        }
    }

    fn late_steps(&self, group: GroupId, by: Minute) -> Vec<(GroupId, String, Minute)> {
        let had = self.had_of(group).filter(|_| self.late.contains(&group));
        let steps = had.into_iter().flat_map(|had| had.not_before(by));
        steps.map(|(name, at)| (group, name, at)).collect()
    }

    fn begun_bake(&self, group: GroupId) -> Option<BegunBake> {
        let mut loads = self.loads_of(group);
        loads.sort_by_key(|load| load.number);
        let before = self.group(group)?;
        let tin = self.plan().plan().choice(before)?.tin?;
        let tin = &self.lesson().tins[self.lesson().tin_choice_of(before, tin).tin.0];
        let standing = |load: &&Load| {
            let (left, front, turned) = corner(load.place, tin);
            let oven = self.names.oven(load.oven)?;
            Some(StandingTin { oven, shelf: load.shelf, left, front, turned })
        };
        let tins: Option<Vec<StandingTin>> = loads.iter().map(standing).collect();
        Some(BegunBake { group, celsius: loads.first()?.celsius, tins: tins? })
    }

    /// Whether something is in an oven at a minute.
    fn bakes_in(&self, oven: OvenId, at: Minute) -> bool {
        let is_in = |group: &GroupId| {
            let had = self.had_of(*group).filter(|had| had.went_in(at));
            had.and_then(Had::bake).is_some_and(|bake| at < bake.over)
        };
        let mut groups = (0..self.now.groups.len()).map(GroupId).filter(is_in);
        groups.any(|group| self.ovens(group).contains(&oven))
    }

    /// What an oven is set to by a minute: what it was last set to, unless its
    /// last bake is out by then and it may be off.
    fn set_to(&self, oven: OvenId, by: Minute) -> Option<(Celsius, Minute)> {
        let settings = self.plan().plan().settings.iter();
        let of = settings.filter(|s| self.names.oven(s.oven) == Some(oven));
        let set = |s: &&OvenSetting| self.told(s.set_at) < by;
        let last = of.filter(set).max_by_key(|s| s.set_at)?;
        let is_needed = by < self.told(last.until) || self.bakes_in(oven, by);
        let is_on = is_needed && self.now.ovens[oven.0].works_until(by);
        is_on.then(|| (last.celsius, self.told(last.hot_from)))
    }

    /// Whether a plan of the lesson as it is now leaves what has begun by a minute
    /// as it was, and begins nothing else before it.
    pub fn stays_begun(&self, plan: &CheckedPlan, by: Minute) -> bool {
        plan.plan().choices.iter().all(|choice| {
            let group = choice.group;
            match self.had_of(group) {
                Some(had) => {
                    let Some(is) = Had::of(self.now, plan.plan(), group) else { return false };
                    let all = is.locks(Keeps::All);
                    self.begun_locks(had, group, by).iter().all(|to| all.contains(to))
                        && is.begun(by).len() <= had.begun(by).len()
                        && self.begins_late_enough(plan, group, by)
                        && self.stand_as_they_did(plan, group, by)
                }
                None => self.begins_after(plan, group, by),
            }
        })
    }

    /// Whether nothing of a group that is behind begins before it can.
    fn begins_late_enough(&self, plan: &CheckedPlan, group: GroupId, by: Minute) -> bool {
        let Some(choice) = plan.plan().choice(group) else { return true };
        let steps = &self.now.method_of(group, choice.method).steps;
        self.late_steps(group, by).iter().all(|(_, name, at)| {
            let of = plan.plan().steps.iter().filter(|s| s.group == group);
            of.filter(|s| steps[s.step.0].name == *name).all(|s| *at <= s.start)
        })
    }

    fn begins_after(&self, plan: &CheckedPlan, group: GroupId, by: Minute) -> bool {
        let start = self.now.periods[self.now.group(group).period.0].start;
        // What was done before the bell is done.
        let early = |s: &StepPlacement| start <= s.start && s.start < by;
        !plan.plan().steps.iter().any(|s| s.group == group && early(s))
    }

    fn stand_as_they_did(&self, plan: &CheckedPlan, group: GroupId, by: Minute) -> bool {
        if !self.has_begun(group, by) || !self.is_called(group, by) {
            return true;
        }
        let Some(was) = self.begun_bake(group) else { return false };
        let is = plan.plan().loads.iter().filter(|l| l.group == group);
        let stands = |load: &Load| {
            was.celsius == load.celsius
                && self.loads_of(group).iter().any(|l| {
                    let place = (self.names.oven(l.oven), l.shelf, l.place);
                    place == (Some(load.oven), load.shelf, load.place)
                })
        };
        is.into_iter().all(stands)
    }

    fn loads_of(&self, group: GroupId) -> Vec<&Load> {
        let Some(before) = self.group(group) else { return Vec::new() };
        self.plan().plan().loads.iter().filter(|l| l.group == before).collect()
    }

    /// A minute of the plan in the lesson as it is now.
    fn told(&self, minute: Minute) -> Minute {
        minute + -later(self.lesson(), self.now)
    }
}

/// The left front corner of the rectangle round a tin's rim.
fn corner(place: Place, tin: &Tin) -> (FineMillimetres, FineMillimetres, bool) {
    match place {
        Place::Corner { x, y, turned } => (x, y, turned),
        Place::Centre { x, y } => {
            let half = |rim: Millimetres| FineMillimetres::whole(rim.get()).get() / 2;
            let at = FineMillimetres::hundredths;
            (at(x.get() - half(tin.rim.0)), at(y.get() - half(tin.rim.1)), false)
        }
    }
}
