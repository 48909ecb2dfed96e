//! `ovenbell week`: where a department's lessons want the same thing.

use std::path::{Path, PathBuf};
use std::time::Duration;

use clap::Args;

use super::given::{USUAL_TIME_OF_WEEK, is_file_of_week};
use super::numbers::{plans, seconds};
use super::say::{keep_names, tell};
use super::shared_args::Noted;
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, as_json, complain, past_bakes, print_json, wrong};
use crate::deadline::Deadline;
use crate::export::week::{json, text};
use crate::finding::Severity;
use crate::week::{Planner, USUAL_DECODINGS, load, out_of_order, own_words, report};

pub(super) const HELP: &str = "Examples:
  ovenbell week lessons/week/week.ron
  ovenbell week my-week.ron --day thu
  ovenbell week my-week.ron --out \"Room 1/Oven 4=mon..wed\"
  ovenbell week my-week.ron --json

Every lesson is planned as if it were alone; what all of a day want of a thing is
added up. What is beyond what is there need not be beyond help: the moves below
it were tried, each by planning.

Exit status: 0 every lesson fits and nothing is wanted twice; 1 something does
not go well, or an entry of the file is wrong; 2 the file is no week.";

#[derive(Debug, Args)]
pub(super) struct WeekArgs {
    /// The week's file (RON).
    week: PathBuf,
    /// Something out of order, from one day to another: "Room 1/Oven 4=mon..wed",
    /// or with dates.
    #[arg(long, value_name = "WHAT=FROM..UNTIL")]
    out: Vec<String>,
    /// Only this day: "2026-12-03", or "thu".
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    /// Answer within so many seconds [default: 30, or no limit with
    /// --decodings].
    #[arg(long, value_name = "SECONDS", value_parser = seconds, allow_negative_numbers = true)]
    within: Option<Duration>,
    /// Build so many plans of each lesson [default: 500].
    #[arg(long, value_name = "N", value_parser = plans, allow_negative_numbers = true)]
    decodings: Option<u64>,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Plans the lessons of a week.
pub(super) fn run(args: &WeekArgs) -> u8 {
    let usual = args.decodings.is_none().then_some(USUAL_TIME_OF_WEEK);
    let deadline = Deadline::within(args.within.or(usual));
    let past = past_bakes(args.noted.outcomes.as_deref());
    let mut loaded = match load(&args.week, &past) {
        Ok(loaded) => loaded,
        Err(findings) => {
            complain(&args.week, &findings);
            return CANNOT_READ;
        }
    };
    keep_names(|| own_words(&loaded.week));
    complain(&args.week, &loaded.findings);
    for text in &args.out {
        match out_of_order(&loaded.week, text) {
            Ok(out) => loaded.week.out.push(out),
            Err(why) => return refused(&why),
        }
    }
    let day = match args.day.as_ref().map(|day| loaded.week.day_called(day)).transpose() {
        Ok(day) => day,
        Err(why) => return refused(&why),
    };
    let decodings = args.decodings.unwrap_or(USUAL_DECODINGS);
    let planner = Planner::new(&past, decodings, deadline.stop());
    let report = report(&loaded.week, &planner, day);
    if args.json {
        let findings = as_json(&loaded.findings);
        if let Err(status) = print_json(json(&loaded.week, &report, findings)) {
            return status;
        }
    } else {
        tell(&text(&loaded.week, &report));
    }
    let sound = loaded.findings.iter().all(|f| f.severity != Severity::Error);
    if sound && report.is_well(&loaded.week) { WELL } else { DOES_NOT_FIT }
}

/// Plans the week meant for the window; `None` if that file is no week's.
pub(super) fn instead_of_window(file: &Path) -> Option<u8> {
    is_file_of_week(file).then(|| {
        run(&WeekArgs {
            week: file.to_path_buf(),
            out: Vec::new(),
            day: None,
            within: None,
            decodings: None,
            noted: Noted { outcomes: None },
            json: false,
        })
    })
}

fn refused(why: &str) -> u8 {
    wrong(why);
    CANNOT_READ
}
