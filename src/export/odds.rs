//! The odds of a plan as text and as JSON. The fields are documented in
//! `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use super::better::{BetterJson, GainWords};
use super::text::{hanging, heading, wrapped};
use crate::better::Search;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, StepId};
use crate::play::{
    Checkpoint, GroupOdds, GroupToGive, Odds, Settings, Spread, Together, TrueAt, Whom,
};
use crate::units::Minute;
pub use crate::view::odds::words::odds_words;
use crate::view::odds::words::{at, if_words, mark_words, step_name, true_words, who_has_done};
use crate::view::rows::to_give_words;
use crate::view::words::{capital, clock, minutes};

/// What was played and what came of it.
#[derive(Debug, Clone, Copy)]
pub struct OddsReport<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its plan.
    pub plan: &'a CheckedPlan,
    /// How it was played, but for the spread.
    pub settings: &'a Settings,
    /// Each spread it was played with, the widest first, and its odds; at
    /// least one.
    pub played: &'a [(Spread, Odds)],
    /// What the groups have to give.
    pub gives: &'a [GroupToGive],
    /// What has to be true at a minute, if one was asked about.
    pub true_at: Option<(Minute, &'a [TrueAt])>,
    /// What the search for a plan with better odds came to, if one was asked for.
    pub better: Option<&'a Search>,
}

#[derive(Serialize)]
struct OddsJson<'a> {
    lesson: &'a str,
    model: ModelJson,
    class: ClassJson,
    groups: Vec<GroupJson<'a>>,
    causes: Vec<CauseJson>,
    checkpoints: Vec<CheckpointJson<'a>>,
    true_at: Option<TrueAtJson<'a>>,
    better: Option<BetterJson>,
}

#[derive(Serialize)]
struct ModelJson {
    formula: &'static str,
    bakes: &'static str,
    factors: FactorsJson,
    call: &'static str,
    spreads: Vec<f64>,
    seed: u64,
    runs: u32,
}

#[derive(Serialize)]
struct FactorsJson {
    class: f64,
    group: f64,
    oven: f64,
    mixture: f64,
    class_steps: f64,
}

/// A share of the runs, by the spread it was played with.
#[derive(Serialize)]
struct RangeJson {
    low: f64,
    high: f64,
    basis: String,
    words: String,
}

#[derive(Serialize)]
struct ClassJson {
    before_closing: RangeJson,
    by_bell_without_plenary: Option<RangeJson>,
    groups_out: Vec<f64>,
    past_closing: Vec<[Option<f64>; 3]>,
}

#[derive(Serialize)]
struct GroupJson<'a> {
    name: &'a str,
    to_give: i32,
    early: Option<f64>,
    middle: Option<f64>,
    late: Option<f64>,
    out: RangeJson,
    too_late: RangeJson,
    waited: RangeJson,
}

#[derive(Serialize)]
struct CauseJson {
    kind: &'static str,
    what: String,
    minutes: f64,
    share_of_late: f64,
}

#[derive(Serialize)]
struct CheckpointJson<'a> {
    at: i32,
    group: Option<&'a str>,
    done: &'a str,
    planned: i32,
    latest: i32,
    odds_if: f64,
    odds_if_later: f64,
}

#[derive(Serialize)]
struct TrueAtJson<'a> {
    minute: i32,
    groups: Vec<TrueOfGroupJson<'a>>,
}

#[derive(Serialize)]
struct TrueOfGroupJson<'a> {
    group: &'a str,
    over: Vec<&'a str>,
    begun: Vec<&'a str>,
}

/// The runs that are told of: with the widest spread.
fn widest<'a>(report: &OddsReport<'a>) -> Option<&'a Odds> {
    report.played.first().map(|(_, odds)| odds)
}

/// To the hundredth: runs tell no more.
fn rounded(share: f64) -> f64 {
    (share * 100.0).round() / 100.0
}

/// To the tenth of a minute.
fn tenth(minutes: f64) -> f64 {
    (minutes * 10.0).round() / 10.0
}

fn shares(report: &OddsReport<'_>, of: impl Fn(&Odds) -> f64) -> Vec<f64> {
    report.played.iter().map(|(_, odds)| of(odds)).collect()
}

fn range(report: &OddsReport<'_>, of: impl Fn(&Odds) -> f64) -> RangeJson {
    let shares = shares(report, of);
    let spreads: Vec<String> = report.played.iter().map(|(spread, _)| spread.to_string()).collect();
    RangeJson {
        low: rounded(shares.iter().copied().fold(f64::INFINITY, f64::min)),
        high: rounded(shares.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
        basis: spreads.join(", "),
        words: odds_words(&shares),
    }
}

/// The answer to `odds` as one JSON object.
///
/// # Errors
/// Never in practice; `serde_json` reserves the right.
pub fn json(report: &OddsReport<'_>) -> Result<String, serde_json::Error> {
    let lesson = report.lesson;
    let shortened = widest(report).is_some_and(|o| o.class.by_bell_shortened.is_some());
    let class = ClassJson {
        before_closing: range(report, |o| o.class.before_closing),
        by_bell_without_plenary: shortened
            .then(|| range(report, |o| o.class.by_bell_shortened.unwrap_or(0.0))),
        groups_out: report.played.iter().map(|(_, o)| rounded(o.class.groups_out)).collect(),
        past_closing: report
            .played
            .iter()
            .map(|(_, o)| o.class.past_closing.map(|m| m.map(tenth)))
            .collect(),
    };
    let causes = widest(report).map(|o| o.causes.as_slice()).unwrap_or_default();
    let causes = causes.iter().map(|c| CauseJson {
        kind: c.what.kind(),
        what: c.what.words(lesson),
        minutes: rounded(c.minutes),
        share_of_late: rounded(c.share),
    });
    let points = widest(report).map(|o| o.checkpoints.as_slice()).unwrap_or_default();
    let answer = OddsJson {
        lesson: &lesson.title,
        model: model(report),
        class,
        groups: groups_json(report),
        causes: causes.collect(),
        checkpoints: points.iter().map(|c| checkpoint_json(report, c)).collect(),
        true_at: report.true_at.map(|(minute, groups)| TrueAtJson {
            minute: minute.get(),
            groups: groups.iter().map(|t| true_json(report, t)).collect(),
        }),
        better: report.better.map(|search| {
            let words = gain_words(report, search);
            BetterJson::of(search.found.as_ref().zip(words.as_ref()), search.built)
        }),
    };
    serde_json::to_string_pretty(&answer)
}

fn model(report: &OddsReport<'_>) -> ModelJson {
    let Together { class, group, oven, mixture, class_steps } =
        report.settings.together(report.lesson);
    ModelJson {
        formula: "PERT beta: mean (quick + 4 usual + slow) / 6, variance (mean - quick)(slow - mean) / 7",
        bakes: "stated: as steps; worked out or learned: log-normal about the usual minutes",
        factors: FactorsJson { class, group, oven, mixture, class_steps },
        call: if report.lesson.rules.call_waits {
            "waiting: a call waits for its slowest group, for the call's minutes at most"
        } else {
            "nobody is waited for: who comes within the call's minutes joins"
        },
        spreads: report.played.iter().map(|(spread, _)| spread.factor()).collect(),
        seed: report.settings.seed,
        runs: report.settings.runs,
    }
}

fn groups_json<'a>(report: &OddsReport<'a>) -> Vec<GroupJson<'a>> {
    let groups = widest(report).map(|o| o.groups.as_slice()).unwrap_or_default();
    let of = |i: usize, share: fn(&GroupOdds) -> f64| {
        range(report, move |o| o.groups.get(i).map_or(0.0, share))
    };
    let json = groups.iter().enumerate().map(|(i, group)| {
        let [early, middle, late] = group.ready.map(|m| m.map(tenth));
        GroupJson {
            name: &report.lesson.group(group.group).name,
            to_give: give(report, group.group),
            early,
            middle,
            late,
            out: of(i, |g| g.out),
            too_late: of(i, |g| g.late),
            waited: of(i, |g| g.waited),
        }
    });
    json.collect()
}

fn give(report: &OddsReport<'_>, group: GroupId) -> i32 {
    report.gives.iter().find(|g| g.group == group).map_or(0, |g| g.minutes)
}

fn checkpoint_json<'a>(report: &OddsReport<'a>, point: &Checkpoint) -> CheckpointJson<'a> {
    let (group, done) = match point.whom {
        Whom::Group(group, step) => (
            Some(report.lesson.group(group).name.as_str()),
            step_name(report.lesson, report.plan, group, step),
        ),
        Whom::Class => (None, mark_words(point.mark)),
    };
    CheckpointJson {
        at: point.at.get(),
        group,
        done,
        planned: point.planned.get(),
        latest: point.latest.get(),
        odds_if: rounded(point.odds_if),
        odds_if_later: rounded(point.odds_if_later),
    }
}

fn true_json<'a>(report: &OddsReport<'a>, of: &TrueAt) -> TrueOfGroupJson<'a> {
    let name = |&step: &StepId| step_name(report.lesson, report.plan, of.group, step);
    let names = |steps: &[StepId]| steps.iter().map(name).collect();
    TrueOfGroupJson {
        group: &report.lesson.group(of.group).name,
        over: names(&of.over),
        begun: names(&of.begun),
    }
}

/// The answer to `odds` for people.
pub fn text(report: &OddsReport<'_>) -> String {
    let mut text = String::new();
    heading(&mut text, report.lesson);
    class(&mut text, report);
    groups(&mut text, report);
    causes(&mut text, report);
    points(&mut text, report);
    truths(&mut text, report);
    better(&mut text, report);
    let _ = writeln!(text, "\n{}", wrapped(&how(report.lesson, report.settings.runs), 0));
    text.push_str(super::text::CAUTION);
    text
}

fn class(text: &mut String, report: &OddsReport<'_>) {
    let words = odds_words(&shares(report, |o| o.class.before_closing));
    let _ = writeln!(text, "All out before the closing steps: {words}.");
    if widest(report).is_some_and(|o| o.class.by_bell_shortened.is_some()) {
        let of = |o: &Odds| o.class.by_bell_shortened.unwrap_or(0.0);
        let words = odds_words(&shares(report, of));
        let _ = writeln!(text, "All out by the bell, plenary left out: {words}.");
    }
    if report.played.len() > 1 {
        let _ = writeln!(
            text,
            "{}",
            wrapped(
                "Nobody has timed this class, so odds are told from how far minutes may spread: \
                 first as listed, then half as far.",
                0
            )
        );
    }
}

fn groups(text: &mut String, report: &OddsReport<'_>) {
    let Some(odds) = widest(report) else { return };
    let _ = writeln!(text, "\nGroups");
    for (i, group) in odds.groups.iter().enumerate() {
        let of = |o: &Odds| o.groups.get(i).map_or(0.0, |g| g.out);
        let mut line = format!(
            "{}: out {}, {}",
            report.lesson.group(group.group).name,
            odds_words(&shares(report, of)),
            to_give_words(give(report, group.group))
        );
        if let [Some(early), middle, late] = group.ready {
            let _ = write!(line, "; ready from {}", at(report.lesson, early));
            if let Some(middle) = middle {
                let _ = write!(line, ", mostly {}", at(report.lesson, middle));
            }
            let late = late.map_or("not at all".to_owned(), |late| at(report.lesson, late));
            let _ = write!(line, ", late {late}");
        }
        let waited = shares(report, |o| o.groups.get(i).map_or(0.0, |g| g.waited));
        if waited.iter().any(|w| *w >= 0.05) {
            let waited = odds_words(&waited);
            let _ = write!(
                line,
                "; its mixture waits too long {waited}, then it is not counted as out"
            );
        }
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

fn causes(text: &mut String, report: &OddsReport<'_>) {
    let Some(odds) = widest(report).filter(|o| !o.causes.is_empty()) else { return };
    let _ = writeln!(text, "\nWhat makes it late");
    for cause in odds.causes.iter().filter(|c| c.minutes >= 0.1).take(5) {
        let words = capital(&cause.what.words(report.lesson));
        let often = match odds_words(&[cause.share]).as_str() {
            "nearly always" => "in nearly all late lessons".to_owned(),
            "seldom" => "in few late lessons".to_owned(),
            tenths => format!("in {tenths} late lessons"),
        };
        let line = format!("{words}: {} min on average, {often}", tenth(cause.minutes));
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

fn points(text: &mut String, report: &OddsReport<'_>) {
    let Some(odds) = widest(report).filter(|o| !o.checkpoints.is_empty()) else { return };
    let _ = writeln!(text, "\nLook at");
    for point in &odds.checkpoints {
        let by = clock(report.lesson, point.at);
        let (who, odds) = (who_has_done(report.lesson, report.plan, point), if_words(point));
        let line = format!("By {by} {who}: {odds}");
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

fn truths(text: &mut String, report: &OddsReport<'_>) {
    let Some((minute, groups)) = report.true_at else { return };
    let _ = writeln!(text, "\nDone by {} where all come out", clock(report.lesson, minute));
    for of in groups {
        let told = true_words(report.lesson, report.plan, of);
        let line = format!("{}: {told}", report.lesson.group(of.group).name);
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

fn gain_words(report: &OddsReport<'_>, search: &Search) -> Option<GainWords> {
    search.found.as_ref().map(|better| GainWords::of(report.lesson, report.plan, better))
}

/// A plan with better odds, or that none was found.
fn better(text: &mut String, report: &OddsReport<'_>) {
    let Some(search) = report.better else { return };
    let _ = writeln!(text, "\nBetter odds");
    let lines = match gain_words(report, search) {
        Some(words) => {
            let first = format!("{}: {}; {}", capital(&words.what), words.gain, words.cost);
            [first].into_iter().chain(words.more).collect()
        }
        None => vec![format!("Nothing is gained: no better plan among {} built.", search.built)],
    };
    for line in lines {
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

/// What the odds rest on.
pub fn how(lesson: &Lesson, runs: u32) -> String {
    let call = minutes(lesson.rules.call.value.get());
    let called = if lesson.rules.call_waits {
        format!("A call waits for its slowest group, for {call} at most.")
    } else {
        format!("Nobody waits for a slow group: who comes within {call} of a call joins it.")
    };
    format!(
        "Played {runs} times. Each step takes between its quick and its slow minutes; a class that \
         is slow is slow all over. {called} The spreads and how far they go together are judgement, \
         not measured."
    )
}
