//! A row for each group: its steps, who waits, its ready time and verdict.

use super::board::{Bar, BarId, Work};
use super::collected::collected;
use super::held::{HeldOfGroup, held_of, is_start_held};
use super::lanes::Lanes;
use super::words::{clock, clock_in};
use crate::check::{CheckedPlan, Verdict};
use crate::model::{GroupId, Lesson, Method, StepId, StepKind};
use crate::play::groups_to_give;
use crate::units::Minute;

/// A group on the board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Which.
    pub group: GroupId,
    /// Its name.
    pub name: String,
    /// Its tin and method, or its recipe if it is not served.
    pub choice: String,
    /// How it stands with it.
    pub verdict: Verdict,
    /// "10:58" or the verdict in words.
    pub ready: String,
    /// "3 to give": how much later it may run; `None` if it is not served.
    pub to_give: Option<String>,
    /// Its bake is collected later.
    pub collected: bool,
    /// What of it the teacher has fixed.
    pub held: HeldOfGroup,
    /// Its steps.
    pub bars: Vec<Bar>,
    /// Stretches in which its mixture or tin waits, in the first lane.
    pub waits: Vec<(Minute, Minute)>,
    /// Which of its steps wait for which: earlier, later.
    pub links: Vec<(StepId, StepId)>,
    /// How many lanes.
    pub lanes: usize,
    /// Why it is not served.
    pub reason: Option<String>,
    /// What a screen reader says.
    pub spoken: String,
}

/// Said of a group whose bake is fetched after the bell.
pub const COLLECTED_LATER: &str = "collected later";

/// The rows of all groups.
pub fn rows(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Row> {
    let gives = groups_to_give(lesson, plan);
    let give = |id| gives.iter().find(|(group, _)| *group == id).map(|(_, give)| *give);
    let ids = (0..lesson.groups.len()).map(GroupId);
    ids.map(|id| row(lesson, plan, id, give(id))).collect()
}

/// How much later a group may run, in words short enough for the narrowest column.
pub fn to_give_words(minutes: i32) -> String {
    format!("{} to give", minutes.max(0))
}

/// The verdict in the words of the trade.
pub fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Tight => "tight",
        Verdict::NotRealistically => "no plan found",
        Verdict::CannotAll => "no room for all",
        Verdict::Cannot => "cannot",
        Verdict::LeftOut => "left out",
    }
}

/// A group's tin in words, and its method where it has a choice of them.
pub fn choice_words(lesson: &Lesson, plan: &CheckedPlan, group: GroupId) -> Option<String> {
    let choice = plan.plan().choice(group)?;
    let method = &lesson.method_of(group, choice.method).name;
    let several = lesson.group(group).methods.len() > 1;
    Some(match choice.tin {
        Some(tin) if several => {
            format!("{}, {method}", lesson.tin_in_words(lesson.tin_choice_of(group, tin)))
        }
        Some(tin) => lesson.tin_in_words(lesson.tin_choice_of(group, tin)),
        None => method.clone(),
    })
}

fn row(lesson: &Lesson, plan: &CheckedPlan, id: GroupId, give: Option<i32>) -> Row {
    let group = lesson.group(id);
    let outcome = plan.group_outcomes()[id.0];
    let verdict = outcome.verdict;
    let refused = plan.plan().not_served.iter().find(|n| n.group == id);
    let ready = match outcome.ready {
        Some(ready) => clock_in(lesson, group.period, ready).to_string(),
        None => verdict_words(verdict).to_owned(),
    };
    let choice = choice_words(lesson, plan, id);
    let spoken = match (&choice, outcome.ready) {
        (Some(choice), Some(_)) => {
            let give = give.map_or(String::new(), |give| format!(", {}", to_give_words(give)));
            format!("{}, {choice}, ready {ready}, {}{give}", group.name, verdict_words(verdict))
        }
        _ => format!("{}, {}, {}", group.name, lesson.recipe_of(id).name, verdict_words(verdict)),
    };
    let held = held_of(lesson, plan, id);
    let spoken = match held.words().as_str() {
        "" => spoken,
        words => format!("{spoken}, {words}"),
    };
    let collected = !collected(lesson, plan, id).is_empty();
    let spoken = if collected { format!("{spoken}, {COLLECTED_LATER}") } else { spoken };
    let (bars, lanes) = bars(lesson, plan, id);
    Row {
        group: id,
        name: group.name.clone(),
        choice: choice.unwrap_or_else(|| lesson.recipe_of(id).name.clone()),
        verdict,
        ready,
        to_give: give.map(to_give_words),
        collected,
        held,
        waits: waits(&bars),
        bars,
        links: links(lesson, plan, id),
        lanes: lanes.max(1),
        reason: refused.map(|n| n.reason.clone()),
        spoken,
    }
}

fn links(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Vec<(StepId, StepId)> {
    let Some(choice) = plan.plan().choice(id) else { return Vec::new() };
    lesson.method_of(id, choice.method).links.iter().map(|l| (l.from, l.to)).collect()
}

fn bars(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> (Vec<Bar>, usize) {
    let Some(choice) = plan.plan().choice(id) else { return (Vec::new(), 0) };
    let method = lesson.method_of(id, choice.method);
    let group = lesson.group(id);
    let period = &lesson.periods[group.period.0];
    let on_way = on_the_way(method);
    let mut placed: Vec<_> = plan.plan().steps.iter().filter(|s| s.group == id).collect();
    // What the tin goes through has the first lane; clearing away lies below.
    placed.sort_by_key(|s| (!on_way[s.step.0], s.start, s.step));
    let mut lanes = Lanes::default();
    let mut bars = Vec::new();
    for s in placed {
        let step = &method.steps[s.step.0];
        // What is done outside the bells is no work of the lesson.
        if s.end <= period.start || s.start >= period.end {
            continue;
        }
        let work = kind_of_work(step.kind, on_way[s.step.0]);
        let lane = lanes.take(usize::from(!on_way[s.step.0]), s.start, s.end);
        let minutes = (s.end - s.start).get();
        let label = match step.kind {
            StepKind::Bake => format!("{} {minutes}", step.name),
            _ => step.name.clone(),
        };
        let oven = match step.kind {
            StepKind::Load | StepKind::Bake | StepKind::TakeOut => {
                let load = plan.plan().loads.iter().find(|l| l.group == id);
                load.map_or(String::new(), |l| format!(", {}", lesson.ovens[l.oven.0].name))
            }
            _ => String::new(),
        };
        let held = is_start_held(lesson, plan, id, s.step);
        let spoken = format!(
            "{}, {}, {} to {}{oven}{}{}",
            group.name,
            step.name,
            clock(lesson, s.start),
            clock(lesson, s.end),
            if held { ", held" } else { "" },
            if group.collected.contains(&step.name) { ", collected later" } else { "" }
        );
        let id = BarId::Step(id, s.step);
        bars.push(Bar { id, work, from: s.start, until: s.end, lane, held, label, spoken });
    }
    bars.sort_by_key(|b| (b.from, b.lane));
    (bars, lanes.count())
}

/// What kind of work a step is, on the way of the tin or beside it.
pub(super) fn kind_of_work(kind: StepKind, on_way: bool) -> Work {
    match kind {
        StepKind::Load | StepKind::TakeOut => Work::Door,
        StepKind::Bake => Work::Bake,
        StepKind::Cool => Work::Cool,
        StepKind::Wait => Work::Wait,
        StepKind::Hand if on_way => Work::Bench,
        StepKind::Hand => Work::Clear,
    }
}

/// Steps the bake waits for or that wait for it; without a bake, all.
pub(super) fn on_the_way(method: &Method) -> Vec<bool> {
    let Some((load, _, out)) = method.bake_steps() else {
        return vec![true; method.steps.len()];
    };
    let before = reached(method, load, |l| (l.to, l.from));
    let after = reached(method, out, |l| (l.from, l.to));
    let mut way: Vec<bool> = before.iter().zip(&after).map(|(b, a)| *b || *a).collect();
    way[load.0..=out.0].fill(true);
    way
}

/// Steps reached from one over the links, taken as `(from, to)`.
fn reached(
    method: &Method,
    start: StepId,
    ends: impl Fn(&crate::model::Link) -> (StepId, StepId),
) -> Vec<bool> {
    let mut seen = vec![false; method.steps.len()];
    let mut stack = vec![start];
    while let Some(step) = stack.pop() {
        for (from, to) in method.links.iter().map(&ends) {
            if from == step && !std::mem::replace(&mut seen[to.0], true) {
                stack.push(to);
            }
        }
    }
    seen
}

/// Gaps in the first lane.
fn waits(bars: &[Bar]) -> Vec<(Minute, Minute)> {
    let mut first: Vec<_> =
        bars.iter().filter(|b| b.lane == 0).map(|b| (b.from, b.until)).collect();
    first.sort_unstable();
    first.windows(2).filter(|w| w[0].1 < w[1].0).map(|w| (w[0].1, w[1].0)).collect()
}
