//! `ovenbell afterwards`: what a lesson really took, and what that teaches.

use std::path::{Path, PathBuf};

use clap::Args;

use super::say::{said, tell};
use super::shared_args::Noted;
use super::today::refused;
use super::{CANNOT_READ, WELL, complain, load, print_json, wrong};
use crate::afterwards::{Answers, Learned, Observed, Part, note, observed, taught};
use crate::export::afterwards::Afterwards;
use crate::file::data_folders::{minutes_beside, outcomes_file};
use crate::file::past_minutes::load_minutes;
use crate::file::{Loaded, NotRewritten, rewrite};
use crate::keep;
use crate::today::no_copy;
use crate::units::{ClockTime, local_now};

pub(super) const HELP: &str = "Examples:
  ovenbell afterwards today.ron
  ovenbell afterwards today.ron --set-to-work 10:18 --last \"Unit 3\" 11:00 --held \"Oven 2\"
  ovenbell afterwards today.ron --next \"Drop the demo, they knew it.\" --json

Nothing has to be answered. What was told in the lesson counts, and what was only
presumed does not. Bakes are noted in outcomes.csv and parts of lessons in minutes.csv
beside it, in your own data folder; --outcomes CSV names another.";

#[derive(Debug, Args)]
pub(super) struct AfterwardsArgs {
    /// The copy for the day (RON), as `today LESSON --save COPY` makes one.
    copy: PathBuf,
    /// When groups set to work, by the clock.
    #[arg(long, value_name = "HH:MM", value_parser = ClockTime::parse)]
    set_to_work: Option<ClockTime>,
    /// The last group that was ready, and when.
    #[arg(long, num_args = 2, value_names = ["GROUP", "HH:MM"])]
    last: Option<Vec<String>>,
    /// What held groups up.
    #[arg(long, value_name = "WORDS")]
    held: Option<String>,
    /// A line for next time.
    #[arg(long, value_name = "WORDS")]
    next: Option<String>,
    /// Print it as JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    noted: Noted,
}

/// Notes what a lesson took.
pub(super) fn run(args: &AfterwardsArgs) -> u8 {
    match told(args) {
        Ok(()) => WELL,
        Err(status) => status,
    }
}

fn told(args: &AfterwardsArgs) -> Result<(), u8> {
    let (path, outcomes) = (&args.copy, args.noted.outcomes.as_deref());
    let (_, past) = load(path, outcomes)?;
    let last = match args.last.as_deref() {
        Some([group, at]) => {
            let at = ClockTime::parse(at).map_err(|error| {
                wrong(&format!("--last {group} {at}: {error}"));
                CANNOT_READ
            })?;
            Some((group.as_str(), at))
        }
        _ => None,
    };
    let (held, next) = (args.held.as_deref(), args.next.as_deref());
    let answers = Answers { set_to_work: args.set_to_work, last, held, next, past: &past };
    if !answers.is_empty() {
        write(path, answers)?;
    }
    let (loaded, _) = load(path, outcomes)?;
    let observed = of_day(path, &loaded)?;
    let learned = noted(args, &observed)?;
    let of = Afterwards { lesson: &loaded.lesson, observed: &observed, learned: &learned };
    if args.json {
        return print_json(of.json());
    }
    tell(&of.text());
    Ok(())
}

fn write(path: &Path, answers: Answers<'_>) -> Result<(), u8> {
    use crate::edit::FileChange;
    rewrite(path, |file| answers.made(file)).map_err(|error| match error {
        NotRewritten::Refused(finding) => refused(&path.display().to_string(), &finding),
        NotRewritten::Disk(why) => {
            wrong(&format!("{}: it is not answered: {}", path.display(), said(&why)));
            CANNOT_READ
        }
    })
}

fn of_day(path: &Path, loaded: &Loaded) -> Result<Observed, u8> {
    let lesson = &loaded.lesson;
    let no = |words: &str| {
        wrong(&format!("{}: {}", path.display(), said(words)));
        CANNOT_READ
    };
    if lesson.today.is_none() {
        return Err(refused(&path.display().to_string(), &no_copy()));
    }
    let Some(kept) = &loaded.told else {
        return Err(no("no plan is kept with it, so there is nothing to hold the day against"));
    };
    let plan = keep::told(lesson, kept).map_err(|gone| {
        complain(path, &gone.findings);
        no("the plan kept with it no longer holds")
    })?;
    let date = lesson.date.unwrap_or_else(|| local_now().date_naive());
    Ok(observed(lesson, &plan, date))
}

/// Notes what was observed in the user's tables, and says what each part teaches.
fn noted(args: &AfterwardsArgs, observed: &Observed) -> Result<Vec<(Part, Learned)>, u8> {
    let Some(outcomes) = args.noted.outcomes.clone().or_else(outcomes_file) else {
        wrong("there is no folder to keep bakes in; name a file with --outcomes CSV");
        return Err(CANNOT_READ);
    };
    note(&outcomes, observed).map_err(|(path, error)| {
        wrong(&format!("{}: it is not noted: {error}", path.display()));
        CANNOT_READ
    })?;
    let path = minutes_beside(&outcomes);
    let (all, findings) = load_minutes(&path);
    complain(&path, &findings);
    Ok(taught(observed, &all))
}
