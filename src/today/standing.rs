//! How groups stand against the plan they were told: by what was told of them,
//! and else presumed on plan.

use crate::check::CheckedPlan;
use crate::model::{Fact, FactKind, GroupId, Lesson, Slip, StepKind};
use crate::play::{Expected, outlook};
use crate::units::{ClockTime, Minute, Minutes};

/// How all groups of a plan stand at a minute.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The minute.
    pub now: Minute,
    /// Groups that are served, in the lesson's order.
    pub groups: Vec<GroupStanding>,
    /// By how much each is late, from when on.
    pub slips: Vec<Slip>,
}

/// How one group stands.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupStanding {
    /// Which.
    pub group: GroupId,
    /// What was told of it last; `None` where it is presumed on plan.
    pub told: Option<(FactKind, ClockTime)>,
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
        let mut slips: Vec<Slip> = Vec::new();
        for fact in facts.iter().filter(|f| !f.settled) {
            if let Some(slip) = slip(lesson, plan, fact) {
                // Where it is now says all of what it was late before.
                slips.retain(|s| s.group != slip.group);
                slips.push(slip);
            }
        }
        let expected = outlook(lesson, plan, &slips, now);
        let groups = expected.into_iter().filter_map(|ready| {
            let group = ready.group;
            let last = facts.iter().rfind(|f| f.group == group);
            let late = slips.iter().find(|s| s.group == group).map(|s| s.late);
            let planned = plan.group_outcome(group)?.ready?;
            let ready = match last.filter(|f| f.what == FactKind::Ready) {
                Some(fact) => is_ready(ready, minute_of(lesson, fact.at)),
                None => ready,
            };
            Some(GroupStanding {
                group,
                told: last.map(|f| (f.what, f.at)),
                behind: late.map_or(0, Minutes::get),
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

/// By how much a fact says that a group is late, and from when on.
fn slip(lesson: &Lesson, plan: &CheckedPlan, fact: &Fact) -> Option<Slip> {
    let at = minute_of(lesson, fact.at);
    let steps = || plan.plan().steps.iter().filter(|s| s.group == fact.group);
    let group = lesson.group(fact.group);
    let choice = plan.plan().choice(fact.group)?;
    let method = lesson.method_of(fact.group, choice.method);
    let kind = |kind: StepKind| steps().find(|s| method.steps[s.step.0].kind == kind);
    let start = lesson.periods[group.period.0].start;
    // By the plan it would have been at a minute of a stretch.
    let late = |from: Minute, until: Minute| at - at.clamp(from, until.max(from));
    let (from, late) = match fact.what {
        FactKind::Go => {
            let first = steps().filter(|s| start <= s.start).min_by_key(|s| s.start)?;
            (first.start, late(first.start, first.start))
        }
        FactKind::In => {
            let load = kind(StepKind::Load)?;
            (load.start, late(load.start, load.end))
        }
        FactKind::Out => {
            let out = kind(StepKind::TakeOut)?;
            (out.start, late(out.start, out.end))
        }
        FactKind::Ready => {
            let ready = plan.group_outcome(fact.group)?.ready?;
            (ready, late(ready, ready))
        }
        FactKind::Late(late) => (at - late, late),
    };
    // Nothing is expected sooner than planned.
    let late = late.max(Minutes::ZERO);
    Some(Slip { group: fact.group, from, late })
}

/// A minute of the lesson by the clock.
pub fn minute_of(lesson: &Lesson, at: ClockTime) -> Minute {
    Minute::BELL + at.minutes_since(lesson.periods[0].start_clock)
}
