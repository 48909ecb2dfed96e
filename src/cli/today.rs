//! `ovenbell today`: what happens on the day, and who has to change.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use clap::Args;

use super::kept::{self, Kind};
use super::numbers::whole;
use super::plan::{milliseconds, why_none};
use super::say::{said, tell as print_words};
use super::shared_args::{GoBy, Noted, Search};
use super::tell;
use super::told::plan_gone_by;
use super::{
    CANNOT_READ, DOES_NOT_FIT, SCREENFUL, WELL, complain, load, more_than_told, print_json, wrong,
};
use crate::check::{CheckedPlan, Verdict, check};
use crate::deadline::Deadline;
use crate::edit::FileChange;
use crate::export::today::{Day, json, text};
use crate::file::format::{LessonFile, PointerShape};
use crate::file::plain_words::{Doing, why};
use crate::file::told::write_told;
use crate::file::{
    Access, Backup, Disk, LARGEST_FILE, Loaded, RealDisk, lesson_of_shapes, load_plan, merged,
    write_new,
};
use crate::finding::Finding;
use crate::model::{Lesson, PastBake};
use crate::today::{
    BakesTold, Happening, NO_COPY, NoReplan, Replanned, Standing, happens, happens_during,
    may_happen_during, presumed, replan, replan_begun, start_of_day,
};
use crate::units::ClockTime;

pub(super) const HELP: &str = "Examples:
  ovenbell today my-lesson.ron --absent \"Unit 3\"
  ovenbell today my-lesson.ron --oven-out \"Oven 2\" --late 5 --save today.ron --save-plan day-plan.ron
  ovenbell today today.ron --joined \"Unit 4+Unit 3\" --at 10:12 --plan day-plan.ron
  ovenbell today today.ron --tell \"Unit 3=in\" --at 10:27
  ovenbell today my-lesson.ron --reserve \"Unit 3=shoreline shortbread\" --json

Once groups are at work (--at), what has begun by the plan is presumed to go on as told:
tins in ovens, tins in use and loads called within two minutes stay where they are.
Several may be given, and each several times; they are taken in the order of
this list: ovens, late start, absent, forgotten, reserve, joined, adults away. A file kept
with --save is a lesson like any other, to go on with; the plan is kept with it.
What groups were told is the plan kept with the lesson, or --plan. So many plans as --decodings
says are built for the lesson and for the day each. That no fewer groups could have to change is
not proved.

--tell says what is so of a group (go, in, out, ready, late 4), as often as there is something
to tell. It is written into the copy at once and answered with how the lesson stands: what was
told, what is presumed by the plan, who is behind, and what becomes of them if nothing is done.

Exit status: 0 all are out by the bell; 1 some are not; 2 a file cannot be
read, or something given cannot happen.";

#[derive(Debug, Args)]
pub(super) struct TodayArgs {
    /// The lesson file (RON).
    pub(super) lesson: PathBuf,
    /// An oven is out of order.
    #[arg(long, value_name = "OVEN")]
    oven_out: Vec<String>,
    /// An oven works again.
    #[arg(long, value_name = "OVEN")]
    oven_works: Vec<String>,
    /// The lesson starts so many minutes late.
    #[arg(long, value_name = "MINUTES", value_parser = whole("minutes", (1, Some(479)), 5), allow_negative_numbers = true)]
    late: Option<i32>,
    /// The period that starts late, if it is not the first.
    #[arg(long, value_name = "PERIOD", requires = "late")]
    late_period: Option<String>,
    /// A pupil of this group is absent; once for each pupil.
    #[arg(long, value_name = "GROUP")]
    absent: Vec<String>,
    /// This group's ingredients were forgotten or dropped.
    #[arg(long, value_name = "GROUP")]
    forgotten: Vec<String>,
    /// This adult is called away, by the name of the post: from --at on once a group
    /// has begun by then, else for the whole lesson.
    #[arg(long, value_name = "ADULT")]
    adult_away: Vec<String>,
    /// The group makes this recipe instead, of the lesson or of the library.
    #[arg(long, value_name = "GROUP=RECIPE", value_parser = pair('='))]
    reserve: Vec<(String, String)>,
    /// The first group's pupils join the second.
    #[arg(long, value_name = "GROUP+GROUP", value_parser = pair('+'))]
    joined: Vec<(String, String)>,
    /// Groups that join may give up a recipe of their own.
    #[arg(long)]
    other_recipe: bool,
    /// When it happened, as "10:12". Once a group has begun by the plan, that is
    /// presumed to go on: what is under way is not planned again.
    #[arg(long, value_name = "TIME", value_parser = clock_time)]
    pub(super) at: Option<ClockTime>,
    /// What is so of a group, in a copy for the day: go, in, out, ready, or late
    /// and minutes. It is written into the copy at once.
    #[arg(
        long, value_name = "GROUP=FACT", value_parser = pair('='),
        conflicts_with_all = [
            "oven_out", "oven_works", "late", "absent", "forgotten", "reserve", "joined",
            "adult_away", "save", "save_plan",
        ],
    )]
    pub(super) tell: Vec<(String, String)>,
    /// Keep the lesson of the day with its plan in this file (RON).
    #[arg(long, value_name = "FILE")]
    save: Option<PathBuf>,
    #[command(flatten)]
    pub(super) go_by: GoBy,
    /// Keep the plan of the day in this file (RON), for the next --plan.
    #[arg(long, value_name = "PLAN")]
    save_plan: Option<PathBuf>,
    /// Print the answer as JSON.
    #[arg(long)]
    pub(super) json: bool,
    #[command(flatten)]
    pub(super) search: Search,
    #[command(flatten)]
    pub(super) noted: Noted,
}

fn pair(between: char) -> impl Fn(&str) -> Result<(String, String), String> + Clone {
    move |text| {
        let named = |(a, b): (&str, &str)| (a.trim().to_owned(), b.trim().to_owned());
        text.split_once(between)
            .map(named)
            .filter(|(a, b)| !a.is_empty() && !b.is_empty())
            .ok_or_else(|| format!("two names with {between} between them are wanted"))
    }
}

pub(super) fn clock_time(text: &str) -> Result<ClockTime, String> {
    ClockTime::parse(text).map_err(|e| e.to_string())
}

impl TodayArgs {
    fn happenings(&self) -> Vec<Happening> {
        let mut all: Vec<Happening> = Vec::new();
        all.extend(self.oven_works.iter().cloned().map(|oven| Happening::OvenWorks { oven }));
        all.extend(self.oven_out.iter().cloned().map(|oven| Happening::OvenOut { oven }));
        let period = || self.late_period.clone();
        all.extend(self.late.map(|minutes| Happening::LateStart { minutes, period: period() }));
        all.extend(self.absent.iter().cloned().map(|group| Happening::Absent { group }));
        all.extend(self.forgotten.iter().cloned().map(|group| Happening::Forgotten { group }));
        let reserve = |(group, recipe)| Happening::Reserve { group, recipe };
        all.extend(self.reserve.iter().cloned().map(reserve));
        let other_recipe = self.other_recipe;
        let joined = |(group, with)| Happening::Joined { group, with, other_recipe };
        all.extend(self.joined.iter().cloned().map(joined));
        all.extend(self.adult_away.iter().cloned().map(|adult| Happening::AdultAway { adult }));
        all
    }
}

/// Of the time, the part for the plan before, where none is given.
const FOR_PLAN_BEFORE: f64 = 0.3;

/// Plans a lesson for the day.
pub(super) fn run(args: &TodayArgs) -> u8 {
    if !args.tell.is_empty() {
        return tell::run(args);
    }
    let deadline = args.search.deadline();
    if let Err(status) = may_keep(args) {
        return status;
    }
    let (loaded, past) = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok(loaded) => loaded,
        Err(status) => return status,
    };
    // What cannot happen is refused before planning, which may take long.
    if let Err(status) = file_of_day(args, &loaded.file, args.at.is_some(), &past) {
        return status;
    }
    match planned(args, &loaded, (&past, &deadline)) {
        Ok(status) | Err(status) => status,
    }
}

/// Asked before planning, which may take long, and again before writing.
fn may_keep(args: &TodayArgs) -> Result<(), u8> {
    let read = [Some(&*args.lesson), args.noted.outcomes.as_deref(), args.go_by.plan.as_deref()];
    let to = [(args.save.as_deref(), Kind::Day), (args.save_plan.as_deref(), Kind::Plan)];
    kept::may_keep(&to, &read)
}

/// The lesson's file once everything has happened.
fn file_of_day(
    args: &TodayArgs,
    file: &LessonFile,
    during: bool,
    past: &[PastBake],
) -> Result<LessonFile, u8> {
    let mut day = start_of_day(file);
    if let Some(today) = day.today.as_mut().filter(|_| file.today.is_none()) {
        today.of = PointerShape::to(&args.lesson, None, file.id.clone());
    }
    for happening in args.happenings() {
        day = match args.at.filter(|_| during) {
            Some(at) => happens_during(&day, &happening, at, past),
            None => happens(&day, &happening, args.at, past),
        }
        .map_err(|finding| refused(&happening.label(), &finding))?;
    }
    Ok(day)
}

/// Says why something cannot happen; the exit status that goes with it.
pub(super) fn refused(what: &str, finding: &Finding) -> u8 {
    wrong(&format!("{}: {}", said(what), said(&finding.message)));
    if finding.code == NO_COPY {
        wrong("    `ovenbell today LESSON --save COPY` begins one");
    } else if !finding.hint.is_empty() {
        wrong(&format!("    {}", said(&finding.hint)));
    }
    CANNOT_READ
}

fn planned(
    args: &TodayArgs,
    loaded: &Loaded,
    (past, deadline): (&[PastBake], &Deadline),
) -> Result<u8, u8> {
    let budget = args.search.budget(deadline.part_of_left(FOR_PLAN_BEFORE));
    let before = match &args.go_by.plan {
        Some(path) => kept_plan(path, &loaded.lesson)?,
        None => {
            let how = (args.go_by.anew.anew, args.json);
            plan_gone_by(&args.lesson, loaded, how, &budget, deadline)?
        }
    };
    let told = (&loaded.lesson, &before);
    let presumed = args.at.and_then(|at| Some((at, presumed(told, at)?)));
    let slips = match (presumed, &loaded.lesson.today) {
        (Some((_, by)), Some(today)) => Standing::of(told.0, told.1, &today.facts, by).slips,
        _ => Vec::new(),
    };
    let file = match presumed {
        Some((at, _)) => {
            may_happen_during(told, &slips, &args.happenings(), at)
                .map_err(|finding| refused(&args.lesson.display().to_string(), &finding))?;
            let day = file_of_day(args, &loaded.file, true, past)?;
            let bakes = BakesTold { told, slips: &slips };
            bakes.made(&day).map_err(|f| refused(&bakes.label(), &f))?
        }
        None => file_of_day(args, &loaded.file, false, past)?,
    };
    let begun = std::time::Instant::now();
    let mut first: Option<Duration> = None;
    let each = |_: &Replanned| {
        first.get_or_insert_with(|| begun.elapsed());
    };
    let (budget, stop) = (args.search.budget(deadline.left()), deadline.stop());
    let after = match presumed {
        Some((_, by)) => {
            lesson_of_shapes(&file, past).map_err(NoReplan::NoLesson).and_then(|lesson| {
                let (lesson, begun) = (Arc::new(lesson), (by, slips.as_slice()));
                replan_begun(told, &lesson, begun, &budget, stop, each)
            })
        }
        None => replan(told, &file, past, &budget, stop, each),
    };
    let after = after.map_err(|error| no_plan(&args.lesson, error))?;
    may_keep(args)?;
    if let Some(path) = &args.save {
        let told = Some(write_told(&after.lesson, after.plan.plan()));
        save(path, &args.lesson, LessonFile { told, ..file.clone() })?;
    }
    if let Some(path) = &args.save_plan {
        let kept = super::plan::save(path, &after.lesson, &after.plan);
        kept.map_err(|error| not_kept(path, &why(&error, Doing::Writing(path))))?;
    }
    let day = Day {
        before: told,
        presumed: presumed.map(|(at, _)| at),
        after: (&after.lesson, &after.plan),
        kept: after.kept,
        first_ms: milliseconds(first.unwrap_or_default()),
        elapsed_ms: milliseconds(begun.elapsed()),
    };
    if args.json {
        print_json(json(&day))?;
    } else {
        print_words(&text(&day));
    }
    Ok(match after.plan.verdict() {
        Verdict::Fits | Verdict::Tight | Verdict::LeftOut => WELL,
        _ => DOES_NOT_FIT,
    })
}

fn no_plan(path: &Path, error: NoReplan) -> u8 {
    match error {
        NoReplan::NoLesson(findings) => {
            complain(path, &findings);
            CANNOT_READ
        }
        NoReplan::NothingStays => {
            wrong(&format!("{}: {}", path.display(), said(&error.to_string())));
            CANNOT_READ
        }
        NoReplan::NoPlan(error) => why_none(path, &error),
    }
}

/// A plan of the lesson as it was kept, judged again.
pub(super) fn kept_plan(path: &Path, lesson: &Lesson) -> Result<CheckedPlan, u8> {
    let plan = load_plan(path, lesson).map_err(|findings| {
        complain(path, &findings);
        CANNOT_READ
    })?;
    check(lesson, plan).map_err(|breaches| {
        for breach in breaches.iter().take(SCREENFUL) {
            wrong(&format!("{}: {}", path.display(), said(&breach.told(lesson).to_string())));
        }
        if let Some(more) = more_than_told(breaches.len()) {
            wrong(&format!("{}: {more}", path.display()));
        }
        CANNOT_READ
    })
}

/// Keeps the lesson of the day, with the comments of the lesson's own file. The
/// lesson's file is not written, though it may have no id to be pointed to by.
fn save(path: &Path, lesson: &Path, mut file: LessonFile) -> Result<(), u8> {
    let (from, to) = (lesson.parent().unwrap_or(Path::new("")), path.parent());
    if let Some(of) = file.today.as_mut().and_then(|today| today.of.as_mut()) {
        *of = of.moved(from, to);
    }
    // Without the text it was read from it is laid out anew.
    let text = RealDisk.read(&RealDisk.resolved(lesson), LARGEST_FILE).unwrap_or_default();
    let text =
        merged(&String::from_utf8_lossy(&text), &file).map_err(|error| not_kept(path, &error))?;
    let saved = write_new(path, text.as_bytes(), Backup::Keep, Access::As(lesson));
    saved.map_err(|error| not_kept(path, &why(&error, Doing::Writing(path))))
}

fn not_kept(path: &Path, error: &dyn std::fmt::Display) -> u8 {
    wrong(&format!("{}: it could not be kept: {error}", path.display()));
    CANNOT_READ
}
