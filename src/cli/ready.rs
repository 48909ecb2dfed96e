//! Lessons that are read and planned: what sheets and orders are of.

use std::path::{Path, PathBuf};

use super::given::{AllGiven, Effort, Given, InWeek, for_lessons, given};
use super::plan::{best_plan, why_none};
use super::shared_args::{GoBy, Search};
use super::today::kept_plan;
use super::{CANNOT_READ, told, wrong};
use crate::check::CheckedPlan;
use crate::file::Loaded;
use crate::model::Lesson;
use crate::planner::PlanError;
use crate::view::technicians_day::SetOut;
use crate::week::Week;

/// A lesson that is read and planned.
pub(super) struct Ready {
    /// What was given.
    pub given: Given,
    /// The plan to go by.
    pub plan: Option<CheckedPlan>,
    /// Why there is none.
    pub no_plan: String,
    /// When it is set out, if it is of a week.
    pub set_out: Option<SetOut>,
}

impl Ready {
    pub fn lesson(&self) -> &Lesson {
        &self.given.loaded.lesson
    }
}

/// How the plan of each lesson is come by.
#[derive(Clone, Copy)]
pub(super) struct Way<'a> {
    /// The plan that is gone by.
    pub go_by: &'a GoBy,
    /// How long another is looked for.
    pub search: &'a Search,
    /// That a kept plan is gone by is told beside what is printed, not in it.
    pub is_quiet: bool,
}

/// All lessons that a command is given, planned.
pub(super) struct AllReady {
    /// The lessons.
    pub lessons: Vec<Ready>,
    /// The weeks, in the order in which they are given.
    pub weeks: Vec<Week>,
    /// No lesson of a week had to be left aside.
    pub is_whole: bool,
}

/// Reads and plans lessons, and weeks with all their lessons.
///
/// # Errors
/// The exit status, once it is told what is wrong.
pub(super) fn all_ready(
    paths: &[PathBuf],
    outcomes: Option<&Path>,
    way: Way<'_>,
) -> Result<AllReady, u8> {
    let effort = Effort { decodings: way.search.decodings, within: way.search.within };
    let AllGiven { lessons, weeks, is_whole } = given(paths, outcomes, Some(&effort))?;
    if (lessons.len() > 1 || lessons[0].key.is_some()) && way.go_by.plan.is_some() {
        wrong("a plan is of one lesson: give that lesson alone, or leave --plan out");
        return Err(CANNOT_READ);
    }
    let lessons = lessons.into_iter().map(|given| ready(way, given));
    let mut lessons: Vec<Ready> = lessons.collect::<Result<_, u8>>()?;
    set_out(&mut lessons, &weeks);
    Ok(AllReady { lessons, weeks, is_whole })
}

impl AllReady {
    /// The week that all of them are of, if it is one.
    pub fn week(&self) -> Option<&Week> {
        let all_of_it = self.lessons.iter().all(|of| of.given.entry.is_some());
        self.weeks.first().filter(|_| self.weeks.len() == 1 && all_of_it)
    }
}

fn ready(way: Way<'_>, given: Given) -> Result<Ready, u8> {
    let (plan, no_plan) = match given.in_week(way.go_by.anew.anew) {
        InWeek::Own => plan(way, &given.path, &given.loaded)?,
        InWeek::Plan(plan) => (Some(*plan), String::new()),
        InWeek::NoTime => (None, "time was up before it was planned".to_owned()),
    };
    Ok(Ready { given, plan, no_plan, set_out: None })
}

/// Notes when lessons are set out, those of a week beside each other.
fn set_out(lessons: &mut [Ready], weeks: &[Week]) {
    let planned = lessons.iter().filter_map(|of| Some((&of.given, of.plan.as_ref()?)));
    let found = for_lessons(&planned.collect::<Vec<_>>(), weeks).into_iter();
    let found: Vec<Option<SetOut>> = found.map(|of| of.set_out).collect();
    let of_plan = lessons.iter_mut().filter(|of| of.plan.is_some());
    of_plan.zip(found).for_each(|(of, found)| of.set_out = found);
}

/// The plan to go by, or why there is none.
fn plan(way: Way<'_>, path: &Path, loaded: &Loaded) -> Result<(Option<CheckedPlan>, String), u8> {
    let lesson = &loaded.lesson;
    if let Some(kept) = &way.go_by.plan {
        return Ok((Some(kept_plan(kept, lesson)?), String::new()));
    }
    let deadline = way.search.deadline();
    let budget = way.search.budget(way.search.within);
    if loaded.told.is_none() {
        told::no_plan_is_kept(path);
    }
    let found = match told::kept_plan(path, loaded, way.go_by.anew.anew, way.is_quiet) {
        Some(kept) => told::planned(kept, lesson, &budget, &deadline),
        None => best_plan(lesson, &budget, &deadline),
    };
    match found {
        Ok(best) => Ok((Some(best.judged), String::new())),
        Err(error @ PlanError::ClassStep(_)) => Ok((None, error.to_string())),
        Err(fault) => Err(why_none(path, &fault)),
    }
}
