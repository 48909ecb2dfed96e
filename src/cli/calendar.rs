//! `ovenbell calendar`: lessons, oven calls and jobs for a calendar.

use std::path::PathBuf;

use clap::Args;

use super::given::{Effort, Given, InWeek, for_lessons, given};
use super::kept::{self, Kind};
use super::shared_args::{Anew, Decodings, GoBy, Noted};
use super::told::plan_asked_for;
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, print, wrong};
use crate::check::CheckedPlan;
use crate::export::calendar::calendar;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, write_new};
use crate::model::GroupId;
use crate::units::local_now;
use crate::view::words::{in_short, list};

pub(super) const HELP: &str = "Examples:
  ovenbell calendar my-lesson.ron --ics lesson.ics
  ovenbell calendar monday.ron tuesday.ron --ics both.ics
  ovenbell calendar my-week.ron --ics week.ics

Of a week's file all its lessons are in it, each when and where the week has it.
A lesson needs its date. If it names a zone, its times are in that; else they are by
the clock on the wall. Planned again, each entry takes the place of its earlier one.";

#[derive(Debug, Args)]
pub(super) struct CalendarArgs {
    /// The lesson files (RON); a week's file is all its lessons.
    #[arg(required = true)]
    lessons: Vec<PathBuf>,
    /// Write the calendar (iCalendar, RFC 5545) to this file.
    #[arg(long, value_name = "OUT")]
    ics: PathBuf,
    #[command(flatten)]
    anew: Anew,
    #[command(flatten)]
    effort: Decodings,
    #[command(flatten)]
    noted: Noted,
}

/// Writes a calendar.
pub(super) fn run(args: &CalendarArgs) -> u8 {
    match written(args) {
        Ok(status) | Err(status) => status,
    }
}

fn may_keep(args: &CalendarArgs) -> Result<(), u8> {
    let mut read: Vec<Option<&std::path::Path>> =
        args.lessons.iter().map(|path| Some(&**path)).collect();
    read.push(args.noted.outcomes.as_deref());
    kept::may_keep(&[(Some(&args.ics), Kind::Calendar)], &read)
}

fn written(args: &CalendarArgs) -> Result<u8, u8> {
    may_keep(args)?;
    let effort = Effort { decodings: args.effort.decodings, within: None };
    let given = given(&args.lessons, args.noted.outcomes.as_deref(), Some(&effort))?;
    let mut status = if given.is_whole { WELL } else { DOES_NOT_FIT };
    let mut all: Vec<(&Given, CheckedPlan)> = Vec::new();
    for of in &given.lessons {
        let plan = match of.in_week(args.anew.anew) {
            InWeek::Own => {
                let go_by = GoBy { plan: None, anew: args.anew.clone() };
                let decodings = (args.effort.decodings, false);
                plan_asked_for(&of.path, &of.loaded, &go_by, decodings)?
            }
            InWeek::Plan(plan) => *plan,
            InWeek::NoTime => {
                wrong(&format!("{}: not in it, as time was up before it was planned", of.name));
                status = DOES_NOT_FIT;
                continue;
            }
        };
        all.push((of, plan));
    }
    let planned: Vec<_> = all.iter().map(|(of, plan)| (*of, plan)).collect();
    let lessons = for_lessons(&planned, &given.weeks).into_iter();
    let lessons: Vec<_> = lessons.zip(&all).map(|(lesson, (of, _))| (lesson, of.key())).collect();
    let text = calendar(&lessons, local_now().to_utc()).map_err(|(number, fault)| {
        wrong(&format!("{}: {fault}", all[number].0.name));
        CANNOT_READ
    })?;
    may_keep(args)?;
    let access = Access::As(&args.lessons[0]);
    write_new(&args.ics, text.as_bytes(), Backup::None, access).map_err(|error| {
        let why = why(&error, Doing::Writing(&args.ics));
        wrong(&format!("{}: the calendar could not be written: {why}", args.ics.display()));
        CANNOT_READ
    })?;
    let entries = text.matches("BEGIN:VEVENT").count();
    print(&if entries == 1 { "1 entry".to_owned() } else { format!("{entries} entries") });
    for (of, plan) in &all {
        let lesson = &of.loaded.lesson;
        let is_out = |g: &GroupId| plan.plan().choice(*g).is_some();
        let left = lesson.attending().filter(|g| !is_out(g));
        let left: Vec<String> = left.map(|g| lesson.group(g).name.clone()).collect();
        if !left.is_empty() {
            let left = list(&in_short(&left));
            wrong(&format!("{}: not in it, as not out by the bell: {left}", of.name));
            status = DOES_NOT_FIT;
        }
    }
    Ok(status)
}
