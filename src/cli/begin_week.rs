//! `ovenbell begin-week`: the file of a week, begun from lessons.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::NaiveDate;
use clap::Args;

use super::{CANNOT_READ, DOES_NOT_FIT, WELL, complain, print, wrong};
use crate::file::format::LessonFile;
use crate::file::{Disk, RealDisk, save_week_as};
use crate::finding::Severity;
use crate::view::words::counted;
use crate::week::{begun, load, pointer_to, text_of, to_put_in, where_and_when, with_lesson};

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
    if path.exists() {
        wrong(&format!("{}: there is a file of that name already", args.week.display()));
        return Err(CANNOT_READ);
    }
    let told = |path: &Path, why: String| {
        wrong(&format!("{}: {why}", path.display()));
        CANNOT_READ
    };
    let read = |path: &PathBuf| to_put_in(path).map_err(|why| told(path, why));
    let lessons: Vec<LessonFile> = args.lessons.iter().map(read).collect::<Result<_, u8>>()?;
    let date = |file: &LessonFile| file.date.as_deref()?.parse::<NaiveDate>().ok();
    let Some(day) = args.of.or_else(|| lessons.iter().find_map(date)) else {
        wrong("no lesson has a date: say which week it is with --of 2026-11-30");
        return Err(CANNOT_READ);
    };
    let mut week = begun(day, &lessons[0]);
    let folder = path.parent().unwrap_or(Path::new("."));
    text_of(&week, folder).map_err(|why| told(&args.week, why))?;
    // Nothing is written before all of that is known.
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    for (path_of, lesson) in args.lessons.iter().zip(&lessons) {
        let pointer = pointer_to(&disk, (path_of, lesson), &path);
        week = with_lesson(&week, lesson, pointer.map_err(|why| told(path_of, why))?);
    }
    let text = text_of(&week, folder).map_err(|why| told(&args.week, why))?;
    save_week_as(&path, &text).map_err(|why| told(&args.week, why.to_string()))?;
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
