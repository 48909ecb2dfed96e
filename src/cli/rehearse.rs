//! `ovenbell rehearse`: the lesson minute by minute, before it is taught.

use std::path::PathBuf;

use clap::Args;

use super::say::tell;
use super::shared_args::{GoBy, Noted};
use super::today::clock_time;
use super::told::plan_asked_for;
use super::{CANNOT_READ, WELL, load, print_json, wrong};
use crate::export::rehearsal::{json, minute_text, text};
use crate::units::ClockTime;
use crate::view::rehearsal::Rehearsal;

pub(super) const HELP: &str = "Examples:
  ovenbell rehearse lessons/demo.ron
  ovenbell rehearse my-lesson.ron --at 10:26
  ovenbell rehearse my-lesson.ron --plan my-plan.ron --json

Who watches what is a question to those who are there: the plan knows nothing of
the school's policy, which comes first.";

#[derive(Debug, Args)]
pub(super) struct RehearseArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// One minute in full, as "10:26".
    #[arg(long, value_name = "TIME", value_parser = clock_time)]
    at: Option<ClockTime>,
    #[command(flatten)]
    go_by: GoBy,
    /// Stop planning after building so many plans [default: 20000, or as many
    /// as 4 seconds allow].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Goes through the plan of a lesson file.
pub(super) fn run(args: &RehearseArgs) -> u8 {
    let loaded = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok((loaded, _)) => loaded,
        Err(status) => return status,
    };
    let lesson = &loaded.lesson;
    let plan = plan_asked_for(&args.lesson, &loaded, &args.go_by, (args.decodings, args.json));
    let plan = match plan {
        Ok(plan) => plan,
        Err(status) => return status,
    };
    let rehearsal = Rehearsal::of(lesson, &plan);
    let card = match args.at {
        None => None,
        Some(at) => {
            let Some(card) = rehearsal.minutes.iter().find(|card| card.at == at) else {
                let ends = (rehearsal.minutes.first(), rehearsal.minutes.last());
                let between = match ends {
                    (Some(first), Some(last)) => format!("from {} to {}", first.at, last.at),
                    _ => "at no time".to_owned(),
                };
                wrong(&format!("{}: nothing happens at {at}", args.lesson.display()));
                wrong(&format!("    there is something to go through {between}"));
                return CANNOT_READ;
            };
            Some(card)
        }
    };
    if args.json {
        let answer = json(lesson, &rehearsal, card);
        return print_json(answer).map_or_else(|status| status, |()| WELL);
    }
    tell(&match card {
        Some(card) => minute_text(lesson, &rehearsal, card),
        None => text(lesson, &rehearsal),
    });
    WELL
}
