//! The command line: one file for each command.

mod afterwards;
mod begin_week;
mod calendar;
mod changes;
mod check;
mod convert;
mod given;
mod kept;
mod no_command;
mod numbers;
mod nutrition;
mod odds;
mod order;
mod plan;
mod problem;
mod ready;
mod recipe_in;
mod recipe_out;
mod recipes_of;
mod rehearse;
mod say;
mod shared_args;
mod sheets;
mod tell;
pub mod terminal;
mod tins;
mod tins_free;
mod tins_table;
mod today;
mod told;
mod took;
mod week;
mod why;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand};

use crate::file::data_folders;
use crate::file::outcomes::load_outcomes;
use crate::file::{Loaded, load_lesson_knowing};
use crate::finding::Finding;
use crate::model::PastBake;
use crate::speech::English;
use terminal::{print, wrong};

/// All is well.
const WELL: u8 = 0;
/// Something does not fit, or a rule is broken.
const DOES_NOT_FIT: u8 = 1;
/// A file cannot be read, or the command makes no sense.
const CANNOT_READ: u8 = 2;
/// A fault of the program.
const OUR_FAULT: u8 = 3;
/// The answer could not be written where it was to go.
const NOT_WRITTEN: u8 = 4;

/// Fits a class's baking practical into a school period.
///
/// Give it a lesson file: the room with its ovens, the period between two
/// bells, the recipes and their tins, the groups. It plans every group's
/// mixing, baking, cooling and washing up, checks the plan, and says which
/// groups are out by the bell, which are not, and why. Without a command it
/// opens a window with the lesson, or with the sample lesson.
#[derive(Debug, Parser)]
#[command(version, after_help = EXIT_STATUS, args_conflicts_with_subcommands = true)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    /// Whose words and units: british (as in Britain), irish, or american (°F
    /// and inches) [default: british; in the window, as last time].
    #[arg(long, global = true, value_name = "ENGLISH", value_parser = english())]
    english: Option<English>,
    #[command(flatten)]
    window: Window,
}

/// What the window is to open with.
#[derive(Debug, Clone, PartialEq, Args)]
pub struct Window {
    /// The lesson file or the week's file (RON) to open in the window.
    pub lesson: Option<PathBuf>,
    /// Size of the window in points.
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = size)]
    pub size: Option<(f32, f32)>,
    /// Light or dark, whatever it was last time.
    #[arg(long, value_name = "THEME", value_parser = ["light", "dark"])]
    pub theme: Option<String>,
    /// High contrast: black on white, or white on black where it is dark.
    #[arg(long)]
    pub contrast: bool,
    /// Size of text in hundredths, whatever it was last time.
    #[arg(long, value_name = "PERCENT", value_parser = numbers::whole("hundredths", (80_u32, Some(200)), 120), allow_negative_numbers = true)]
    pub text: Option<u32>,
    /// Neither read nor keep looks and recent files.
    #[arg(long)]
    pub forget: bool,
    /// Whose words; as last time if `None`.
    #[arg(skip)]
    pub english: Option<English>,
}

fn english() -> impl TypedValueParser<Value = English> {
    PossibleValuesParser::new(English::ALL.map(English::name))
        .try_map(|name| name.parse::<English>())
}

const EXIT_STATUS: &str = "Exit status: 0 all is well; 1 something does not fit, or a rule is \
broken; 2 a file cannot be read, or the command makes no sense; 3 a fault of the program; 4 the \
answer could not be written where it was to go.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Plan a lesson and say who is out by the bell.
    ///
    /// Prints the outcome in a sentence, a line for each group, and the ovens
    /// shelf by shelf. Plans are judged by a checker of their own before
    /// anything is said.
    #[command(after_help = plan::HELP)]
    Plan(plan::PlanArgs),
    /// Say why groups are not served.
    ///
    /// For every group that is not out by the bell: the sum that shows why, to
    /// be checked with pencil and paper; or the groups and things that stand in
    /// each other's way, no more of them than it takes; or what was tried, where
    /// nothing is proved.
    #[command(after_help = why::HELP)]
    Why(why::WhyArgs),
    /// Check a lesson file, or a kept plan against its lesson.
    ///
    /// Without --plan: says what is wrong with the lesson file and where.
    /// With --plan: says which rules the plan breaks, by name.
    #[command(after_help = check::HELP)]
    Check(check::CheckArgs),
    /// Look for the smallest changes that make a lesson fit.
    ///
    /// Tries a menu of changes, singly and in pairs, the cheapest first: other
    /// tins and methods, steps done beforehand, the demo in the lesson before,
    /// kit and ovens borrowed, pairs, collecting after the bell, a longer
    /// period, two lessons. Each is planned and checked.
    #[command(after_help = changes::HELP)]
    Changes(changes::ChangesArgs),
    /// Plan the lesson anew for what happens on the day.
    ///
    /// Pupils absent, an oven out of order, ingredients forgotten, a late
    /// start: says whether all are still out by the bell, and which groups have
    /// to change; as many of the others as can be found keep their times.
    #[command(after_help = today::HELP)]
    Today(today::TodayArgs),
    /// Say how often such a class is out by the bell.
    ///
    /// Plays the plan many times with other minutes than planned: how often all
    /// are out, and each group; what makes it late; at which moments looking
    /// pays.
    #[command(after_help = odds::HELP)]
    Odds(odds::OddsArgs),
    /// Go through the lesson minute by minute, before it is taught.
    ///
    /// What is called and by when each job of the adults begins, in the order of
    /// time, and when ovens are on and nobody is free to watch them. With --at:
    /// one minute in full.
    #[command(after_help = rehearse::HELP)]
    Rehearse(rehearse::RehearseArgs),
    /// Print sheets: the running order and the oven sheet, and more if asked.
    ///
    /// Plans the lesson, or takes a kept plan, and writes a PDF of pages for the
    /// wall, for pupils, for the technician and for the teacher. Parts that need
    /// no plan are printed even if there is none.
    #[command(after_help = sheets::HELP)]
    Sheets(sheets::SheetsArgs),
    /// Put lessons, oven calls and jobs into a calendar.
    ///
    /// Writes an iCalendar file: each lesson, what goes into which oven when, what
    /// is to be done before the bell, and when ovens go on, with an alarm.
    #[command(after_help = calendar::HELP)]
    Calendar(calendar::CalendarArgs),
    /// Say what a lesson really took, and what that teaches.
    ///
    /// Reads what was told in a copy for the day against its plan, asks three
    /// things none of which has to be answered, and notes minutes for the next
    /// lesson of the class.
    #[command(after_help = afterwards::HELP)]
    Afterwards(afterwards::AfterwardsArgs),
    /// Say what to buy for lessons, and what its labels say.
    ///
    /// Every ingredient once, for all groups and spare sets, in whole packs where
    /// the lesson tells what one holds; by supplier. Needs of groups stand against
    /// the labels that were read.
    #[command(after_help = order::HELP)]
    Order(order::OrderArgs),
    /// Note what a bake really took.
    ///
    /// Adds it to your own table of bakes. Where a recipe states no minutes
    /// for a tin, later plans go by what its bakes really took.
    #[command(after_help = took::HELP)]
    Took(took::TookArgs),
    /// Convert a kitchen measure: gas marks, °C, °F and fan settings; cups,
    /// spoons, weights, volumes and lengths; eggs.
    ///
    /// Gives the figure a kitchen uses and the exact one beside it, and says
    /// where sources differ.
    #[command(after_help = convert::HELP)]
    Convert(convert::ConvertArgs),
    /// Work out how long another tin bakes, from the recipe's own.
    ///
    /// The physics of heat, set right by the minutes the recipe states for its
    /// own tin, gives the minutes in another, and how sure they are: "check
    /// from" and "at latest" hold four of five bakes between them.
    #[command(after_help = tins::HELP)]
    Tins(tins::TinsArgs),
    /// Read a recipe from elsewhere: JSON-LD, or a saved web page.
    ///
    /// Reads schema.org's Recipe, in which web pages and other programs tell
    /// recipes, and writes it as a recipe to put into a lesson. Whatever is
    /// unsure is marked for review, with why; nothing is guessed unsaid.
    #[command(after_help = recipe_in::HELP)]
    RecipeIn(recipe_in::RecipeInArgs),
    /// Write a recipe for other programs, as JSON-LD.
    ///
    /// Writes schema.org's Recipe. What it has no words for stands in a property
    /// of ovenbell's own, so that read again it is the same recipe.
    #[command(after_help = recipe_out::HELP)]
    RecipeOut(recipe_out::RecipeOutArgs),
    /// Say what a recipe holds: energy, fat, carbohydrate and so on.
    ///
    /// Adds up the foods of a recipe by the UK table of the composition of foods,
    /// for a batch, for 100 g and for a portion, with what is lost in the oven.
    /// What the table has not is said to be missing.
    #[command(after_help = nutrition::HELP)]
    Nutrition(nutrition::NutritionArgs),
    /// Say where the lessons of a week want the same thing.
    ///
    /// Plans every lesson of a department's week as if it were alone, adds up
    /// what they want of ovens, of kit and tins that go from room to room and of
    /// the technician, and says what is wanted beyond what is there, who is in
    /// it, and the least moves that clear it.
    #[command(after_help = week::HELP)]
    Week(week::WeekArgs),
    /// Begin the file of a week from lessons.
    ///
    /// Puts lessons into a new file of a department's week: each on its day, between
    /// its bells, in its room. What clashes is told; `week` says what all of it comes to.
    #[command(after_help = begin_week::HELP)]
    BeginWeek(begin_week::BeginWeekArgs),
    /// Print the planning problem of a lesson for other solvers.
    ///
    /// Whole-minute tasks, links, counted things, ovens and choices as one
    /// JSON object, complete enough to find the best plan without knowing
    /// anything of baking.
    #[command(after_help = problem::HELP)]
    Problem(problem::ProblemArgs),
}

fn size(text: &str) -> Result<(f32, f32), String> {
    let part = |t: &str| t.parse::<f32>().ok().filter(|n| (100.0..=10_000.0).contains(n));
    text.split_once('x')
        .and_then(|(w, h)| Some((part(w)?, part(h)?)))
        .ok_or_else(|| "a size reads like 1280x800".to_owned())
}

/// What the arguments ask for.
#[derive(Debug)]
pub enum Invocation {
    /// A command, which has been carried out.
    Done(ExitCode),
    /// The window.
    Window(Window),
}

/// Reads the arguments of the process and carries out their command, unless
/// they ask for the window.
pub fn run() -> Invocation {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => match no_command::in_its_place(&error) {
            Some(why) => return refused(&why),
            None => error.exit(),
        },
    };
    let lesson = cli.window.lesson.as_deref().filter(|_| cli.command.is_none());
    if let Some(why) = lesson.and_then(no_command::instead_of_lesson) {
        return refused(&why);
    }
    say::speak(cli.english.unwrap_or_default());
    let status = match cli.command {
        None => return Invocation::Window(Window { english: cli.english, ..cli.window }),
        Some(Command::Plan(args)) => plan::run(&args),
        Some(Command::Why(args)) => why::run(&args),
        Some(Command::Check(args)) => check::run(&args),
        Some(Command::Changes(args)) => changes::run(&args),
        Some(Command::Today(args)) => today::run(&args),
        Some(Command::Odds(args)) => odds::run(&args),
        Some(Command::Calendar(args)) => calendar::run(&args),
        Some(Command::Order(args)) => order::run(&args),
        Some(Command::Afterwards(args)) => afterwards::run(&args),
        Some(Command::Rehearse(args)) => rehearse::run(&args),
        Some(Command::Sheets(args)) => sheets::run(&args),
        Some(Command::Took(args)) => took::run(&args),
        Some(Command::Convert(args)) => convert::run(&args),
        Some(Command::Tins(args)) => tins::run(&args),
        Some(Command::Nutrition(args)) => nutrition::run(&args),
        Some(Command::RecipeIn(args)) => recipe_in::run(&args),
        Some(Command::RecipeOut(args)) => recipe_out::run(&args),
        Some(Command::Week(args)) => week::run(&args),
        Some(Command::BeginWeek(args)) => begin_week::run(&args),
        Some(Command::Problem(args)) => problem::run(&args),
    };
    let status = if terminal::is_lost() { NOT_WRITTEN } else { status };
    Invocation::Done(ExitCode::from(status))
}

fn refused(why: &str) -> Invocation {
    wrong(why);
    Invocation::Done(ExitCode::from(CANNOT_READ))
}

/// Plans the lesson or the week meant for the window in the terminal instead, where
/// there can be no window.
pub fn without_window(window: &Window) -> ExitCode {
    let file = window.lesson.as_deref();
    let of_week = file.and_then(week::instead_of_window);
    let status = of_week.unwrap_or_else(|| plan::instead_of_window(file));
    ExitCode::from(if terminal::is_lost() { NOT_WRITTEN } else { status })
}

/// The bakes noted so far: in that file, or else in the user's own. What makes
/// no sense in it is told and left aside.
fn past_bakes(outcomes: Option<&Path>) -> Vec<PastBake> {
    let Some(path) = outcomes.map(Path::to_path_buf).or_else(data_folders::outcomes_file) else {
        return Vec::new();
    };
    let (past, findings) = load_outcomes(&path);
    complain(&path, &findings);
    past
}

/// A lesson file with the bakes noted so far, what is doubtful in it told; or
/// the exit status once it is told what is wrong.
fn load(lesson: &Path, outcomes: Option<&Path>) -> Result<(Loaded, Vec<PastBake>), u8> {
    let past = past_bakes(outcomes);
    match load_lesson_knowing(lesson, &past) {
        Ok(loaded) => {
            say::keep(&loaded.file);
            complain(lesson, &loaded.warnings);
            Ok((loaded, past))
        }
        Err(findings) => {
            complain(lesson, &findings);
            Err(CANNOT_READ)
        }
    }
}

/// Prints an answer that was put together as JSON.
///
/// # Errors
/// The exit status, once it is told that it could not be.
fn print_json(answer: Result<String, impl std::fmt::Display>) -> Result<(), u8> {
    let answer = answer.map_err(|fault| {
        wrong(&format!("a fault of ovenbell's: {fault}"));
        OUR_FAULT
    })?;
    print(&answer);
    Ok(())
}

/// So many findings or breaches are told, no more: a screenful.
const SCREENFUL: usize = 20;

/// Tells of findings in their order; where they are too many, of errors first.
fn complain(of: &Path, findings: &[Finding]) {
    let mut told: Vec<&Finding> = findings.iter().collect();
    if told.len() > SCREENFUL {
        told.sort_by_key(|f| f.severity != crate::finding::Severity::Error);
        told.truncate(SCREENFUL);
    }
    for finding in told {
        let space = if finding.place.is_some() { "" } else { " " };
        wrong(&format!("{}:{space}{}", of.display(), say::of_finding(finding)));
    }
    if let Some(more) = more_than_told(findings.len()) {
        wrong(&format!("{}: {more}", of.display()));
    }
}

/// How many of so many things are not told.
fn more_than_told(all: usize) -> Option<String> {
    match all.saturating_sub(SCREENFUL) {
        0 => None,
        1 => Some("and one more".to_owned()),
        more => Some(format!("and {more} more")),
    }
}

fn findings_json(findings: &[Finding]) -> String {
    format!("{:#}", serde_json::json!({ "findings": as_json(findings) }))
}

/// Findings one by one.
fn as_json(findings: &[Finding]) -> Vec<serde_json::Value> {
    findings
        .iter()
        .map(|f| {
            serde_json::json!({
                "severity": if f.severity == crate::finding::Severity::Error { "error" } else { "warning" },
                "code": f.code,
                "path": f.path.to_string(),
                "line": f.place.map(|p| p.line),
                "column": f.place.map(|p| p.column),
                "message": f.message,
                "hint": f.hint,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A reader that gives another type than its option has is found out only where it is used.
    #[test]
    fn every_number_is_read_as_its_option_has_it() {
        for words in [
            "--text 120 --size 1280x800 a.ron",
            "plan a.ron --within 1.5 --decodings 5 --seed 3",
            "why a.ron --within 1 --decodings 5 --seed 3",
            "changes a.ron --most 3 --within 1 --decodings 5",
            "odds a.ron --runs 200 --seed 3 --at -5 --decodings 5",
            "order a.ron --demo 1 --spare 2 --within 1 --decodings 5 --seed 3",
            "sheets a.ron --pdf a.pdf --demo 1 --spare 2 --seed 3",
            "week a.ron --within 1 --decodings 5",
            "today a.ron --late 5 --at 10:20",
            "took a.ron --recipe scones --tin sheet --minutes 14.5 --celsius 180",
            "nutrition a.ron --portions 12 --loss 10",
            "convert 180C --to F --density 0.85",
            "tins --celsius 180 --own round:20cm --own-ml 900 --own-minutes 30 --tin rect:33x23cm \
             --ml 900 --height 5cm",
        ] {
            let words = std::iter::once("ovenbell").chain(words.split_whitespace());
            let read = Cli::try_parse_from(words.clone());
            read.unwrap_or_else(|e| panic!("{}: {e}", words.collect::<Vec<_>>().join(" ")));
        }
    }
}
