//! The command line.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use clap::{Args, Parser, Subcommand};

use crate::check::{Breach, CheckedPlan, Verdict, check};
use crate::export::{json, text};
use crate::file::{self, Backup};
use crate::finding::Finding;
use crate::model::Lesson;
use crate::plan::Plan;
use crate::planner::{Budget, PlanError, plan_lesson};

/// The lesson shown when none is named.
const DEMO: &str = include_str!("../lessons/demo.ron");

/// All is well.
const WELL: u8 = 0;
/// Something does not fit, or a rule is broken.
const DOES_NOT_FIT: u8 = 1;
/// A file cannot be read, or the command makes no sense.
const CANNOT_READ: u8 = 2;
/// A fault of the program.
const OUR_FAULT: u8 = 3;

/// Fits a class's baking practical into a school period.
///
/// Give it a lesson file: the room with its ovens, the period between two
/// bells, the recipes and their tins, the groups. It plans every group's
/// mixing, baking, cooling and washing up, checks the plan, and says which
/// groups are out by the bell, which are not, and why. Without a command it
/// opens a window with the lesson, or with the demo lesson.
#[derive(Debug, Parser)]
#[command(version, after_help = EXIT_STATUS, args_conflicts_with_subcommands = true)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    window: Window,
}

/// What the window is to open with.
#[derive(Debug, Clone, PartialEq, Args)]
pub struct Window {
    /// The lesson file (RON) to open in the window.
    pub lesson: Option<PathBuf>,
    /// Size of the window in points.
    #[arg(long, value_name = "WIDTHxHEIGHT", value_parser = size)]
    pub size: Option<(f32, f32)>,
    /// Light or dark, whatever it was last time.
    #[arg(long, value_name = "THEME", value_parser = ["light", "dark"])]
    pub theme: Option<String>,
    /// Size of text in hundredths, whatever it was last time.
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(80..=200))]
    pub text: Option<u32>,
    /// Neither read nor keep looks and recent files.
    #[arg(long)]
    pub forget: bool,
}

const EXIT_STATUS: &str = "Exit status: 0 all is well; 1 something does not fit, or a rule is \
broken; 2 a file cannot be read, or the command makes no sense; 3 a fault of the program.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Plan a lesson and say who is out by the bell.
    ///
    /// Prints the outcome in a sentence, a line for each group, and the ovens
    /// shelf by shelf. Plans are judged by a checker of their own before
    /// anything is said.
    #[command(after_help = PLAN_HELP)]
    Plan(PlanArgs),
    /// Check a lesson file, or a kept plan against its lesson.
    ///
    /// Without --plan: says what is wrong with the lesson file and where.
    /// With --plan: says which rules the plan breaks, by name.
    #[command(after_help = CHECK_HELP)]
    Check(CheckArgs),
}

const PLAN_HELP: &str = "Examples:
  ovenbell plan lessons/demo.ron
  ovenbell plan my-lesson.ron --within 10 --save my-plan.ron
  ovenbell plan my-lesson.ron --json --decodings 50000 --seed 7

The same seed and number of decodings give the same plan.";

const CHECK_HELP: &str = "Examples:
  ovenbell check my-lesson.ron
  ovenbell check my-lesson.ron --plan my-plan.ron";

#[derive(Debug, Args)]
struct PlanArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// Look for better plans for so many seconds at most.
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    within: Option<Duration>,
    /// Stop after building so many plans [default: 20000, or no limit with
    /// --within].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    decodings: Option<u64>,
    /// Where chance begins.
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Keep the plan in this file (RON).
    #[arg(long, value_name = "PLAN")]
    save: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct CheckArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// A plan kept by `plan --save`.
    #[arg(long, value_name = "PLAN")]
    plan: Option<PathBuf>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

fn seconds(text: &str) -> Result<Duration, String> {
    text.parse::<f64>()
        .ok()
        .and_then(|s| Duration::try_from_secs_f64(s).ok())
        .ok_or_else(|| "seconds are a number of 0 or more, such as 2.5".to_owned())
}

fn size(text: &str) -> Result<(f32, f32), String> {
    let part = |t: &str| t.parse::<f32>().ok().filter(|n| (100.0..=10_000.0).contains(n));
    text.split_once('x')
        .and_then(|(w, h)| Some((part(w)?, part(h)?)))
        .ok_or_else(|| "a size reads like 1280x800".to_owned())
}

/// What the arguments ask for.
#[derive(Debug)]
pub enum Asked {
    /// A command, which has been carried out.
    Done(ExitCode),
    /// The window.
    Window(Window),
}

/// Reads the arguments of the process and carries out their command, unless
/// they ask for the window.
pub fn run() -> Asked {
    let cli = Cli::parse();
    let status = match cli.command {
        None => return Asked::Window(cli.window),
        Some(Command::Plan(args)) => plan(&args),
        Some(Command::Check(args)) => check_files(&args),
    };
    Asked::Done(ExitCode::from(status))
}

/// Plans the lesson meant for the window in the terminal instead, where there
/// can be no window.
pub fn without_window(window: &Window) -> ExitCode {
    let args = PlanArgs {
        lesson: window.lesson.clone().unwrap_or_else(|| PathBuf::from("demo lesson")),
        json: false,
        within: None,
        decodings: None,
        seed: 1,
        save: None,
    };
    ExitCode::from(if window.lesson.is_some() { plan(&args) } else { plan_demo(&args) })
}

fn print(text: &str) {
    use std::io::Write;
    // A closed pipe is the reader's choice, not an error.
    let _ = writeln!(std::io::stdout().lock(), "{}", text.trim_end_matches('\n'));
}

fn complain(of: &Path, findings: &[Finding]) {
    for finding in findings {
        eprintln!("{}:{finding}", of.display());
    }
}

fn plan_demo(args: &PlanArgs) -> u8 {
    match file::read_lesson(DEMO) {
        Ok(loaded) => plan_loaded(&loaded.lesson, args, Instant::now()),
        Err(findings) => {
            complain(&args.lesson, &findings);
            OUR_FAULT
        }
    }
}

fn plan(args: &PlanArgs) -> u8 {
    match file::load_lesson(&args.lesson) {
        Ok(loaded) => {
            complain(&args.lesson, &loaded.warnings);
            plan_loaded(&loaded.lesson, args, Instant::now())
        }
        Err(findings) => {
            complain(&args.lesson, &findings);
            CANNOT_READ
        }
    }
}

fn plan_loaded(lesson: &Lesson, args: &PlanArgs, read: Instant) -> u8 {
    let decodings = match (args.decodings, args.within) {
        (None, None) => Budget::default().decodings,
        (given, _) => given,
    };
    let budget = Budget { within: args.within, decodings, seed: args.seed };
    let judge = |plan: Plan| {
        check(lesson, plan).map_err(|breaches| {
            breaches.iter().map(Breach::to_string).collect::<Vec<_>>().join("; ")
        })
    };
    let before = read.elapsed();
    let found = match plan_lesson(lesson, &budget, &AtomicBool::new(false), judge, |_| {}) {
        Ok(found) => found,
        Err(error @ PlanError::Fault(_)) => {
            eprintln!("a fault of ovenbell's, not of the lesson: {error}");
            return OUR_FAULT;
        }
        Err(error @ PlanError::ClassStep(_)) => {
            eprintln!("{}: {error}", args.lesson.display());
            eprintln!("    widen its window, or move, shorten or leave out what is beside it");
            return CANNOT_READ;
        }
    };
    if let Some(path) = &args.save
        && let Err(error) = save(path, lesson, &found.judged)
    {
        eprintln!("{}: the plan could not be kept: {error}", path.display());
        return CANNOT_READ;
    }
    if args.json {
        let timing = json::Timing {
            first_plan_ms: milliseconds(before + found.first_plan),
            elapsed_ms: milliseconds(read.elapsed()),
            decodings: found.decodings,
        };
        match json::answer(lesson, &found.judged, timing) {
            Ok(answer) => print(&answer),
            Err(fault) => {
                eprintln!("a fault of ovenbell's: {fault}");
                return OUR_FAULT;
            }
        }
    } else {
        print(&text::answer(lesson, &found.judged));
    }
    match found.judged.verdict() {
        Verdict::Fits | Verdict::Tight | Verdict::LeftOut => WELL,
        _ => DOES_NOT_FIT,
    }
}

fn milliseconds(time: Duration) -> f64 {
    (time.as_secs_f64() * 1e6).round() / 1e3
}

fn save(path: &Path, lesson: &Lesson, plan: &CheckedPlan) -> std::io::Result<()> {
    let text = file::write_plan(lesson, plan.plan());
    file::write_atomically(path, text.as_bytes(), Backup::Keep)
}

fn check_files(args: &CheckArgs) -> u8 {
    let loaded = match file::load_lesson(&args.lesson) {
        Ok(loaded) => loaded,
        Err(findings) => return report_findings(args, &args.lesson, &findings),
    };
    let Some(path) = &args.plan else {
        if args.json {
            print(&findings_json(&loaded.warnings));
        } else {
            complain(&args.lesson, &loaded.warnings);
            print("The lesson can be planned.");
        }
        return WELL;
    };
    let plan = match file::load_plan(path, &loaded.lesson) {
        Ok(plan) => plan,
        Err(findings) => return report_findings(args, path, &findings),
    };
    let breaches = check(&loaded.lesson, plan).err().unwrap_or_default();
    if args.json {
        print(&breaches_json(&loaded.lesson, &breaches));
    } else if breaches.is_empty() {
        print("The plan keeps every rule.");
    } else {
        for breach in &breaches {
            print(&breach.to_string());
        }
    }
    if breaches.is_empty() { WELL } else { DOES_NOT_FIT }
}

fn report_findings(args: &CheckArgs, of: &Path, findings: &[Finding]) -> u8 {
    if args.json {
        print(&findings_json(findings));
    } else {
        complain(of, findings);
    }
    CANNOT_READ
}

fn findings_json(findings: &[Finding]) -> String {
    let all: Vec<serde_json::Value> = findings
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
        .collect();
    format!("{:#}", serde_json::json!({ "findings": all }))
}

fn breaches_json(lesson: &Lesson, breaches: &[Breach]) -> String {
    let all: Vec<serde_json::Value> = breaches
        .iter()
        .map(|b| {
            serde_json::json!({
                "rule": b.rule.name(),
                "group": b.group.and_then(|g| lesson.groups.get(g.0)).map(|g| g.name.clone()),
                "minute": b.minute.map(crate::units::Minute::get),
                "message": b.message,
            })
        })
        .collect();
    format!("{:#}", serde_json::json!({ "ok": breaches.is_empty(), "breaches": all }))
}
