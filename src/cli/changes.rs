//! `ovenbell changes`: the smallest changes that make a lesson fit.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::numbers::{plans, seconds, whole};
use super::say::tell;
use super::shared_args::{Anew, Noted, deadline};
use super::told::plan_gone_by;
use super::{DOES_NOT_FIT, WELL, load, print_json};
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
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = whole("changes", (0, None), 5_usize), allow_negative_numbers = true)]
    most: usize,
    /// Answer within so many seconds [default: 4, or no limit with
    /// --decodings].
    #[arg(long, value_name = "SECONDS", value_parser = seconds, allow_negative_numbers = true)]
    within: Option<Duration>,
    /// Build so many plans to see whether a change is enough.
    #[arg(long, value_name = "N", value_parser = plans, allow_negative_numbers = true)]
    decodings: Option<u64>,
    #[command(flatten)]
    anew: Anew,
    #[command(flatten)]
    noted: Noted,
}

/// Of the time, the part for planning the lesson as it is.
const FOR_PLANNING: f64 = 0.3;

/// Looks for changes of a lesson file.
pub(super) fn run(args: &ChangesArgs) -> u8 {
    let deadline = deadline(args.within, args.decodings);
    let (loaded, past) = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok(loaded) => loaded,
        Err(status) => return status,
    };
    let within = deadline.part_of_left(FOR_PLANNING);
    let budget = Budget { within, ..Budget::default() };
    let anew = args.anew.anew;
    let plan = plan_gone_by(&args.lesson, &loaded, (anew, args.json), &budget, &deadline);
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
        if let Err(status) = print_json(json(&loaded.lesson, &found)) {
            return status;
        }
    } else {
        tell(&text(&loaded.lesson, &plan, &found));
    }
    match found.enough {
        Enough::AsItIs | Enough::Offered => WELL,
        Enough::NothingProved | Enough::NothingFound | Enough::NotYet => DOES_NOT_FIT,
    }
}
