//! How groups stand against the plan they were told: by what was told of them,
//! and else presumed on plan.

use super::outlook::{Expected, outlook};
use super::slips::{late_by, slips};
use crate::check::CheckedPlan;
use crate::model::{Fact, FactKind, GroupId, Lesson, Slip, StepKind};
use crate::units::{ClockTime, Minute, Minutes};

/// What can be told of a group, in the order in which it comes to pass.
pub const IN_ORDER: [FactKind; 4] = [FactKind::Go, FactKind::In, FactKind::Out, FactKind::Ready];

/// For so many minutes after its planned minute a fact that was not told is still the
/// next to be told (judgement: whoever tells has a class in front of them).
const STILL: Minutes = Minutes::new(5);

/// How all groups of a plan stand at a minute.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The minute.
    pub now: Minute,
    /// Groups that are served, in the lesson's order.
    pub groups: Vec<GroupStanding>,
    /// By how much groups are late, from when on: of several slips of a group each holds from
    /// its minute on.
    pub slips: Vec<Slip>,
}

/// How one group stands.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupStanding {
    /// Which.
    pub group: GroupId,
    /// What was told of it last; `None` where it is presumed on plan.
    pub told: Option<(FactKind, ClockTime)>,
    /// How far it has come by what was told of it last, being late apart.
    pub far: Option<FactKind>,
    /// By how much its tins went in later than planned, if that was told; less than nothing
    /// if sooner.
    pub went_in: Option<Minutes>,
    /// By how much they came out later, likewise.
    pub came_out: Option<Minutes>,
    /// It was told late, or on plan again, since its tins went in.
    pub late_since: bool,
    /// By how many minutes it is behind.
    pub behind: i32,
    /// When it is ready by the plan.
    pub planned: Minute,
    /// When it is expected to be.
    pub ready: Expected,
}

impl Standing {
    /// By the facts told, in the order in which they were.
    pub fn of(lesson: &Lesson, plan: &CheckedPlan, facts: &[Fact], now: Minute) -> Self {
        let slips = slips(lesson, plan, facts, now);
        let expected = outlook(lesson, plan, &slips, now);
        let groups = expected.into_iter().filter_map(|ready| {
            let group = ready.group;
            let last = facts.iter().rfind(|f| f.group == group);
            let is_way = |f: &&Fact| f.group == group && along(f.what).is_some();
            let far = facts.iter().rfind(is_way).map(|f| f.what);
            let told =
                |what: FactKind| facts.iter().rposition(|f| f.group == group && f.what == what);
            let off = |i: usize| off_plan(lesson, plan, &facts[i]);
            let is_in = told(FactKind::In);
            let is_late = |f: &Fact| f.group == group && matches!(f.what, FactKind::Late(_));
            let late = late_by(&slips, group, |_| true).max(Minutes::ZERO);
            let planned = plan.group_outcome(group)?.ready?;
            let ready = match last.filter(|f| f.what == FactKind::Ready) {
                Some(fact) => is_ready(ready, minute_of(lesson, fact.at)),
                None => ready,
            };
            Some(GroupStanding {
                group,
                told: last.map(|f| (f.what, f.at)),
                far,
                went_in: is_in.and_then(off),
                came_out: told(FactKind::Out).filter(|out| is_in < Some(*out)).and_then(off),
                late_since: is_in.is_some_and(|i| facts[i..].iter().any(is_late)),
                behind: late.get(),
                planned,
                ready,
            })
        });
        Self { now, groups: groups.collect(), slips }
    }

    /// Whether all are out, as it is expected.
    pub fn all_out(&self) -> bool {
        self.groups.iter().all(|g| g.ready.is_out())
    }

    /// Groups that are behind.
    pub fn behind(&self) -> impl Iterator<Item = &GroupStanding> {
        self.groups.iter().filter(|g| g.behind > 0)
    }
}

/// A group that was told to be ready is ready then.
fn is_ready(expected: Expected, at: Minute) -> Expected {
    let earlier = expected.ready.map_or(0, |ready| (ready - at).get());
    Expected { ready: Some(at), spare: expected.spare + earlier, ..expected }
}

/// The minutes within which a fact is on plan; `None` where the plan has no such
/// thing.
pub fn planned_minutes(
    lesson: &Lesson,
    plan: &CheckedPlan,
    id: GroupId,
    what: FactKind,
) -> Option<(Minute, Minute)> {
    let steps = || plan.plan().steps.iter().filter(|s| s.group == id);
    let group = lesson.group(id);
    let method = lesson.method_of(id, plan.plan().choice(id)?.method);
    let kind = |kind: StepKind| steps().find(|s| method.steps[s.step.0].kind == kind);
    let start = lesson.periods[group.period.0].start;
    Some(match what {
        FactKind::Go => {
            let first = steps().filter(|s| start <= s.start).min_by_key(|s| s.start)?;
            (first.start, first.start)
        }
        FactKind::In => kind(StepKind::Load).map(|s| (s.start, s.end))?,
        FactKind::Out => kind(StepKind::TakeOut).map(|s| (s.start, s.end))?,
        FactKind::Ready => plan.group_outcome(id)?.ready.map(|ready| (ready, ready))?,
        FactKind::Late(_) => return None,
    })
}

/// By how much a fact is later than its plan, less than nothing if sooner: within its
/// minutes it is on plan. Before them what it tells of begins with it, after them it ends
/// with it.
pub(super) fn off_plan(lesson: &Lesson, plan: &CheckedPlan, fact: &Fact) -> Option<Minutes> {
    let (from, until) = planned_minutes(lesson, plan, fact.group, fact.what)?;
    let at = minute_of(lesson, fact.at);
    Some(at - at.clamp(from, until.max(from)))
}

/// How far a fact is along the way of a group; being late is no way.
fn along(what: FactKind) -> Option<usize> {
    IN_ORDER.iter().position(|kind| *kind == what)
}

impl GroupStanding {
    /// By how much it is behind.
    pub fn late(&self) -> Minutes {
        Minutes::new(self.behind.max(0))
    }

    /// Whether it has come so far by what was told of it.
    pub fn is_told(&self, what: FactKind) -> bool {
        along(what).is_some() && along(what) <= self.far.and_then(along)
    }

    /// The minutes within which a fact was or is to be: by its plan, as much later as the
    /// group is behind. Tins are out when they have baked, in since when they were told in.
    pub fn expected(
        &self,
        lesson: &Lesson,
        plan: &CheckedPlan,
        what: FactKind,
    ) -> Option<(Minute, Minute)> {
        let (from, until) = planned_minutes(lesson, plan, self.group, what)?;
        let early = self.went_in.filter(|_| self.behind <= 0 && !self.late_since);
        let off = match what {
            FactKind::In => self.went_in,
            FactKind::Out => self.came_out.or(early),
            _ => None,
        };
        let off = off.unwrap_or(self.late());
        Some((from + off, until + off))
    }

    /// How far it has come by a minute: by what was told of it, and else as it is
    /// presumed by its plan, as much later as it is behind.
    pub fn reached(&self, lesson: &Lesson, plan: &CheckedPlan, now: Minute) -> Option<FactKind> {
        let told = self.far.and_then(along);
        let passed =
            |kind: &&FactKind| self.expected(lesson, plan, **kind).is_some_and(|(_, by)| by <= now);
        let presumed = IN_ORDER.iter().filter(passed).filter_map(|kind| along(*kind)).max();
        told.max(presumed).map(|at| IN_ORDER[at])
    }

    /// What is to be told of it next: the first that was not told and is not long
    /// past.
    pub fn to_tell(&self, lesson: &Lesson, plan: &CheckedPlan, now: Minute) -> Option<FactKind> {
        let told = self.far.and_then(along);
        let is_next = |kind: &&FactKind| {
            let expected = self.expected(lesson, plan, **kind);
            told < along(**kind)
                && expected.is_some_and(|(_, by)| **kind == FactKind::Ready || now < by + STILL)
        };
        IN_ORDER.iter().find(is_next).copied()
    }
}

/// A minute of the lesson by the clock.
pub fn minute_of(lesson: &Lesson, at: ClockTime) -> Minute {
    Minute::BELL + at.minutes_since(lesson.periods[0].start_clock)
}
