//! `ovenbell plan`: a lesson file in, a checked plan out.

use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;

use super::kept::{self, Kind};
use super::say::{said, tell};
use super::told::{self, KeptPlan, kept_plan};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, complain, load, print, wrong};
use crate::check::{CheckedPlan, Verdict, judge_of};
use crate::deadline::Deadline;
use crate::export::{json, text};
use crate::file::plain_words::{Doing, why};
use crate::file::{self, Backup, Loaded};
use crate::model::Lesson;
use crate::planner::{BestPlan, Budget, PlanError, plan_lesson, plan_until};

/// How long a command works where the user says nothing of time.
pub(super) const USUAL_TIME: Duration = Duration::from_secs(4);

/// The lesson shown when none is named.
const DEMO: &str = include_str!("../../lessons/demo.ron");

pub(super) const HELP: &str = "Examples:
  ovenbell plan lessons/demo.ron
  ovenbell plan my-lesson.ron --within 10 --save my-plan.ron
  ovenbell plan my-lesson.ron --json --decodings 50000 --seed 7
  ovenbell plan my-lesson.ron --anew --keep

A plan kept with the lesson (--keep, or saving in the window) is the answer as
long as it holds; --anew looks for the best one.

The same seed and number of decodings give the same plan. Where neither time nor
decodings are given and 4 seconds are not enough for 20000, the answer says so.";

#[derive(Debug, Args)]
pub(super) struct PlanArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// Answer within so many seconds [default: 4, or no limit with
    /// --decodings].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    within: Option<Duration>,
    /// Stop after building so many plans [default: 20000, or no limit with
    /// --within].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    /// Where chance begins.
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV")]
    outcomes: Option<PathBuf>,
    /// Keep the plan in this file (RON).
    #[arg(long, value_name = "PLAN")]
    save: Option<PathBuf>,
    /// Look for the best plan, whatever plan is kept with the lesson.
    #[arg(long)]
    anew: bool,
    /// Keep the plan with the lesson, in the lesson's own file: what groups are
    /// told. From then on it is the lesson's plan.
    #[arg(long)]
    keep: bool,
}

pub(super) fn seconds(text: &str) -> Result<Duration, String> {
    text.parse::<f64>()
        .ok()
        .and_then(|s| Duration::try_from_secs_f64(s).ok())
        .ok_or_else(|| "seconds are a number of 0 or more, such as 2.5".to_owned())
}

/// Plans in the terminal what was meant for the window.
pub(super) fn instead_of_window(lesson: Option<&Path>) -> u8 {
    let args = PlanArgs {
        lesson: lesson.map_or_else(|| PathBuf::from("sample lesson"), Path::to_path_buf),
        json: false,
        within: None,
        decodings: None,
        seed: 1,
        outcomes: None,
        save: None,
        anew: false,
        keep: false,
    };
    if lesson.is_some() { run(&args) } else { plan_demo(&args) }
}

fn plan_demo(args: &PlanArgs) -> u8 {
    match file::read_lesson(DEMO) {
        Ok(loaded) => plan_loaded(&loaded, args, &args.deadline()),
        Err(findings) => {
            complain(&args.lesson, &findings);
            OUR_FAULT
        }
    }
}

/// Plans a lesson file.
pub(super) fn run(args: &PlanArgs) -> u8 {
    let deadline = args.deadline();
    if let Err(status) = may_keep(args) {
        return status;
    }
    match load(&args.lesson, args.outcomes.as_deref()) {
        Ok((loaded, _)) => plan_loaded(&loaded, args, &deadline),
        Err(status) => status,
    }
}

/// Asked before planning, which may take long, and again before writing.
fn may_keep(args: &PlanArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.outcomes.as_deref()];
    if args.keep {
        told::may_keep_with(&args.lesson)?;
    }
    kept::may_keep(&[(args.save.as_deref(), Kind::Plan)], &read)
}

impl PlanArgs {
    fn deadline(&self) -> Deadline {
        deadline(self.within, self.decodings)
    }
}

/// The time for an answer: that given, or else the usual one, unless a number
/// of plans is given, so that the answer is the same in every run.
pub(super) fn deadline(within: Option<Duration>, decodings: Option<u64>) -> Deadline {
    Deadline::within(within.or_else(|| decodings.is_none().then_some(USUAL_TIME)))
}

fn plan_loaded(loaded: &Loaded, args: &PlanArgs, deadline: &Deadline) -> u8 {
    let lesson = &loaded.lesson;
    let read = Instant::now();
    let decodings = match (args.decodings, args.within) {
        (None, None) => Budget::default().decodings,
        (given, _) => given,
    };
    let within = args.within.and_then(|_| deadline.left());
    let budget = Budget { within, decodings, seed: args.seed };
    let before = read.elapsed();
    let kept = kept_plan(&args.lesson, loaded, args.anew, args.json);
    let is_kept = matches!(kept, Some(KeptPlan::Holds(_)));
    let found = match kept {
        Some(kept) => told::planned(kept, lesson, &budget, deadline)
            .map_err(|error| why_none(&args.lesson, &error)),
        None => planned(&args.lesson, lesson, &budget, deadline),
    };
    let found = match found {
        Ok(found) => found,
        Err(status) => return status,
    };
    if let Err(status) = may_keep(args) {
        return status;
    }
    if let Some(path) = &args.save
        && let Err(error) = save(path, lesson, &found.judged)
    {
        let why = why(&error, Doing::Writing(path));
        wrong(&format!("{}: the plan could not be kept: {why}", path.display()));
        return CANNOT_READ;
    }
    if args.keep
        && !is_kept
        && let Err(status) = told::keep_with(&args.lesson, loaded, &found.judged)
    {
        return status;
    }
    if args.json {
        let timing = json::PlanningTime {
            first_plan_ms: milliseconds(before + found.first_plan),
            elapsed_ms: milliseconds(read.elapsed()),
            decodings: found.decodings,
        };
        match json::answer(lesson, (&found.judged, is_kept), timing) {
            Ok(answer) => print(&answer),
            Err(fault) => {
                wrong(&format!("a fault of ovenbell's: {fault}"));
                return OUR_FAULT;
            }
        }
    } else {
        tell(&text::answer(lesson, &found.judged));
        if args.within.is_none() && deadline.is_over() && !is_kept {
            tell(&time_ran_out(found.decodings));
        }
    }
    match found.judged.verdict() {
        Verdict::Fits | Verdict::Tight | Verdict::LeftOut => WELL,
        _ => DOES_NOT_FIT,
    }
}

/// What was not looked at, where the user set no time.
fn time_ran_out(decodings: u64) -> String {
    let seconds = USUAL_TIME.as_secs();
    let plans =
        if decodings == 1 { "one plan was".to_owned() } else { format!("{decodings} plans were") };
    format!(
        "\nOnly {plans} built in {seconds} seconds, and not all was tried that could be proved: \
         `--within SECONDS` gives it longer."
    )
}

/// The best plan of a lesson, or the exit status once the reason is told.
fn planned(
    path: &Path,
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<BestPlan<CheckedPlan>, u8> {
    best_plan(lesson, budget, deadline).map_err(|error| why_none(path, &error))
}

/// The best plan of a lesson, with all that could be proved of it.
pub(super) fn best_plan(
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<BestPlan<CheckedPlan>, PlanError> {
    plan_lesson(lesson, budget, deadline.stop(), judge_of(lesson), |_| {})
}

/// The same without proofs beyond short sums.
pub(super) fn planned_only(
    path: &Path,
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<BestPlan<CheckedPlan>, u8> {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let found = plan_until(lesson, budget, deadline.stop(), judge_of(lesson), on);
    found.map_err(|error| why_none(path, &error))
}

/// Tells why there is no plan; the exit status that goes with it.
pub(super) fn why_none(path: &Path, error: &PlanError) -> u8 {
    match error {
        PlanError::Fault(_) => {
            wrong(&format!("a fault of ovenbell's, not of the lesson: {error}"));
            OUR_FAULT
        }
        PlanError::ClassStep(_) => {
            wrong(&format!("{}: {}", path.display(), said(&error.to_string())));
            wrong("    widen its window, or move, shorten or leave out what is beside it");
            CANNOT_READ
        }
    }
}

pub(super) fn milliseconds(time: Duration) -> f64 {
    (time.as_secs_f64() * 1e6).round() / 1e3
}

pub(super) fn save(path: &Path, lesson: &Lesson, plan: &CheckedPlan) -> std::io::Result<()> {
    let text = file::write_plan(lesson, plan.plan());
    file::write_atomically(path, text.as_bytes(), Backup::Keep)
}
