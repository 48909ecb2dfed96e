//! `ovenbell plan`: a lesson file in, a checked plan out.

use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use clap::Args;

use super::kept::{self, Kind};
use super::say::{said, tell};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, complain, load, print, wrong};
use crate::check::{CheckedPlan, Verdict, judge_of};
use crate::export::{json, text};
use crate::file::{self, Backup};
use crate::model::Lesson;
use crate::planner::{BestPlan, Budget, PlanError, plan_lesson, plan_until};

/// The lesson shown when none is named.
const DEMO: &str = include_str!("../../lessons/demo.ron");

pub(super) const HELP: &str = "Examples:
  ovenbell plan lessons/demo.ron
  ovenbell plan my-lesson.ron --within 10 --save my-plan.ron
  ovenbell plan my-lesson.ron --json --decodings 50000 --seed 7

The same seed and number of decodings give the same plan.";

#[derive(Debug, Args)]
pub(super) struct PlanArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// Look for better plans for so many seconds at most.
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
        lesson: lesson.map_or_else(|| PathBuf::from("demo lesson"), Path::to_path_buf),
        json: false,
        within: None,
        decodings: None,
        seed: 1,
        outcomes: None,
        save: None,
    };
    if lesson.is_some() { run(&args) } else { plan_demo(&args) }
}

fn plan_demo(args: &PlanArgs) -> u8 {
    match file::read_lesson(DEMO) {
        Ok(loaded) => plan_loaded(&loaded.lesson, args, Instant::now()),
        Err(findings) => {
            complain(&args.lesson, &findings);
            OUR_FAULT
        }
    }
}

/// Plans a lesson file.
pub(super) fn run(args: &PlanArgs) -> u8 {
    if let Err(status) = may_keep(args) {
        return status;
    }
    match load(&args.lesson, args.outcomes.as_deref()) {
        Ok((loaded, _)) => plan_loaded(&loaded.lesson, args, Instant::now()),
        Err(status) => status,
    }
}

/// Asked before planning, which may take long, and again before writing.
fn may_keep(args: &PlanArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.outcomes.as_deref()];
    kept::may_keep(&[(args.save.as_deref(), Kind::Plan)], &read)
}

fn plan_loaded(lesson: &Lesson, args: &PlanArgs, read: Instant) -> u8 {
    let decodings = match (args.decodings, args.within) {
        (None, None) => Budget::default().decodings,
        (given, _) => given,
    };
    let budget = Budget { within: args.within, decodings, seed: args.seed };
    let before = read.elapsed();
    let found = match planned(&args.lesson, lesson, &budget) {
        Ok(found) => found,
        Err(status) => return status,
    };
    if let Err(status) = may_keep(args) {
        return status;
    }
    if let Some(path) = &args.save
        && let Err(error) = save(path, lesson, &found.judged)
    {
        wrong(&format!("{}: the plan could not be kept: {error}", path.display()));
        return CANNOT_READ;
    }
    if args.json {
        let timing = json::PlanningTime {
            first_plan_ms: milliseconds(before + found.first_plan),
            elapsed_ms: milliseconds(read.elapsed()),
            decodings: found.decodings,
        };
        match json::answer(lesson, &found.judged, timing) {
            Ok(answer) => print(&answer),
            Err(fault) => {
                wrong(&format!("a fault of ovenbell's: {fault}"));
                return OUR_FAULT;
            }
        }
    } else {
        tell(&text::answer(lesson, &found.judged));
    }
    match found.judged.verdict() {
        Verdict::Fits | Verdict::Tight | Verdict::LeftOut => WELL,
        _ => DOES_NOT_FIT,
    }
}

/// The best plan of a lesson, or the exit status once the reason is told.
pub(super) fn planned(
    path: &Path,
    lesson: &Lesson,
    budget: &Budget,
) -> Result<BestPlan<CheckedPlan>, u8> {
    let found = plan_lesson(lesson, budget, &AtomicBool::new(false), judge_of(lesson), |_| {});
    found.map_err(|error| told(path, &error))
}

/// The same without proofs beyond short sums.
pub(super) fn planned_only(
    path: &Path,
    lesson: &Lesson,
    budget: &Budget,
) -> Result<BestPlan<CheckedPlan>, u8> {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let found = plan_until(lesson, budget, &AtomicBool::new(false), judge_of(lesson), on);
    found.map_err(|error| told(path, &error))
}

/// Tells why there is no plan; the exit status that goes with it.
pub(super) fn told(path: &Path, error: &PlanError) -> u8 {
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
