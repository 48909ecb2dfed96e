//! `ovenbell sheets`: sheets of a lesson, or of several, as a PDF, and the running
//! order as text.

use std::path::PathBuf;

use chrono::{DateTime, Local, NaiveDateTime};
use clap::Args;
use serde_json::json;

use super::kept::{self, Kind};
use super::numbers::sets;
use super::ready::{AllReady, Ready, Way, all_ready};
use super::say::{english, said};
use super::shared_args::{GoBy, Noted, Search};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, as_json, complain, print, wrong};
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, Disk, RealDisk, write_new};
use crate::keep;
use crate::model::{Language, Lesson};
use crate::papers::head::Head;
use crate::papers::paper::{Paper, Print};
use crate::papers::pdf::NoPdf;
use crate::papers::plain_text::plain_text;
use crate::papers::reissue::{self, Standing};
use crate::papers::sheet::Sheet;
use crate::papers::{self, LaidSheet, LeftOut, Matter, Part, Printed};
use crate::speech::allergens::list;
use crate::stores::{Extra, Stores};
use crate::units::local_now;
use crate::view::week::words::title_of;
use crate::week::ToldOf;

pub(super) const HELP: &str = "Examples:
  ovenbell sheets my-lesson.ron --pdf sheets.pdf
  ovenbell sheets my-lesson.ron --pdf plans.pdf --parts time-plans --large
  ovenbell sheets my-lesson.ron --plan my-plan.ron --pdf all.pdf --parts all --paper letter
  ovenbell sheets monday.ron tuesday.ron --pdf both.pdf --parts technician,order-list
  ovenbell sheets my-week.ron --pdf week.pdf --parts technician,order-list
  ovenbell sheets my-lesson.ron --text

Of several lessons, the technician's day and the order list are one sheet each, for
all of them together; other parts come lesson by lesson. A week's file is all its
lessons, each when and where the week has it.

Parts: order, ovens (these two are printed if nothing else is asked for), lesson,
time-plans, time-plans-gaps (times and jobs left out by turns), time-plan-blank,
unit-check, requisition, technician (the technician's day), order-list,
labels, risk, cover, letter; or all.

Exit status: 0 all is printed; 1 a part is left out, or a name does not fit as it
should; 2 a file cannot be read or written.";

#[derive(Debug, Args)]
pub(super) struct SheetsArgs {
    /// The lesson file (RON), or several; a week's file is all its lessons.
    #[arg(required = true, value_name = "LESSON")]
    lessons: Vec<PathBuf>,
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
    /// Draw a symbol beside each job of a time plan.
    #[arg(long)]
    symbols: bool,
    /// A second line for each job of a time plan, as entered for it in this
    /// language: pl for Polish.
    #[arg(long, value_name = "LANGUAGE")]
    home: Option<Language>,
    #[command(flatten)]
    go_by: GoBy,
    /// Put out so many sets for a demo, of each recipe.
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = sets, allow_negative_numbers = true)]
    demo: u32,
    /// Put out so many spare sets of each recipe [default: 1, or as the day's
    /// lesson says].
    #[arg(long, value_name = "N", value_parser = sets, allow_negative_numbers = true)]
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
    let read = args.lessons.iter().map(|lesson| Some(&**lesson));
    let read: Vec<_> =
        read.chain([args.noted.outcomes.as_deref(), args.go_by.plan.as_deref()]).collect();
    kept::may_keep(&[(args.pdf.as_deref(), Kind::Sheets)], &read)
}

fn matter<'a>(of: &'a Ready, args: &SheetsArgs) -> Matter<'a> {
    let (lesson, plan) = (of.lesson(), of.plan.as_ref());
    Matter {
        lesson,
        plan,
        stores: Stores::of(lesson, plan, args.extra(lesson)),
        set_out: of.set_out,
        allergens: list(english()),
    }
}

/// What is printed.
#[derive(Default)]
struct Made {
    sheets: Vec<LaidSheet>,
    left_out: Vec<LeftOut>,
    unchanged: usize,
}

fn printed(args: &SheetsArgs) -> Result<u8, u8> {
    may_keep(args)?;
    let way = Way {
        go_by: &args.go_by,
        search: &args.search,
        // What is pasted elsewhere is the sheet alone.
        is_quiet: args.json || args.text,
    };
    let ready = all_ready(&args.lessons, args.noted.outcomes.as_deref(), way)?;
    let lessons = &ready.lessons;
    let is_whole = ready.is_whole && has_second_lines(args, lessons);
    let issued = local_now().naive_local();
    if args.text {
        let status = as_text(args, lessons, issued);
        return Ok(if is_whole { status } else { DOES_NOT_FIT });
    }
    let matters: Vec<Matter<'_>> = lessons.iter().map(|of| matter(of, args)).collect();
    let mut made = Made::default();
    for (of, matter) in lessons.iter().zip(&matters) {
        of_lesson(args, (of, matter, lessons.len() == 1), issued, &mut made)?;
    }
    let head = head_of(&ready, issued);
    of_all(args, lessons, &matters, (&head, &mut made))?;
    let Made { sheets, left_out, unchanged } = made;
    if sheets.is_empty() {
        if args.json {
            print(&answer(None, (&left_out, unchanged)));
        }
        return Ok(DOES_NOT_FIT);
    }
    let all: Vec<&LaidSheet> = sheets.iter().collect();
    let printed = papers::printed(&all, &head, english().language()).map_err(|f| fault(&f))?;
    write(args, &printed)?;
    if args.json {
        print(&answer(Some(&printed), (&left_out, unchanged)));
    } else {
        print(&told_of(&printed, unchanged));
    }
    complain(&args.lessons[0], &printed.findings);
    let is_all = printed.findings.is_empty() && left_out.is_empty() && is_whole;
    Ok(if is_all { WELL } else { DOES_NOT_FIT })
}

/// Whether every lesson has second lines in the language that is asked for; of one that
/// has none it is told which there are.
fn has_second_lines(args: &SheetsArgs, lessons: &[Ready]) -> bool {
    let Some(home) = args.home else { return true };
    let mut all_have = true;
    for of in lessons {
        let there = of.lesson().home_languages();
        if there.contains(&home) {
            continue;
        }
        all_have = false;
        let codes: Vec<String> = there.iter().map(ToString::to_string).collect();
        let which = match codes.as_slice() {
            [] => "no step has one in any language".to_owned(),
            codes => format!("there are: {}", codes.join(", ")),
        };
        wrong(&format!("{}: no step has a second line in {home}; {which}", of.given.name));
        wrong("    enter them with each step of the recipe, in Set up");
    }
    all_have
}

/// The running orders as text, to be pasted elsewhere.
fn as_text(args: &SheetsArgs, lessons: &[Ready], issued: NaiveDateTime) -> u8 {
    let mut is_all = true;
    for of in lessons {
        let (of_it, head) = (matter(of, args), Head::of(of.lesson(), issued));
        let (sheets, left_out) = papers::sheets(&of_it, &[Part::RunningOrder], &of.no_plan);
        for sheet in &sheets {
            print(&plain_text(sheet, &head, &said));
        }
        tell_left_out(&of.given.name, &left_out);
        is_all &= left_out.is_empty();
    }
    if is_all { WELL } else { DOES_NOT_FIT }
}

/// A lesson's own sheets: all of them if it is the only one.
fn of_lesson(
    args: &SheetsArgs,
    (of, matter, alone): (&Ready, &Matter<'_>, bool),
    issued: NaiveDateTime,
    made: &mut Made,
) -> Result<(), u8> {
    let parts: Vec<Part> =
        args.wanted().into_iter().filter(|part| alone || !part.is_common()).collect();
    let (sheets, left_out) = papers::sheets(matter, &parts, &of.no_plan);
    let (sheets, unchanged) = reissued(args, of, (sheets, &parts));
    let mut laid = laid(args, &sheets, &Head::of(of.lesson(), issued))?;
    if !alone {
        papers::named_by_lesson(&mut laid, of.lesson());
    }
    tell_left_out(&of.given.name, &left_out);
    made.sheets.extend(laid);
    made.left_out.extend(left_out);
    made.unchanged += unchanged;
    Ok(())
}

/// The sheets that several lessons have in common.
fn of_all(
    args: &SheetsArgs,
    lessons: &[Ready],
    matters: &[Matter<'_>],
    (head, made): (&Head, &mut Made),
) -> Result<(), u8> {
    let [first, _, ..] = lessons else { return Ok(()) };
    let (sheets, left_out) = papers::common_sheets(matters, &args.wanted(), &first.no_plan);
    tell_left_out(&first.given.name, &left_out);
    made.sheets.extend(laid(args, &sheets, head)?);
    made.left_out.extend(left_out);
    Ok(())
}

/// The head of what all of them have in common.
fn head_of(ready: &AllReady, issued: NaiveDateTime) -> Head {
    if let Some(week) = ready.week() {
        return Head::titled(title_of(week, ToldOf::default()), issued);
    }
    let all: Vec<&Lesson> = ready.lessons.iter().map(Ready::lesson).collect();
    Head::of_several(&all, issued)
}

fn laid(args: &SheetsArgs, sheets: &[Sheet<'_>], head: &Head) -> Result<Vec<LaidSheet>, u8> {
    let paper: Paper = args.paper.parse().unwrap_or_default();
    let print_as = Print { paper, large: args.large, symbols: args.symbols, home: args.home };
    papers::laid_out(sheets, head, print_as, &said).map_err(|f| fault(&f))
}

fn fault(fault: &NoPdf) -> u8 {
    wrong(&format!("a fault of ovenbell's: {fault}"));
    OUR_FAULT
}

/// Sheets that say something else than those of the plan kept with the lesson
/// list what is new on top. Those that say the same are left out then, unless
/// they are asked for; how many were.
fn reissued<'a>(
    args: &SheetsArgs,
    of: &Ready,
    (mut sheets, parts): (Vec<Sheet<'a>>, &[Part]),
) -> (Vec<Sheet<'a>>, usize) {
    let loaded = &of.given.loaded;
    let Some(kept) = &loaded.told else { return (sheets, 0) };
    let path = RealDisk.resolved(&of.given.path);
    let Ok(written) = RealDisk.written_at(&path) else { return (sheets, 0) };
    let since = DateTime::<Local>::from(written).naive_local();
    let then = match keep::told(&loaded.lesson, kept) {
        Ok(plan) => Some((loaded.lesson.clone(), plan)),
        Err(gone) => gone.rest,
    };
    let Some((lesson, plan)) = then else { return (sheets, 0) };
    let stores = Stores::of(&lesson, Some(&plan), args.extra(&lesson));
    let then = Matter {
        lesson: &lesson,
        plan: Some(&plan),
        stores,
        set_out: None,
        allergens: list(english()),
    };
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

fn write(args: &SheetsArgs, made: &Printed) -> Result<(), u8> {
    may_keep(args)?;
    let Some(path) = &args.pdf else { return Ok(()) };
    let written = write_new(path, &made.bytes, Backup::None, Access::As(&args.lessons[0]));
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

fn tell_left_out(lesson: &str, left_out: &[LeftOut]) {
    for LeftOut { part, why } in left_out {
        let words = said(&format!("{} is left out: {why}", part.title()));
        wrong(&format!("{lesson}: {words}"));
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
