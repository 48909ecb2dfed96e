//! How a lesson stands by what was told of it, as text and as JSON. The fields are
//! documented in `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use super::text::{CAUTION, hanging, heading};
use super::today::KeptJson;
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::today::{GroupStanding, Help, Response, Standing, before_help};
use crate::units::{Minute, Minutes};
use crate::view::at_minute::at_minute;
use crate::view::day::{behind_words, help_words, if_nothing};
use crate::view::odds::words::odds_words;
use crate::view::words::{clock, clock_in};
use crate::words::capital;

/// A lesson at a minute of its day.
pub struct Told<'a> {
    /// The copy for the day, with its plan.
    pub day: (&'a Lesson, &'a CheckedPlan),
    /// How groups stand.
    pub standing: &'a Standing,
    /// What can be done about who will not be out.
    pub responses: &'a [Response],
    /// What an adult's help would have to bring.
    pub help: &'a [Help],
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
    question: Option<QuestionJson<'a>>,
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
struct QuestionJson<'a> {
    if_nothing: Vec<String>,
    responses: Vec<ResponseJson<'a>>,
    help: Vec<HelpJson<'a>>,
}

/// What an adult's help would have to bring, as JSON.
#[derive(Serialize)]
pub(super) struct HelpJson<'a> {
    group: &'a str,
    minutes: i32,
    by: String,
    free: Vec<FreeJson<'a>>,
    what: String,
}

#[derive(Serialize)]
struct FreeJson<'a> {
    adult: &'a str,
    from: String,
    until: String,
}

/// Something that can be done, as JSON.
#[derive(Serialize)]
pub(super) struct ResponseJson<'a> {
    what: &'a str,
    asks: &'a [String],
    moves: Vec<String>,
    all_out: [f64; 2],
    ready: Vec<ReadyJson<'a>>,
    keeps: KeptJson,
}

#[derive(Serialize)]
struct ReadyJson<'a> {
    group: &'a str,
    at: String,
}

/// All that can be done, as JSON.
pub(super) fn responses_json(responses: &[Response]) -> Vec<ResponseJson<'_>> {
    responses.iter().map(response_json).collect()
}

fn response_json(response: &Response) -> ResponseJson<'_> {
    let Response { words, asks, after, moves, all_out, .. } = response;
    let lesson = &after.lesson;
    let ready = lesson.attending().filter_map(|g| {
        let ready = after.plan.group_outcome(g)?.ready?;
        let group = lesson.group(g);
        let at = clock_in(lesson, group.period, ready).to_string();
        Some(ReadyJson { group: &group.name, at })
    });
    ResponseJson {
        what: words,
        asks,
        moves: moves.sentences(),
        all_out: *all_out,
        ready: ready.collect(),
        keeps: KeptJson::of(after.kept),
    }
}

/// All help there could be, as JSON.
pub(super) fn help_json<'a>(lesson: &'a Lesson, help: &[Help]) -> Vec<HelpJson<'a>> {
    let one = |help: &Help| {
        let group = lesson.group(help.made_up.group);
        let free = help.free.iter().map(|free| FreeJson {
            adult: &lesson.adults[free.adult.0].name,
            from: clock(lesson, free.from).to_string(),
            until: clock(lesson, free.until).to_string(),
        });
        HelpJson {
            group: &group.name,
            minutes: help.made_up.gain.get(),
            by: clock_in(lesson, group.period, help.by).to_string(),
            free: free.collect(),
            what: help_words(lesson, help),
        }
    };
    help.iter().map(one).collect()
}

/// All that can be done, in lines: responses by number, and help where it stands among them.
pub(super) fn ways_lines(lesson: &Lesson, responses: &[Response], help: &[Help]) -> Vec<String> {
    let (less, more) = responses.split_at(before_help(responses));
    let lines = |(i, response)| response_lines(i + 1, response);
    let mut all: Vec<String> = less.iter().enumerate().flat_map(lines).collect();
    all.extend(help.iter().map(|help| help_words(lesson, help)));
    all.extend((less.len()..).zip(more).flat_map(lines));
    all
}

/// A response in lines: what, who moves, what it asks.
fn response_lines(number: usize, response: &Response) -> Vec<String> {
    let moves = response.moves.sentences().join(" ");
    let mut lines = vec![format!("{number}. {}: {moves}", capital(&response.words))];
    lines.push(format!("   All out by the bell then: {}.", odds_words(&response.all_out)));
    if !response.asks.is_empty() {
        lines.push(format!("   {}", response.asks.join(" ")));
    }
    lines
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
    let if_nothing = if_nothing(told.day.0, told.standing);
    serde_json::to_string_pretty(&ToldJson {
        lesson: &lesson.title,
        now: clock(lesson, told.standing.now).to_string(),
        told: facts.collect(),
        presumed: presumed.map(|g| PresumedJson { group: name(g), what: doing(told, g) }).collect(),
        behind: behind.collect(),
        question: (!if_nothing.is_empty()).then(|| QuestionJson {
            if_nothing,
            responses: responses_json(told.responses),
            help: help_json(lesson, told.help),
        }),
        doubts: told.doubts,
        kept: told.kept,
    })
}

/// How a lesson stands, in words.
pub fn text(told: &Told<'_>) -> String {
    let (lesson, _) = told.day;
    let mut out = String::new();
    heading(&mut out, lesson);
    let now = clock(lesson, told.standing.now);
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
    part("If nothing is done", if_nothing(lesson, told.standing));
    part("What can be done; nothing is changed yet", ways_lines(lesson, told.responses, told.help));
    part("Look again", told.doubts.to_vec());
    out.push_str(CAUTION);
    out
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
