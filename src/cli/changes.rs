//! `ovenbell changes`: the smallest changes that make a lesson fit.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::plan::{deadline, planned_only, seconds, why_none};
use super::say::tell;
use super::told::{kept_plan, plan_to_go_by};
use super::{DOES_NOT_FIT, OUR_FAULT, WELL, load, print, wrong};
use crate::change::{Effort, Enough, changes};
use crate::export::changes::{json, text};
use crate::planner::Budget;

pub(super) const HELP: &str = "Examples:
  ovenbell changes my-lesson.ron
  ovenbell changes my-lesson.ron --most 3 --within 20
  ovenbell changes my-lesson.ron --json

The costs, and changes that are out of the question, are the lesson's to set:
    changes: (costs: {\"beforehand\": 1}, never: [\"collect\"])

Exit status: 0 nothing need change, or a change is enough; 1 nothing on the
menu is enough.";

#[derive(Debug, Args)]
pub(super) struct ChangesArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// So many changes at most; more only if they cost the same.
    #[arg(long, value_name = "N", default_value_t = 8)]
    most: usize,
    /// Answer within so many seconds [default: 4, or no limit with
    /// --decodings].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    within: Option<Duration>,
    /// Build so many plans to see whether a change is enough.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    /// Go by the best plan, whatever plan is kept with the lesson.
    #[arg(long)]
    anew: bool,
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV")]
    outcomes: Option<PathBuf>,
}

/// Of the time, the part for planning the lesson as it is.
const FOR_PLANNING: f64 = 0.3;

/// Looks for changes of a lesson file.
pub(super) fn run(args: &ChangesArgs) -> u8 {
    let deadline = deadline(args.within, args.decodings);
    let (loaded, past) = match load(&args.lesson, args.outcomes.as_deref()) {
        Ok(loaded) => loaded,
        Err(status) => return status,
    };
    let within = deadline.part_of_left(FOR_PLANNING);
    let budget = Budget { within, ..Budget::default() };
    let kept = kept_plan(&args.lesson, &loaded, args.anew, args.json);
    let plan = match kept {
        Some(kept) => plan_to_go_by(kept, &loaded.lesson, &budget, &deadline)
            .map_err(|error| why_none(&args.lesson, &error)),
        None => {
            planned_only(&args.lesson, &loaded.lesson, &budget, &deadline).map(|found| found.judged)
        }
    };
    let plan = match plan {
        Ok(plan) => plan,
        Err(status) => return status,
    };
    let usual = Effort::default();
    let effort =
        Effort { look: args.decodings.unwrap_or(usual.look), most: args.most.max(1), ..usual };
    let lesson = (&loaded.file, &loaded.lesson);
    let found = changes(lesson, &past, &plan, &effort, deadline.stop(), |_| {});
    if args.json {
        match json(&loaded.lesson, &found) {
            Ok(answer) => print(&answer),
            Err(fault) => {
                wrong(&format!("a fault of ovenbell's: {fault}"));
                return OUR_FAULT;
            }
        }
    } else {
        tell(&text(&loaded.lesson, &plan, &found));
    }
    match found.enough {
        Enough::AsItIs | Enough::Offered => WELL,
        Enough::NothingProved | Enough::NothingFound | Enough::NotYet => DOES_NOT_FIT,
    }
}
