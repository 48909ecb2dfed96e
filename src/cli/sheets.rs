//! `ovenbell sheets`: a lesson's sheets as a PDF, and its running order as text.

use std::path::PathBuf;

use chrono::{DateTime, Local};
use clap::Args;
use serde_json::json;

use super::kept::{self, Kind};
use super::plan::{best_plan, why_none};
use super::say::{english, said};
use super::shared_args::{GoBy, Noted, Search};
use super::today::kept_plan;
use super::{
    CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, as_json, complain, load, print, told, wrong,
};
use crate::check::CheckedPlan;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, Disk, Loaded, RealDisk, write_new};
use crate::keep;
use crate::model::Lesson;
use crate::papers::head::Head;
use crate::papers::paper::{Paper, Print};
use crate::papers::plain_text::plain_text;
use crate::papers::reissue::{self, Standing};
use crate::papers::sheet::Sheet;
use crate::papers::{self, LeftOut, Matter, Part, Printed};
use crate::planner::PlanError;
use crate::stores::{Extra, Stores};
use crate::units::local_now;

pub(super) const HELP: &str = "Examples:
  ovenbell sheets my-lesson.ron --pdf sheets.pdf
  ovenbell sheets my-lesson.ron --pdf plans.pdf --parts time-plans --large
  ovenbell sheets my-lesson.ron --plan my-plan.ron --pdf all.pdf --parts all --paper letter
  ovenbell sheets my-lesson.ron --text

Parts: order, ovens (these two are printed if nothing else is asked for), lesson,
time-plans, time-plans-gaps (times and jobs left out by turns), time-plan-blank,
unit-check, requisition, labels, risk, cover, letter; or all.

Exit status: 0 all is printed; 1 a part is left out, or a name does not fit as it
should; 2 a file cannot be read or written.";

#[derive(Debug, Args)]
pub(super) struct SheetsArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Write the sheets to this PDF file.
    #[arg(long, value_name = "OUT", required_unless_present = "text")]
    pdf: Option<PathBuf>,
    /// Print the running order as text instead, to be pasted elsewhere.
    #[arg(long, conflicts_with_all = ["pdf", "json"])]
    text: bool,
    /// The parts to print, with commas between them.
    #[arg(long, value_name = "PARTS", value_delimiter = ',', value_parser = parts)]
    parts: Vec<Parts>,
    /// The paper.
    #[arg(long, value_name = "PAPER", default_value = "a4", value_parser = ["a4", "letter"])]
    paper: String,
    /// Large print: no letters below 16 points.
    #[arg(long)]
    large: bool,
    #[command(flatten)]
    go_by: GoBy,
    /// Put out so many sets for a demo, of each recipe.
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u32).range(..100))]
    demo: u32,
    /// Put out so many spare sets of each recipe [default: 1, or as the day's
    /// lesson says].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(..100))]
    spare: Option<u32>,
    /// Print sheets again that say the same as with the plan kept with the
    /// lesson, though others have changed.
    #[arg(long)]
    again: bool,
    /// Print what was printed as JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    search: Search,
    #[command(flatten)]
    noted: Noted,
}

/// One part, or all of them.
#[derive(Debug, Clone, Copy)]
enum Parts {
    One(Part),
    All,
}

fn parts(text: &str) -> Result<Parts, String> {
    if text.trim() == "all" { Ok(Parts::All) } else { text.parse().map(Parts::One) }
}

impl SheetsArgs {
    fn wanted(&self) -> Vec<Part> {
        let each = |parts: &Parts| match parts {
            Parts::One(part) => vec![*part],
            Parts::All => Part::ALL.to_vec(),
        };
        let wanted: Vec<Part> = self.parts.iter().flat_map(each).collect();
        if wanted.is_empty() { Part::USUAL.to_vec() } else { wanted }
    }

    fn extra(&self, lesson: &Lesson) -> Extra {
        let usual = Extra::usual(lesson);
        Extra { demo: self.demo, spare: self.spare.unwrap_or(usual.spare) }
    }
}

/// Prints sheets.
pub(super) fn run(args: &SheetsArgs) -> u8 {
    match printed(args) {
        Ok(status) | Err(status) => status,
    }
}

/// Asked before planning, which may take long, and again before writing.
fn may_keep(args: &SheetsArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.noted.outcomes.as_deref(), args.go_by.plan.as_deref()];
    kept::may_keep(&[(args.pdf.as_deref(), Kind::Sheets)], &read)
}

fn printed(args: &SheetsArgs) -> Result<u8, u8> {
    may_keep(args)?;
    let (loaded, _) = load(&args.lesson, args.noted.outcomes.as_deref())?;
    let lesson = &loaded.lesson;
    let parts = if args.text { vec![Part::RunningOrder] } else { args.wanted() };
    let (plan, no_plan) = plan(args, &loaded)?;
    let stores = Stores::of(lesson, plan.as_ref(), args.extra(lesson));
    let matter = Matter { lesson, plan: plan.as_ref(), stores };
    let head = Head::of(lesson, local_now().naive_local());
    let (sheets, left_out) = papers::sheets(&matter, &parts, &no_plan);
    if args.text {
        for sheet in &sheets {
            print(&plain_text(sheet, &head, &said));
        }
        tell_left_out(args, &left_out);
        return Ok(if left_out.is_empty() { WELL } else { DOES_NOT_FIT });
    }
    if sheets.is_empty() {
        tell_left_out(args, &left_out);
        if args.json {
            print(&answer(None, (&left_out, 0)));
        }
        return Ok(DOES_NOT_FIT);
    }
    let paper: Paper = args.paper.parse().unwrap_or_default();
    let print_as = Print { paper, large: args.large };
    let (sheets, unchanged) = reissued(args, &loaded, (sheets, &parts));
    let made = papers::print(&sheets, &head, print_as, (english().language(), &said));
    let made = made.map_err(|fault| {
        wrong(&format!("a fault of ovenbell's: {fault}"));
        OUR_FAULT
    })?;
    write(args, &made)?;
    if args.json {
        print(&answer(Some(&made), (&left_out, unchanged)));
    } else {
        print(&told_of(&made, unchanged));
    }
    complain(&args.lesson, &made.findings);
    tell_left_out(args, &left_out);
    let is_all = made.findings.is_empty() && left_out.is_empty();
    Ok(if is_all { WELL } else { DOES_NOT_FIT })
}

/// Sheets that say something else than those of the plan kept with the lesson
/// list what is new on top. Those that say the same are left out then, unless
/// they are asked for; how many were.
fn reissued<'a>(
    args: &SheetsArgs,
    loaded: &Loaded,
    (mut sheets, parts): (Vec<Sheet<'a>>, &[Part]),
) -> (Vec<Sheet<'a>>, usize) {
    let Some(kept) = &loaded.told else { return (sheets, 0) };
    let path = RealDisk.resolved(&args.lesson);
    let Ok(written) = RealDisk.written_at(&path) else { return (sheets, 0) };
    let since = DateTime::<Local>::from(written).naive_local();
    let then = match keep::told(&loaded.lesson, kept) {
        Ok(plan) => Some((loaded.lesson.clone(), plan)),
        Err(gone) => gone.rest,
    };
    let Some((lesson, plan)) = then else { return (sheets, 0) };
    let stores = Stores::of(&lesson, Some(&plan), args.extra(&lesson));
    let then = Matter { lesson: &lesson, plan: Some(&plan), stores };
    let (was, _) = papers::sheets(&then, parts, "");
    let compare = |sheet| reissue::compare(sheet, &was, since);
    let standings: Vec<Standing> = sheets.iter_mut().map(compare).collect();
    let all = sheets.len();
    if standings.contains(&Standing::Changed) && !args.again {
        let mut standings = standings.into_iter();
        sheets.retain(|_| standings.next() != Some(Standing::Unchanged));
    }
    let unchanged = all - sheets.len();
    (sheets, unchanged)
}

/// The plan to go by, or why there is none.
fn plan(args: &SheetsArgs, loaded: &Loaded) -> Result<(Option<CheckedPlan>, String), u8> {
    let lesson = &loaded.lesson;
    if let Some(path) = &args.go_by.plan {
        return Ok((Some(kept_plan(path, lesson)?), String::new()));
    }
    let deadline = args.search.deadline();
    let budget = args.search.budget(args.search.within);
    if loaded.told.is_none() {
        told::no_plan_is_kept(&args.lesson);
    }
    // What is pasted elsewhere is the sheet alone.
    let found =
        match told::kept_plan(&args.lesson, loaded, args.go_by.anew.anew, args.json || args.text) {
            Some(kept) => told::planned(kept, lesson, &budget, &deadline),
            None => best_plan(lesson, &budget, &deadline),
        };
    match found {
        Ok(best) => Ok((Some(best.judged), String::new())),
        Err(error @ PlanError::ClassStep(_)) => Ok((None, error.to_string())),
        Err(fault) => Err(why_none(&args.lesson, &fault)),
    }
}

fn write(args: &SheetsArgs, made: &Printed) -> Result<(), u8> {
    may_keep(args)?;
    let Some(path) = &args.pdf else { return Ok(()) };
    let written = write_new(path, &made.bytes, Backup::None, Access::As(&args.lesson));
    written.map_err(|error| {
        let why = why(&error, Doing::Writing(path));
        wrong(&format!("{}: the sheets could not be written: {why}", path.display()));
        CANNOT_READ
    })
}

fn told_of(made: &Printed, unchanged: usize) -> String {
    let each = made.parts.iter().map(|(part, pages)| format!("{} {pages}", part.name()));
    let all: usize = made.parts.iter().map(|(_, pages)| pages).sum();
    let pages = if all == 1 { "page" } else { "pages" };
    let each = each.collect::<Vec<_>>().join(", ");
    match unchanged {
        0 => format!("{all} {pages}: {each}"),
        n => format!("{all} {pages}: {each}; unchanged and not printed again: {n}"),
    }
}

fn tell_left_out(args: &SheetsArgs, left_out: &[LeftOut]) {
    for LeftOut { part, why } in left_out {
        let words = said(&format!("{} is left out: {why}", part.title()));
        wrong(&format!("{}: {words}", args.lesson.display()));
    }
}

/// What was printed, as JSON.
fn answer(made: Option<&Printed>, (left_out, unchanged): (&[LeftOut], usize)) -> String {
    let parts = made.map(|made| made.parts.as_slice()).unwrap_or_default();
    let findings = made.map(|made| made.findings.as_slice()).unwrap_or_default();
    let pages: usize = parts.iter().map(|(_, pages)| pages).sum();
    let parts = parts.iter().map(|(part, pages)| json!({ "part": part.name(), "pages": pages }));
    let left_out = left_out.iter().map(|l| json!({ "part": l.part.name(), "why": l.why.clone() }));
    let answer = json!({
        "parts": parts.collect::<Vec<_>>(),
        "pages": pages,
        "findings": as_json(findings),
        "left_out": left_out.collect::<Vec<_>>(),
        "unchanged": unchanged,
    });
    format!("{answer:#}")
}
