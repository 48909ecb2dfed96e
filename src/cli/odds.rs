//! `ovenbell odds`: how often such a class is out by the bell.

use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

use clap::Args;

use super::kept::{self, Kind};
use super::numbers::{seed, whole};
use super::plan::save;
use super::say::{said, tell};
use super::shared_args::{Decodings, GoBy, Noted};
use super::told::plan_asked_for;
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, load, print_json, wrong};
use crate::better::{Effort, Search, better};
use crate::check::CheckedPlan;
use crate::export::odds::{OddsReport, json, text};
use crate::file::plain_words::{Doing, why};
use crate::model::Lesson;
use crate::play::{Odds, OddsError, Settings, Spread, odds, to_give, true_at};
use crate::units::Minute;

pub(super) const HELP: &str = "Examples:
  ovenbell odds lessons/demo.ron
  ovenbell odds my-lesson.ron --spread half --runs 1000
  ovenbell odds my-lesson.ron --plan my-plan.ron --at 25 --json
  ovenbell odds my-lesson.ron --better --save better-plan.ron

A plan is played many times with other minutes than planned. Without --spread it
is played with minutes spread as listed and half as far, and the odds are told
as a range: nobody has timed the class. The same seed gives the same answer.

--better looks for a plan with better odds that serves the same groups with no
more departures; where nothing is gained it says so, and keeps no plan.";

#[derive(Debug, Args)]
pub(super) struct OddsArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    #[command(flatten)]
    go_by: GoBy,
    /// How many times the plan is played.
    #[arg(long, value_name = "N", default_value_t = 10_000, value_parser = runs, allow_negative_numbers = true)]
    runs: u32,
    /// Where chance begins.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    seed: u64,
    /// How far minutes spread: listed, half, or a factor from 0 to 3.
    #[arg(long, value_name = "SPREAD", allow_hyphen_values = true)]
    spread: Option<Spread>,
    /// Say what has to be true so many minutes after the bell.
    #[arg(long, value_name = "MINUTE", value_parser = whole("minutes after the bell", (-1440, Some(1440)), 25), allow_negative_numbers = true)]
    at: Option<i32>,
    /// Look for a plan with better odds, too.
    #[arg(long)]
    better: bool,
    /// Keep the plan with better odds in this file (RON), if there is one.
    #[arg(long, value_name = "PLAN", requires = "better")]
    save: Option<PathBuf>,
    #[command(flatten)]
    effort: Decodings,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

fn runs(text: &str) -> Result<u32, String> {
    let most = Settings::MOST_RUNS;
    let plausible = text.parse().ok().filter(|n| (1..=most).contains(n));
    plausible.ok_or_else(|| format!("a plan is played from 1 to {most} times, such as 1000"))
}

/// Plays the plan of a lesson file.
pub(super) fn run(args: &OddsArgs) -> u8 {
    if let Err(status) = may_save(args) {
        return status;
    }
    let loaded = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok((loaded, _)) => loaded,
        Err(status) => return status,
    };
    let plan =
        plan_asked_for(&args.lesson, &loaded, &args.go_by, (args.effort.decodings, args.json));
    match plan {
        Ok(plan) => played(args, &loaded.lesson, &plan),
        Err(status) => status,
    }
}

/// Asked before the search, which takes its time, and again before writing.
fn may_save(args: &OddsArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.noted.outcomes.as_deref(), args.go_by.plan.as_deref()];
    kept::may_keep(&[(args.save.as_deref(), Kind::Plan)], &read)
}

/// Keeps the plan with better odds, if there is one and that is asked for.
fn keep(args: &OddsArgs, lesson: &Lesson, search: Option<&Search>) -> Result<(), u8> {
    let found = search.and_then(|search| search.found.as_ref());
    let Some((path, found)) = args.save.as_ref().zip(found) else { return Ok(()) };
    may_save(args)?;
    save(path, lesson, &found.plan).map_err(|error| {
        let why = why(&error, Doing::Writing(path));
        wrong(&format!("{}: the plan could not be kept: {why}", path.display()));
        CANNOT_READ
    })
}

/// The minute that is asked about, if it is one of the lesson's: of its periods, or of
/// what the plan has before and after them.
///
/// # Errors
/// With the minutes there are.
fn minute_of(lesson: &Lesson, plan: &CheckedPlan, at: i32) -> Result<Minute, String> {
    let steps = || plan.plan().steps.iter();
    let first = lesson.periods.iter().map(|p| p.start).chain(steps().map(|s| s.start)).min();
    let last = lesson.periods.iter().map(|p| p.end).chain(steps().map(|s| s.end)).max();
    let (first, last) = (first.unwrap_or_default(), last.unwrap_or_default());
    let minute = Minute::new(at);
    if (first..=last).contains(&minute) {
        return Ok(minute);
    }
    let (first, last) = (first.get(), last.get());
    Err(format!(
        "minute {at} is not one of the lesson's: with what is done before and after its bells it \
         is from {first} to {last}, counted from the first bell"
    ))
}

fn played(args: &OddsArgs, lesson: &Lesson, plan: &CheckedPlan) -> u8 {
    let at = match args.at.map(|at| minute_of(lesson, plan, at)).transpose() {
        Ok(at) => at,
        Err(why) => {
            wrong(&format!("{}: {why}", args.lesson.display()));
            return CANNOT_READ;
        }
    };
    let gives = to_give(lesson, plan);
    let settings = Settings { runs: args.runs, seed: args.seed, ..Settings::default() };
    let spreads = args.spread.map_or(vec![Spread::LISTED, Spread::HALF], |spread| vec![spread]);
    let played = spreads.iter().map(|&spread| {
        let settings = Settings { spread, ..settings };
        Ok((spread, odds(lesson, plan, &settings, &gives)?))
    });
    let played: Result<Vec<(Spread, Odds)>, OddsError> = played.collect();
    let played = match played {
        Ok(played) => played,
        Err(OddsError::NobodyServed) => {
            let why = said(&OddsError::NobodyServed.to_string());
            wrong(&format!("{}: {why}", args.lesson.display()));
            wrong("    ask `ovenbell why` what stands in the way");
            return DOES_NOT_FIT;
        }
        Err(error) => {
            wrong(&error.to_string());
            return OUR_FAULT;
        }
    };
    let search = args.better.then(|| {
        let never = AtomicBool::new(false);
        better(lesson, plan, (&settings, &spreads), &Effort::default(), &never)
    });
    let search = match search.transpose() {
        Ok(search) => search,
        Err(error) => {
            wrong(&error.to_string());
            return OUR_FAULT;
        }
    };
    if let Err(status) = keep(args, lesson, search.as_ref()) {
        return status;
    }
    let truths = at.map(|at| (at, true_at(lesson, plan, &gives, at)));
    let report = OddsReport {
        lesson,
        plan,
        settings: &settings,
        played: &played,
        gives: &gives,
        true_at: truths.as_ref().map(|(minute, of)| (*minute, of.as_slice())),
        better: search.as_ref(),
    };
    if !args.json {
        tell(&text(&report));
        return WELL;
    }
    print_json(json(&report)).map_or_else(|status| status, |()| WELL)
}
