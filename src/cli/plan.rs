//! `ovenbell plan`: a lesson file in, a checked plan out.

use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;

use super::kept::{self, Kind};
use super::say::{said, tell};
use super::shared_args::{Anew, Noted, Search, USUAL_TIME};
use super::told::{self, KeptPlan, kept_plan};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, complain, load, print_json, wrong};
use crate::check::{CheckedPlan, Verdict, judge_of};
use crate::deadline::Deadline;
use crate::export::{json, table, text};
use crate::file::plain_words::{Doing, why};
use crate::file::{self, Access, Backup, Loaded, write_new};
use crate::model::Lesson;
use crate::planner::{BestPlan, Budget, PlanError, plan_lesson, plan_until};
use crate::view::proof::{self, HowProved};

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
    #[command(flatten)]
    search: Search,
    #[command(flatten)]
    noted: Noted,
    /// Keep the plan in this file (RON).
    #[arg(long, value_name = "PLAN")]
    save: Option<PathBuf>,
    /// Write the plan to this file as a table (CSV), for spreadsheets.
    #[arg(long, value_name = "OUT")]
    csv: Option<PathBuf>,
    #[command(flatten)]
    anew: Anew,
    /// Keep the plan with the lesson, in the lesson's own file: what groups are
    /// told. From then on it is the lesson's plan.
    #[arg(long)]
    keep: bool,
}

/// Plans in the terminal what was meant for the window.
pub(super) fn instead_of_window(lesson: Option<&Path>) -> u8 {
    let args = PlanArgs {
        lesson: lesson.map_or_else(|| PathBuf::from("sample lesson"), Path::to_path_buf),
        json: false,
        search: Search::default(),
        noted: Noted::default(),
        save: None,
        csv: None,
        anew: Anew::default(),
        keep: false,
    };
    if lesson.is_some() { run(&args) } else { plan_demo(&args) }
}

fn plan_demo(args: &PlanArgs) -> u8 {
    match file::read_lesson(DEMO) {
        Ok(loaded) => plan_loaded(&loaded, args, &args.search.deadline()),
        Err(findings) => {
            complain(&args.lesson, &findings);
            OUR_FAULT
        }
    }
}

/// Plans a lesson file.
pub(super) fn run(args: &PlanArgs) -> u8 {
    let deadline = args.search.deadline();
    if let Err(status) = may_keep(args) {
        return status;
    }
    match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok((loaded, _)) => plan_loaded(&loaded, args, &deadline),
        Err(status) => status,
    }
}

/// Asked before planning, which may take long, and again before writing.
fn may_keep(args: &PlanArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.noted.outcomes.as_deref()];
    if args.keep {
        told::may_keep_with(&args.lesson)?;
    }
    let to = [(args.save.as_deref(), Kind::Plan), (args.csv.as_deref(), Kind::Table)];
    kept::may_keep(&to, &read)
}

fn plan_loaded(loaded: &Loaded, args: &PlanArgs, deadline: &Deadline) -> u8 {
    let lesson = &loaded.lesson;
    let read = Instant::now();
    let budget = args.search.budget(args.search.within.and_then(|_| deadline.left()));
    let before = read.elapsed();
    let kept = kept_plan(&args.lesson, loaded, args.anew.anew, args.json);
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
    if let Some(path) = &args.csv
        && let Err(status) = write_table(path, &args.lesson, lesson, &found.judged)
    {
        return status;
    }
    if args.keep
        && !is_kept
        && let Err(status) = told::keep_with(&args.lesson, loaded, &found.judged)
    {
        return status;
    }
    if args.json {
        let timing = json::PlanningTime {
            first_plan_ms: milliseconds(before + found.times.first_plan),
            best_plan_ms: milliseconds(before + found.times.best_plan),
            proved_ms: found.times.proved.map(|proved| milliseconds(before + proved)),
            elapsed_ms: milliseconds(read.elapsed()),
            decodings: found.decodings,
        };
        let answer = json::answer(lesson, (&found.judged, is_kept), timing);
        if let Err(status) = print_json(answer) {
            return status;
        }
    } else {
        tell(&text::answer(lesson, &found.judged));
        let proved = proof::standing(&found.judged) == HowProved::Best;
        if args.search.within.is_none() && deadline.is_over() && !is_kept && !proved {
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

/// Writes the plan as a table, with the lesson's own permissions.
fn write_table(path: &Path, of: &Path, lesson: &Lesson, plan: &CheckedPlan) -> Result<(), u8> {
    let bytes = table::table(lesson, plan).map_err(|fault| {
        wrong(&format!("a fault of ovenbell's: {fault}"));
        OUR_FAULT
    })?;
    write_new(path, &bytes, Backup::None, Access::As(of)).map_err(|error| {
        let why = why(&error, Doing::Writing(path));
        wrong(&format!("{}: the table could not be written: {why}", path.display()));
        CANNOT_READ
    })
}

pub(super) fn save(path: &Path, lesson: &Lesson, plan: &CheckedPlan) -> std::io::Result<()> {
    let text = file::write_plan(lesson, plan.plan());
    file::write_atomically(path, text.as_bytes(), Backup::Keep)
}
