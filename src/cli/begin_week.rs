//! `ovenbell begin-week`: the file of a week, begun from lessons.

use std::path::PathBuf;
use std::sync::Arc;

use chrono::NaiveDate;
use clap::Args;

use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, complain, print, wrong};
use crate::file::format::{LessonFile, PointerShape};
use crate::file::{Disk, RealDisk, save_week_as, write_week};
use crate::finding::Severity;
use crate::week::{begun, load, to_put_in, where_and_when, with_lesson};
use crate::words::counted;

/// Printed after the options.
pub(super) const HELP: &str = "Examples:
  ovenbell begin-week autumn/week.ron autumn/scones.ron autumn/buns.ron --of 2026-11-30
  ovenbell week autumn/week.ron

Each lesson is on the day of its date if that is of the week, else on the first day from
Monday to Friday on which its room is free then; between its own bells, in its own room.
Bells and rooms come into the week with the lessons. A lesson's file without an id is
given one, to be found by. No file is written over.";

#[derive(Debug, Args)]
pub(super) struct BeginWeekArgs {
    /// The week's file (RON), which is not there yet.
    week: PathBuf,
    /// The lesson files (RON) that are taught in it.
    #[arg(required = true, value_name = "LESSON")]
    lessons: Vec<PathBuf>,
    /// A day of the week [default: that of the first lesson that has a date].
    #[arg(long, value_name = "DATE")]
    of: Option<NaiveDate>,
}

/// Begins a week.
pub(super) fn run(args: &BeginWeekArgs) -> u8 {
    match began(args) {
        Ok(status) | Err(status) => status,
    }
}

fn began(args: &BeginWeekArgs) -> Result<u8, u8> {
    let path = std::path::absolute(&args.week).unwrap_or_else(|_| args.week.clone());
    // Asked before any lesson is given an id.
    if path.exists() {
        wrong(&format!("{}: there is a file of that name already", args.week.display()));
        return Err(CANNOT_READ);
    }
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut lessons: Vec<(LessonFile, PointerShape)> = Vec::new();
    for lesson in &args.lessons {
        lessons.push(to_put_in(&disk, lesson, &path).map_err(|why| {
            wrong(&format!("{}: {why}", lesson.display()));
            CANNOT_READ
        })?);
    }
    let date = |file: &LessonFile| file.date.as_deref()?.parse::<NaiveDate>().ok();
    let Some(day) = args.of.or_else(|| lessons.iter().find_map(|(file, _)| date(file))) else {
        wrong("no lesson has a date: say which week it is with --of 2026-11-30");
        return Err(CANNOT_READ);
    };
    let mut week = begun(day, &lessons[0].0);
    for (lesson, pointer) in lessons {
        week = with_lesson(&week, &lesson, pointer);
    }
    let text = write_week(&week).map_err(|fault| {
        wrong(&format!("a fault of ovenbell's: {fault}"));
        OUR_FAULT
    })?;
    save_week_as(&path, &text).map_err(|why| {
        wrong(&format!("{}: {why}", args.week.display()));
        CANNOT_READ
    })?;
    let loaded = load(&path, &[]).map_err(|findings| {
        complain(&args.week, &findings);
        DOES_NOT_FIT
    })?;
    complain(&args.week, &loaded.findings);
    print(&format!("{} in the week of {}", counted(week.lessons.len(), "lesson"), week.week));
    for entry in &loaded.week.entries {
        let place = where_and_when(&loaded.week, &entry.slot);
        print(&format!("  {place}: {}", format!("{} {}", entry.class, entry.title()).trim()));
    }
    let is_well = loaded.findings.iter().all(|f| f.severity != Severity::Error);
    Ok(if is_well { WELL } else { DOES_NOT_FIT })
}
