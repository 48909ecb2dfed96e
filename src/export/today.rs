//! The lesson of the day as text and as JSON.

use std::fmt::Write as _;

use serde::Serialize;

use super::changes::latest;
use super::text::{CAUTION, hanging, heading, wrapped};
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::today::{KeptCounts, differences};
use crate::units::ClockTime;
use crate::view::sentence;
use crate::view::words::number;

/// A day to be told of.
pub struct Day<'a> {
    /// The lesson and its plan before what has happened.
    pub before: (&'a Lesson, &'a CheckedPlan),
    /// When it happened, if groups were at work by then: what had begun is
    /// presumed.
    pub presumed: Option<ClockTime>,
    /// The lesson of the day and its plan.
    pub after: (&'a Lesson, &'a CheckedPlan),
    /// Numbers of groups that keep what they had.
    pub kept: KeptCounts,
    /// Milliseconds until the first plan of the day stood.
    pub first_ms: f64,
    /// Milliseconds in all.
    pub elapsed_ms: f64,
}

/// The day in words: events, the outcome, and what changed.
pub fn text(day: &Day<'_>) -> String {
    let (lesson, plan) = day.after;
    let mut text = String::new();
    heading(&mut text, lesson);
    if let Some(today) = &lesson.today {
        for happened in &today.happened {
            let at = happened.at.map_or(String::new(), |at| format!("{at} "));
            let _ = writeln!(text, "{}", wrapped(&format!("{at}{}", happened.what), 0));
        }
        if !today.happened.is_empty() {
            text.push('\n');
        }
    }
    if let Some(at) = day.presumed {
        let _ = writeln!(text, "{}\n", wrapped(&presumed_words(lesson, at), 0));
    }
    for said in [sentence::outcome(lesson, plan), sentence::next(lesson, plan)] {
        if !said.is_empty() {
            let _ = writeln!(text, "{}", wrapped(&said, 0));
        }
    }
    let _ = writeln!(text, "\nWhat changes");
    for said in differences(day.before, day.after).sentences() {
        let _ = writeln!(text, "{}", hanging(&said, 2, 4));
    }
    if let Some(today) = &lesson.today {
        let sets = usize::try_from(today.spare_sets).unwrap_or(usize::MAX);
        let _ = writeln!(text, "\nSpare sets of ingredients left: {}.", number(sets));
    }
    text.push_str(CAUTION);
    text
}

/// That nobody has told what is under way, or not all of it.
fn presumed_words(lesson: &Lesson, at: ClockTime) -> String {
    let is_told = lesson.today.as_ref().is_some_and(|today| !today.facts.is_empty());
    let told = if is_told { ", except what was told" } else { ": nothing was told" };
    format!("What was under way at {at} is presumed by the plan{told}. It stays.")
}

#[derive(Serialize)]
struct DayJson<'a> {
    lesson: &'a str,
    happened: Vec<HappenedJson<'a>>,
    presumed: Option<String>,
    spare_sets: Option<u32>,
    outcome: String,
    next: String,
    verdict: &'static str,
    served: u32,
    of: usize,
    ready: Option<String>,
    changes: Vec<ChangeJson>,
    others: String,
    kept: KeptJson,
    first_plan_ms: f64,
    elapsed_ms: f64,
}

#[derive(Serialize)]
struct HappenedJson<'a> {
    at: Option<String>,
    what: &'a str,
}

#[derive(Serialize)]
struct ChangeJson {
    group: Option<String>,
    change: String,
}

#[derive(Serialize)]
pub(super) struct KeptJson {
    others: usize,
    all: usize,
    bake: usize,
    place: usize,
}

impl KeptJson {
    pub(super) fn of(kept: KeptCounts) -> Self {
        let KeptCounts { others, all, bake, place } = kept;
        Self { others, all, bake, place }
    }
}

/// The day as JSON.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn json(day: &Day<'_>) -> Result<String, serde_json::Error> {
    let (lesson, plan) = day.after;
    let found = differences(day.before, day.after);
    let happened = lesson.today.iter().flat_map(|t| &t.happened);
    let answer = DayJson {
        lesson: &lesson.title,
        happened: happened
            .map(|h| HappenedJson { at: h.at.map(|at| at.to_string()), what: &h.what })
            .collect(),
        presumed: day.presumed.map(|at| at.to_string()),
        spare_sets: lesson.today.as_ref().map(|t| t.spare_sets),
        outcome: sentence::outcome(lesson, plan),
        next: sentence::next(lesson, plan),
        verdict: plan.verdict().name(),
        served: plan.objective().served,
        of: lesson.attending().count(),
        ready: latest(lesson, plan),
        changes: found
            .changes
            .into_iter()
            .map(|c| ChangeJson { group: c.group, change: c.words })
            .collect(),
        others: found.others,
        kept: KeptJson::of(day.kept),
        first_plan_ms: day.first_ms,
        elapsed_ms: day.elapsed_ms,
    };
    serde_json::to_string_pretty(&answer)
}
