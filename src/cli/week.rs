//! `ovenbell week`: where a department's lessons want the same thing.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::say::{keep_names, tell};
use super::shared_args::{Noted, seconds};
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, as_json, complain, past_bakes, print_json, wrong};
use crate::deadline::Deadline;
use crate::export::week::{json, text};
use crate::file::own_words;
use crate::finding::Severity;
use crate::week::{Planner, Week, load, out_of_order, report};

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
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    within: Option<Duration>,
    /// Build so many plans of each lesson [default: 500].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// How long a week is worked on where the user says nothing of time.
const USUAL_TIME: Duration = Duration::from_secs(30);
/// How many plans of a lesson are built where the user says nothing of it.
const USUAL_DECODINGS: u64 = 500;

/// Plans the lessons of a week.
pub(super) fn run(args: &WeekArgs) -> u8 {
    let usual = args.decodings.is_none().then_some(USUAL_TIME);
    let deadline = Deadline::within(args.within.or(usual));
    let past = past_bakes(args.noted.outcomes.as_deref());
    let mut loaded = match load(&args.week, &past) {
        Ok(loaded) => loaded,
        Err(findings) => {
            complain(&args.week, &findings);
            return CANNOT_READ;
        }
    };
    keep_names(|| names(&loaded.week));
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

fn refused(why: &str) -> u8 {
    wrong(why);
    CANNOT_READ
}

/// The user's own words in a week and its lessons.
fn names(week: &Week) -> Vec<String> {
    let of_rooms = week.rooms.iter().flat_map(own_words::of_room);
    let lessons = week.entries.iter().filter_map(|entry| entry.lesson());
    let of_lessons = lessons.flat_map(|taught| own_words::of_lesson(&taught.shapes));
    let bells = week.days.iter().flat_map(|d| d.bells.iter().map(|b| b.name.clone()));
    let moving = week.moves.iter().map(|m| m.name.clone());
    let adults = week.adults.iter().map(|a| a.name.clone());
    let entries = week.entries.iter().flat_map(|e| [e.class.clone(), e.title().to_owned()]);
    let all = of_rooms.chain(of_lessons).chain(bells).chain(moving).chain(adults);
    all.chain(entries).filter(|name| !name.is_empty()).collect()
}
