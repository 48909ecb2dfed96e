//! How a lesson stands by what was told of it, as text and as JSON. The fields are
//! documented in `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use super::text::{CAUTION, hanging, heading};
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::today::{GroupStanding, Standing};
use crate::units::{Minute, Minutes};
use crate::view::at_minute::at_minute;
use crate::view::words::{clock_in, number};
use crate::words::capital;

/// A lesson at a minute of its day.
pub struct Told<'a> {
    /// The copy for the day, with its plan.
    pub day: (&'a Lesson, &'a CheckedPlan),
    /// How groups stand.
    pub standing: &'a Standing,
    /// What of the facts does not agree, a sentence each.
    pub doubts: &'a [String],
    /// Whether the plan is the one kept with the copy.
    pub kept: bool,
}

#[derive(Serialize)]
struct ToldJson<'a> {
    lesson: &'a str,
    now: String,
    told: Vec<FactJson<'a>>,
    presumed: Vec<PresumedJson<'a>>,
    behind: Vec<BehindJson<'a>>,
    question: Option<QuestionJson>,
    doubts: &'a [String],
    kept: bool,
}

#[derive(Serialize)]
struct FactJson<'a> {
    group: &'a str,
    what: String,
    at: String,
}

#[derive(Serialize)]
struct PresumedJson<'a> {
    group: &'a str,
    what: String,
}

#[derive(Serialize)]
struct BehindJson<'a> {
    group: &'a str,
    minutes: i32,
    planned: String,
    ready: Option<String>,
    out: bool,
}

#[derive(Serialize)]
struct QuestionJson {
    if_nothing: Vec<String>,
}

/// How a lesson stands, as JSON.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn json(told: &Told<'_>) -> serde_json::Result<String> {
    let (lesson, _) = told.day;
    let groups = &told.standing.groups;
    let name = |g: &GroupStanding| lesson.group(g.group).name.as_str();
    let facts = groups.iter().filter_map(|g| {
        let (what, at) = g.told?;
        Some(FactJson { group: name(g), what: what.to_string(), at: at.to_string() })
    });
    let presumed = groups.iter().filter(|g| g.told.is_none());
    let behind = told.standing.behind().map(|g| BehindJson {
        group: name(g),
        minutes: g.behind,
        planned: at(lesson, g, g.planned),
        ready: g.ready.ready.map(|ready| at(lesson, g, ready)),
        out: g.ready.is_out(),
    });
    let if_nothing = if_nothing(told);
    serde_json::to_string_pretty(&ToldJson {
        lesson: &lesson.title,
        now: crate::view::words::clock(lesson, told.standing.now).to_string(),
        told: facts.collect(),
        presumed: presumed.map(|g| PresumedJson { group: name(g), what: doing(told, g) }).collect(),
        behind: behind.collect(),
        question: (!if_nothing.is_empty()).then_some(QuestionJson { if_nothing }),
        doubts: told.doubts,
        kept: told.kept,
    })
}

/// How a lesson stands, in words.
pub fn text(told: &Told<'_>) -> String {
    let (lesson, _) = told.day;
    let mut out = String::new();
    heading(&mut out, lesson);
    let now = crate::view::words::clock(lesson, told.standing.now);
    let _ = writeln!(out, "{now}");
    let groups = &told.standing.groups;
    let name = |g: &GroupStanding| lesson.group(g.group).name.clone();
    let mut part = |head: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let _ = writeln!(out, "\n{head}");
        }
        for line in lines {
            let _ = writeln!(out, "{}", hanging(&line, 2, 4));
        }
    };
    let facts = groups.iter().filter_map(|g| {
        let (what, at) = g.told?;
        Some(format!("{}: {what} at {at}; {}", name(g), doing(told, g)))
    });
    part("Told", facts.collect());
    let presumed = groups.iter().filter(|g| g.told.is_none());
    part(
        "Presumed by the plan: nothing was told",
        presumed.map(|g| format!("{}: {}", name(g), doing(told, g))).collect(),
    );
    part("Behind", told.standing.behind().map(|g| behind_words(lesson, g)).collect());
    part("If nothing is done", if_nothing(told));
    part("Look again", told.doubts.to_vec());
    out.push_str(CAUTION);
    out
}

/// "Unit 3 is 3 behind, still ready 11:01."
pub fn behind_words(lesson: &Lesson, group: &GroupStanding) -> String {
    let (name, behind) = (&lesson.group(group.group).name, group.behind);
    let is = format!("{name} is {behind} behind");
    match group.ready.ready.map(|ready| (ready, at(lesson, group, ready))) {
        None => format!("{is}: nobody is there any more to serve it."),
        Some((ready, clock)) if ready <= group.planned => format!("{is}, still ready {clock}."),
        Some((_, clock)) => {
            format!("{is}, ready {clock} instead of {}.", at(lesson, group, group.planned))
        }
    }
}

/// What becomes of the groups that are not out, a sentence each.
fn if_nothing(told: &Told<'_>) -> Vec<String> {
    let (lesson, _) = told.day;
    let not_out = told.standing.groups.iter().filter(|g| !g.ready.is_out());
    let words = not_out.map(|g| {
        let name = &lesson.group(g.group).name;
        match g.ready.ready {
            None => format!("{name} is not served any more: nobody is there."),
            Some(_) if g.ready.spare >= 0 => {
                format!("A mixture of {name} waits longer than it may.")
            }
            Some(ready) => {
                let late = usize::try_from(-g.ready.spare).unwrap_or(0);
                let minutes = if late == 1 { "minute" } else { "minutes" };
                format!(
                    "{name} is ready {}, {} {minutes} after the closing steps begin.",
                    at(lesson, g, ready),
                    number(late)
                )
            }
        }
    });
    words.map(|words| capital(&words)).collect()
}

/// What a group does by its plan, played on.
fn doing(told: &Told<'_>, group: &GroupStanding) -> String {
    let (lesson, plan) = told.day;
    let by_plan = told.standing.now - Minutes::new(group.behind);
    let all = at_minute(lesson, plan, by_plan).groups;
    let name = &lesson.group(group.group).name;
    all.into_iter().find(|d| d.who == *name).map_or_else(String::new, |d| d.what)
}

fn at(lesson: &Lesson, group: &GroupStanding, minute: Minute) -> String {
    clock_in(lesson, lesson.group(group.group).period, minute).to_string()
}
