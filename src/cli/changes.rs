//! `ovenbell changes`: the smallest changes that make a lesson fit.

use std::path::PathBuf;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use clap::Args;

use super::plan::{planned_only, seconds};
use super::say::tell;
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
    /// Look for so many seconds at most.
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    within: Option<Duration>,
    /// Build so many plans to see whether a change is enough.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV")]
    outcomes: Option<PathBuf>,
}

/// Looks for changes of a lesson file.
pub(super) fn run(args: &ChangesArgs) -> u8 {
    let begun = Instant::now();
    let (loaded, past) = match load(&args.lesson, args.outcomes.as_deref()) {
        Ok(loaded) => loaded,
        Err(status) => return status,
    };
    let plan = match planned_only(&args.lesson, &loaded.lesson, &Budget::default()) {
        Ok(found) => found.judged,
        Err(status) => return status,
    };
    let usual = Effort::default();
    let effort = Effort {
        look: args.decodings.unwrap_or(usual.look),
        most: args.most.max(1),
        until: args.within.and_then(|within| begun.checked_add(within)),
        ..usual
    };
    let lesson = (&loaded.file, &loaded.lesson);
    let found = changes(lesson, &past, &plan, &effort, &AtomicBool::new(false), |_| {});
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
