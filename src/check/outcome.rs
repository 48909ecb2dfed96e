//! What a valid plan comes to: verdicts, spare minutes, and how it compares
//! with other plans.

use super::span::{Span, to_i32, to_minute};
use super::view::{Served, View};
use crate::model::{Attendance, GroupId};
use crate::plan::Refusal;
use crate::units::{Minute, Minutes};

/// What a second choice of method counts for, in places of a tin.
const OTHER_METHOD: u64 = 100;

/// How it stands with a group or a whole lesson, from best to worst;
/// `LeftOut` is no judgement and counts for nothing in a lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Left out by the teacher.
    LeftOut,
    /// Served with the wanted spare.
    Fits,
    /// Served with less than the wanted spare.
    Tight,
    /// No plan found, but not proved impossible.
    NotRealistically,
    /// Proved impossible together with all the others.
    CannotAll,
    /// Proved impossible.
    Cannot,
}

impl Verdict {
    /// Its fixed short name, such as "not-realistically".
    pub const fn name(self) -> &'static str {
        match self {
            Verdict::LeftOut => "left-out",
            Verdict::Fits => "fits",
            Verdict::Tight => "tight",
            Verdict::NotRealistically => "not-realistically",
            Verdict::CannotAll => "cannot-all",
            Verdict::Cannot => "cannot",
        }
    }
}

impl From<Refusal> for Verdict {
    fn from(refusal: Refusal) -> Self {
        match refusal {
            Refusal::Cannot => Verdict::Cannot,
            Refusal::CannotAll => Verdict::CannotAll,
            Refusal::NotFound => Verdict::NotRealistically,
            Refusal::LeftOut => Verdict::LeftOut,
        }
    }
}

/// What a plan comes to for one group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GroupOutcome {
    /// How it stands with it.
    pub verdict: Verdict,
    /// When it is ready, in minutes from the start bell of **its own**
    /// period; `None` if it is not served.
    pub ready: Option<Minute>,
    /// Minutes from then to the start of the closing steps, at least 0;
    /// `None` if it is not served.
    pub spare: Option<Minutes>,
    /// Place of its tin in its list, from 0, plus 100 for another method than
    /// its first; `None` if it is not served.
    pub departure: Option<u64>,
}

/// What makes one plan better than another, in the order of the fields:
/// `served` the more the better, the rest the less the better. Figures that
/// speak of served groups are 0 if none is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Objective {
    /// Groups served.
    pub served: u32,
    /// Departures from the first choices, all served groups together.
    pub departures: u64,
    /// Minutes that the worst served group lacks of the wanted spare, at
    /// least 0.
    pub shortfall: i32,
    /// Stretches of `call` minutes that cover all minutes of loading.
    pub calls: u32,
    /// When the last group is ready, in minutes from its own start bell.
    pub latest_ready: i32,
    /// The sum of those minutes over the served groups.
    pub sum_ready: i64,
    /// Not compared: the latest ready plus the planned closing minutes of its
    /// period (where several are ready last, the longest closing).
    pub ends: i32,
}

/// All that is worked out from a valid plan.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Outcome {
    pub(super) groups: Vec<GroupOutcome>,
    pub(super) verdict: Verdict,
    pub(super) objective: Objective,
}

impl Outcome {
    /// Of a plan that breaks no rule.
    pub(super) fn of(view: &View<'_>) -> Self {
        let mut groups: Vec<GroupOutcome> = view.lesson.groups.iter().map(unserved).collect();
        for refused in &view.plan.not_served {
            groups[refused.group.0].verdict = Verdict::from(refused.refusal);
        }
        for group in &view.served {
            groups[group.id.0] = served(view, group);
        }
        let verdict = groups.iter().map(|g| g.verdict).max().unwrap_or(Verdict::LeftOut);
        let objective = objective(view, &groups);
        Self { groups, verdict, objective }
    }
}

fn unserved(group: &crate::model::Group) -> GroupOutcome {
    let verdict = match group.attendance {
        Attendance::LeftOut => Verdict::LeftOut,
        Attendance::TakesPart => Verdict::NotRealistically,
    };
    GroupOutcome { verdict, ready: None, spare: None, departure: None }
}

fn served(view: &View<'_>, group: &Served<'_>) -> GroupOutcome {
    let bells = view.bells_of(group.id);
    let steps = group.steps().filter(|s| !s.collected);
    // A group whose every step is collected has nothing to do in the period.
    let ready = steps.map(|s| s.span.end).max().unwrap_or(bells.start);
    let spare = bells.closing_start - ready;
    let wanted = i64::from(view.lesson.rules.wanted_spare.value.get());
    GroupOutcome {
        verdict: if spare >= wanted { Verdict::Fits } else { Verdict::Tight },
        ready: Some(to_minute(ready - bells.start)),
        spare: Some(Minutes::new(to_i32(spare))),
        departure: Some(departure(group)),
    }
}

fn departure(group: &Served<'_>) -> u64 {
    let tins = &group.group.tins;
    let place = group.choice.tin.and_then(|tin| tins.iter().position(|&t| t == tin));
    let other_method = group.group.methods.first() != Some(&group.choice.method);
    place.unwrap_or(0) as u64 + if other_method { OTHER_METHOD } else { 0 }
}

fn objective(view: &View<'_>, groups: &[GroupOutcome]) -> Objective {
    let wanted = i64::from(view.lesson.rules.wanted_spare.value.get());
    let ready = |g: GroupId| groups[g.0].ready.map_or(0, |m| i64::from(m.get()));
    let spare = |g: GroupId| groups[g.0].spare.map_or(0, |m| i64::from(m.get()));
    let closing = |g: GroupId| {
        let bells = view.bells_of(g);
        bells.end - bells.closing_start
    };
    let ids = || view.served.iter().map(|s| s.id);
    let last = ids().map(|g| (ready(g), closing(g))).max().unwrap_or((0, 0));
    Objective {
        served: u32::try_from(view.served.len()).unwrap_or(u32::MAX),
        departures: groups.iter().filter_map(|g| g.departure).sum(),
        shortfall: to_i32(ids().map(|g| (wanted - spare(g)).max(0)).max().unwrap_or(0)),
        calls: calls(view),
        latest_ready: to_i32(last.0),
        sum_ready: ids().map(ready).sum(),
        ends: to_i32(last.0 + last.1),
    }
}

/// The least number of stretches of `call` minutes that cover all minutes of
/// loading: the next one always begins at the first minute not covered yet.
fn calls(view: &View<'_>) -> u32 {
    let call = i64::from(view.lesson.rules.call.value.get()).max(1);
    let mut loads: Vec<Span> = view.openings.iter().filter(|o| o.loading).map(|o| o.span).collect();
    loads.sort_unstable();
    let (mut calls, mut covered_to) = (0, i64::MIN);
    for load in loads.iter().filter(|l| l.end > l.start) {
        let start = load.start.max(covered_to);
        let left = (load.end - start).max(0);
        let more = (left + call - 1) / call;
        if more > 0 {
            covered_to = start + more * call;
            calls += more;
        }
    }
    u32::try_from(calls).unwrap_or(u32::MAX)
}
