//! `ovenbell rehearse`: the lesson minute by minute, before it is taught.

use std::path::PathBuf;

use clap::Args;

use super::odds::planned;
use super::say::tell;
use super::today::{clock_time, kept_plan};
use super::{CANNOT_READ, OUR_FAULT, WELL, load, print, wrong};
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
    /// Go through this plan, kept by `plan --save`, not a new one.
    #[arg(long, value_name = "PLAN")]
    plan: Option<PathBuf>,
    /// Stop planning after building so many plans [default: 20000, or as many
    /// as 4 seconds allow].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    /// Go by the best plan, whatever plan is kept with the lesson.
    #[arg(long)]
    anew: bool,
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV")]
    outcomes: Option<PathBuf>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Goes through the plan of a lesson file.
pub(super) fn run(args: &RehearseArgs) -> u8 {
    let loaded = match load(&args.lesson, args.outcomes.as_deref()) {
        Ok((loaded, _)) => loaded,
        Err(status) => return status,
    };
    let lesson = &loaded.lesson;
    let plan = match &args.plan {
        Some(path) => kept_plan(path, lesson),
        None => planned(&args.lesson, &loaded, (args.decodings, args.anew, args.json)),
    };
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
        return match json(lesson, &rehearsal, card) {
            Ok(answer) => {
                print(&answer);
                WELL
            }
            Err(fault) => {
                wrong(&format!("a fault of ovenbell's: {fault}"));
                OUR_FAULT
            }
        };
    }
    tell(&match card {
        Some(card) => minute_text(lesson, &rehearsal, card),
        None => text(lesson, &rehearsal),
    });
    WELL
}
