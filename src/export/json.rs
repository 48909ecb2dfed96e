//! A checked plan as JSON. The fields are documented in
//! `assets/json.md`.

use serde::Serialize;
use serde_json::Number;

use super::jobs::{JobJson, SettingJson, UnwatchedJson, jobs_json, settings_json, unwatched_json};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Phase};
use crate::plan::{Load, NotServed, Place, Refusal};
use crate::play::{GroupToGive, jobs, to_give};
use crate::units::{FineMillimetres, Minute, Minutes};
use crate::view::assumed::assumed;
use crate::view::remarks::remarks;

/// How the planning went, for the fields in `_ms`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlanningTime {
    /// Milliseconds from the lesson being read to the first checked plan.
    pub first_plan_ms: f64,
    /// To the first as good as this on the aims that can be proved.
    pub best_plan_ms: f64,
    /// Until it was proved to be the best on them, if that was.
    pub proved_ms: Option<f64>,
    /// Milliseconds in all.
    pub elapsed_ms: f64,
    /// Plans built.
    pub decodings: u64,
}

#[derive(Serialize)]
struct PlanJson<'a> {
    lesson: &'a str,
    verdict: &'static str,
    served: u32,
    of: usize,
    groups: Vec<GroupJson<'a>>,
    steps: Vec<StepJson<'a>>,
    loads: Vec<LoadJson<'a>>,
    class_steps: Vec<ClassStepJson<'a>>,
    settings: Vec<SettingJson<'a>>,
    jobs: Vec<JobJson<'a>>,
    unwatched: Vec<UnwatchedJson<'a>>,
    objective: ObjectiveJson,
    proved: ProvedJson,
    assumed: Vec<String>,
    kept: bool,
    remarks: Vec<String>,
    decodings: u64,
    first_plan_ms: f64,
    best_plan_ms: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    proved_ms: Option<f64>,
    elapsed_ms: f64,
}

#[derive(Serialize)]
struct GroupJson<'a> {
    name: &'a str,
    verdict: &'static str,
    tin: Option<&'a str>,
    method: Option<&'a str>,
    departure: Option<u64>,
    ready: Option<i32>,
    spare: Option<i32>,
    to_give: Option<i32>,
    by: Option<&'static str>,
    rules: Vec<&'static str>,
    reason: Option<&'a str>,
}

#[derive(Serialize)]
struct StepJson<'a> {
    group: &'a str,
    step: &'a str,
    pupils: Vec<u32>,
    adult: Option<&'a str>,
    start: i32,
    end: i32,
    to_give: Option<i32>,
    call_to_give: Option<i32>,
}

#[derive(Serialize)]
struct LoadJson<'a> {
    oven: &'a str,
    shelf: usize,
    group: &'a str,
    tin: &'a str,
    #[serde(rename = "in")]
    start: i32,
    out: i32,
    celsius: f64,
    dial: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    x_mm: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    y_mm: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    turned: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    centre_x_mm: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    centre_y_mm: Option<Number>,
}

#[derive(Serialize)]
struct ClassStepJson<'a> {
    name: &'a str,
    period: &'a str,
    start: i32,
    end: i32,
}

#[derive(Serialize)]
struct ObjectiveJson {
    served: u32,
    departures: u64,
    shortfall: i32,
    calls: u32,
    latest_ready: i32,
    sum_ready: i64,
    ends: i32,
}

#[derive(Serialize)]
struct ProvedJson {
    served: AimJson,
    departures: AimJson,
    shortfall: AimJson,
}

/// The best found, what is proved, and whether they meet.
#[derive(Serialize)]
struct AimJson {
    best: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<i64>,
    proved: bool,
}

/// The answer to `plan` as one JSON object.
///
/// # Errors
/// Never in practice; `serde_json` reserves the right.
pub fn answer(
    lesson: &Lesson,
    (plan, is_kept): (&CheckedPlan, bool),
    timing: PlanningTime,
) -> Result<String, serde_json::Error> {
    let objective = plan.objective();
    let (gives, jobs) = (to_give(lesson, plan), jobs(lesson, plan));
    let groups = (0..lesson.groups.len()).map(GroupId);
    let answer = PlanJson {
        lesson: &lesson.title,
        verdict: plan.verdict().name(),
        served: objective.served,
        of: lesson.attending().count(),
        groups: groups.map(|g| group(lesson, plan, g, &gives)).collect(),
        steps: steps(lesson, plan, &gives),
        loads: plan.plan().loads.iter().map(|l| load(lesson, plan, l)).collect(),
        class_steps: class_steps(lesson, plan),
        settings: settings_json(lesson, plan),
        jobs: jobs_json(lesson, plan, &jobs),
        unwatched: unwatched_json(lesson, &jobs),
        objective: ObjectiveJson {
            served: objective.served,
            departures: objective.departures,
            shortfall: objective.shortfall,
            calls: objective.calls,
            latest_ready: latest_ready(lesson, plan).get(),
            sum_ready: all_ready(lesson, plan).map(|(_, at)| i64::from(at.get())).sum(),
            ends: ends(lesson, plan).get(),
        },
        proved: proved(plan),
        assumed: assumed(lesson, plan),
        kept: is_kept,
        remarks: remarks(lesson, plan),
        decodings: timing.decodings,
        first_plan_ms: timing.first_plan_ms,
        best_plan_ms: timing.best_plan_ms,
        proved_ms: timing.proved_ms,
        elapsed_ms: timing.elapsed_ms,
    };
    serde_json::to_string_pretty(&answer)
}

fn group<'a>(
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    id: GroupId,
    gives: &[GroupToGive],
) -> GroupJson<'a> {
    let outcome = plan.group_outcomes()[id.0];
    let choice = plan.plan().choice(id);
    let refused: Option<&NotServed> = plan.plan().not_served.iter().find(|n| n.group == id);
    GroupJson {
        name: &lesson.group(id).name,
        verdict: outcome.verdict.name(),
        tin: choice.and_then(|c| c.tin).map(|t| lesson.tin_choice_of(id, t).label.as_str()),
        method: choice.map(|c| lesson.method_of(id, c.method).name.as_str()),
        departure: outcome.departure,
        ready: outcome.ready.map(|m| from_first_bell(lesson, id, m).get()),
        spare: outcome.spare.map(|m| m.get()),
        to_give: gives.iter().find(|g| g.group == id).map(|g| g.minutes),
        by: refused.filter(|n| n.refusal != Refusal::LeftOut).map(|n| n.by.name()),
        rules: refused.map(|n| n.rules.iter().map(|r| r.name()).collect()).unwrap_or_default(),
        reason: refused.map(|n| n.reason.as_str()),
    }
}

/// When a group is ready, counted from the start bell of the first period like
/// all other minutes.
fn from_first_bell(lesson: &Lesson, id: GroupId, ready: Minute) -> Minute {
    let start = lesson.periods[lesson.group(id).period.0].start;
    ready + (start - Minute::new(0))
}

/// Every group that is served, with when it is ready.
fn all_ready(lesson: &Lesson, plan: &CheckedPlan) -> impl Iterator<Item = (GroupId, Minute)> {
    let ready = |id: GroupId| {
        let ready = plan.group_outcomes()[id.0].ready?;
        Some((id, from_first_bell(lesson, id, ready)))
    };
    lesson.attending().filter_map(ready)
}

/// When the last group is ready; 0 if nobody is served.
pub(super) fn latest_ready(lesson: &Lesson, plan: &CheckedPlan) -> Minute {
    all_ready(lesson, plan).map(|(_, at)| at).max().unwrap_or(Minute::new(0))
}

/// That and the closing minutes of its period; of several that are ready last
/// those of the longest closing.
fn ends(lesson: &Lesson, plan: &CheckedPlan) -> Minute {
    let closing = |id: GroupId| -> i32 {
        let period = lesson.group(id).period;
        let steps = plan.plan().class_steps.iter().filter(|placed| {
            let step = &lesson.class_steps[placed.step.0];
            step.period == period && step.phase == Phase::Closing
        });
        steps.map(|placed| (placed.end - placed.start).get()).sum()
    };
    let latest = latest_ready(lesson, plan);
    let last = all_ready(lesson, plan).filter(|&(_, at)| at == latest);
    latest + Minutes::new(last.map(|(id, _)| closing(id)).max().unwrap_or(0))
}

fn steps<'a>(
    lesson: &'a Lesson,
    plan: &'a CheckedPlan,
    gives: &[GroupToGive],
) -> Vec<StepJson<'a>> {
    let mut steps: Vec<StepJson<'a>> = Vec::new();
    for placed in &plan.plan().steps {
        let Some(choice) = plan.plan().choice(placed.group) else { continue };
        let method = lesson.method_of(placed.group, choice.method);
        let give = gives.iter().find(|g| g.group == placed.group);
        let give = give.and_then(|g| g.steps.iter().find(|s| s.step == placed.step));
        steps.push(StepJson {
            group: &lesson.group(placed.group).name,
            step: &method.steps[placed.step.0].name,
            // Pupils are numbered from 1 for people.
            pupils: placed.pupils.iter().map(|p| p + 1).collect(),
            adult: placed.adult.map(|a| lesson.adults[a.0].name.as_str()),
            start: placed.start.get(),
            end: placed.end.get(),
            to_give: give.map(|s| s.minutes),
            call_to_give: give.and_then(|s| s.call),
        });
    }
    steps
}

fn load<'a>(lesson: &'a Lesson, plan: &'a CheckedPlan, load: &Load) -> LoadJson<'a> {
    let oven = &lesson.ovens[load.oven.0];
    let tin = plan.plan().choice(load.group).and_then(|c| c.tin);
    let (corner, centre) = match load.place {
        Place::Corner { x, y, turned } => (Some((x, y, turned)), None),
        Place::Centre { x, y } => (None, Some((x, y))),
    };
    LoadJson {
        oven: &oven.name,
        shelf: load.shelf.0 + 1,
        group: &lesson.group(load.group).name,
        tin: tin.map_or("", |t| {
            let choice = lesson.tin_choice_of(load.group, t);
            lesson.tins[choice.tin.0].name.as_str()
        }),
        start: load.start.get(),
        out: load.end.get(),
        celsius: load.celsius.get(),
        dial: oven.dial(load.celsius),
        x_mm: corner.and_then(|(x, _, _)| mm(x)),
        y_mm: corner.and_then(|(_, y, _)| mm(y)),
        turned: corner.map(|(_, _, turned)| turned),
        centre_x_mm: centre.and_then(|(x, _)| mm(x)),
        centre_y_mm: centre.and_then(|(_, y)| mm(y)),
    }
}

/// Millimetres, with a point only if they are not whole.
fn mm(of: FineMillimetres) -> Option<Number> {
    of.whole_mm().map(Number::from).or_else(|| Number::from_f64(of.in_mm()))
}

fn class_steps<'a>(lesson: &'a Lesson, plan: &'a CheckedPlan) -> Vec<ClassStepJson<'a>> {
    let of = |placed: &crate::plan::ClassPlacement| {
        let step = &lesson.class_steps[placed.step.0];
        ClassStepJson {
            name: &step.name,
            period: &lesson.periods[step.period.0].name,
            start: placed.start.get(),
            end: placed.end.get(),
        }
    };
    plan.plan().class_steps.iter().map(of).collect()
}

/// An aim is proved only when all before it are.
fn proved(plan: &CheckedPlan) -> ProvedJson {
    let objective = plan.objective();
    let bounds = plan.plan().bounds;
    let departures = i64::try_from(objective.departures).unwrap_or(i64::MAX);
    let least = bounds.map(|b| i64::try_from(b.departures_at_least).unwrap_or(i64::MAX));
    let served = bounds.is_some_and(|b| b.served_at_most == objective.served);
    let departed = served && least == Some(departures);
    let shortfall = departed && bounds.is_some_and(|b| b.shortfall_at_least == objective.shortfall);
    ProvedJson {
        served: AimJson {
            best: i64::from(objective.served),
            at_most: bounds.map(|b| i64::from(b.served_at_most)),
            at_least: None,
            proved: served,
        },
        departures: AimJson {
            best: departures,
            at_most: None,
            at_least: least.filter(|_| served),
            proved: departed,
        },
        shortfall: AimJson {
            best: i64::from(objective.shortfall),
            at_most: None,
            at_least: bounds.map(|b| i64::from(b.shortfall_at_least)).filter(|_| departed),
            proved: shortfall,
        },
    }
}
