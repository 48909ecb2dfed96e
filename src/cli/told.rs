//! The plan that is kept with a lesson: what a command goes by instead of looking
//! for another, and where `plan --keep` keeps one.

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use super::kept::{self, Kind};
use super::plan::{planned_only, why_none};
use super::say::{said, tell};
use super::shared_args::{GoBy, Search};
use super::{CANNOT_READ, complain, wrong};
use crate::check::{CheckedPlan, check, judge_of};
use crate::deadline::Deadline;
use crate::file::format::LessonFile;
use crate::file::plain_words::{Doing, why};
use crate::file::told::{Told, write_told};
use crate::file::{
    Access, Backup, Disk, LARGEST_FILE, Loaded, RealDisk, merged, read_lesson_shapes, write_new,
};
use crate::keep::{NoLonger, told};
use crate::model::Lesson;
use crate::planner::{BestPlan, Budget, PlanError, PlanningTimes, plan_lesson, told_beside};
use crate::today::{NoReplan, replan_read};

/// What a command goes by.
pub(super) enum KeptPlan {
    /// The plan kept with the lesson.
    Holds(CheckedPlan),
    /// What is left of it: a lesson without some groups, and its plan.
    Rest(Box<Lesson>, CheckedPlan),
}

/// The plan kept with a lesson, if there is one and the best is not asked for
/// anew; that it is gone by, or no longer holds, is told.
pub(super) fn kept_plan(path: &Path, loaded: &Loaded, anew: bool, json: bool) -> Option<KeptPlan> {
    let kept = loaded.told.as_ref().filter(|_| !anew)?;
    match told(&loaded.lesson, kept) {
        Ok(plan) => {
            let words = "This goes by the plan kept with the lesson; --anew looks for the best.";
            if json {
                wrong(words)
            } else {
                tell(words)
            }
            Some(KeptPlan::Holds(plan))
        }
        Err(gone) => {
            let NoLonger { findings, rest } = *gone;
            complain(path, &findings);
            let words =
                "the plan kept with the lesson no longer holds; the lesson is planned again";
            wrong(&format!("{}: {}", path.display(), said(words)));
            rest.map(|(lesson, plan)| KeptPlan::Rest(Box::new(lesson), plan))
        }
    }
}

/// Says that what is told now may differ from what is told next time.
pub(super) fn no_plan_is_kept(path: &Path) {
    let words = "no plan is kept with this lesson, so another command may find another one; `ovenbell \
                 plan LESSON --keep` keeps one for all of them";
    wrong(&format!("{}: {}", path.display(), said(words)));
}

/// The plan a command that is about something else goes by: the one kept with
/// the lesson, else the best that is found.
///
/// # Errors
/// The exit status, once it is told why there is none.
pub(super) fn plan_gone_by(
    path: &Path,
    loaded: &Loaded,
    (anew, json): (bool, bool),
    budget: &Budget,
    deadline: &Deadline,
) -> Result<CheckedPlan, u8> {
    match kept_plan(path, loaded, anew, json) {
        Some(kept) => plan_to_go_by(kept, &loaded.lesson, budget, deadline)
            .map_err(|error| why_none(path, &error)),
        None => Ok(planned_only(path, &loaded.lesson, budget, deadline)?.judged),
    }
}

/// The plan that is asked for: one in a file, the one kept with the lesson, or the
/// best; after so many decodings, told as JSON or not.
pub(super) fn plan_asked_for(
    path: &Path,
    loaded: &Loaded,
    go_by: &GoBy,
    (decodings, json): (Option<u64>, bool),
) -> Result<CheckedPlan, u8> {
    if let Some(plan) = &go_by.plan {
        return super::today::kept_plan(plan, &loaded.lesson);
    }
    if loaded.told.is_none() {
        no_plan_is_kept(path);
    }
    let search = Search { decodings, ..Search::default() };
    let budget =
        Budget { decodings: decodings.or(Budget::default().decodings), ..search.budget(None) };
    plan_gone_by(path, loaded, (go_by.anew.anew, json), &budget, &search.deadline())
}

/// The plan that is kept, or one around what is left of it.
fn plan_to_go_by(
    kept: KeptPlan,
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<CheckedPlan, PlanError> {
    match kept {
        KeptPlan::Holds(plan) => Ok(plan),
        KeptPlan::Rest(of, plan) => around((&of, &plan), lesson, budget, deadline),
    }
}

/// A plan of a lesson that keeps what is left of one.
fn around(
    rest: (&Lesson, &CheckedPlan),
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<CheckedPlan, PlanError> {
    let lesson = Arc::new(lesson.clone());
    match replan_read(rest, &lesson, budget, deadline.stop(), |_| {}) {
        Ok(found) => Ok(found.plan),
        Err(NoReplan::NoPlan(error)) => Err(error),
        Err(none) => Err(PlanError::Fault(none.to_string())),
    }
}

/// The kept plan as `plan` answers with it: what is not served is told with what
/// can be proved of it.
///
/// # Errors
/// If there is no plan at all.
pub(super) fn planned(
    kept: KeptPlan,
    lesson: &Lesson,
    budget: &Budget,
    deadline: &Deadline,
) -> Result<BestPlan<CheckedPlan>, PlanError> {
    let begun = Instant::now();
    let plan = plan_to_go_by(kept, lesson, budget, deadline)?;
    let first = begun.elapsed();
    let times = || PlanningTimes {
        first_plan: first,
        best_plan: first,
        proved: None,
        elapsed: begun.elapsed(),
    };
    if plan.plan().choices.len() == lesson.attending().count() {
        return Ok(BestPlan { judged: plan, times: times(), decodings: 0 });
    }
    let found = plan_lesson(lesson, budget, deadline.stop(), judge_of(lesson), |_| {})?;
    let told = told_beside(lesson, plan.plan().clone(), found.judged.plan());
    let judged = check(lesson, told).unwrap_or(plan);
    Ok(BestPlan { judged, times: times(), decodings: found.decodings })
}

/// Says so if a plan may not be kept with a lesson.
///
/// # Errors
/// The exit status that goes with it.
pub(super) fn may_keep_with(path: &Path) -> Result<(), u8> {
    kept::in_the_way(path, Kind::Lesson).map_or(Ok(()), |why| Err(not_kept(path, &why)))
}

/// Keeps a plan with its lesson, in the file that was read as `loaded`.
///
/// # Errors
/// The exit status, once the reason is told; the file is then as it was.
pub(super) fn keep_with(path: &Path, loaded: &Loaded, plan: &CheckedPlan) -> Result<(), u8> {
    may_keep_with(path)?;
    let resolved = RealDisk.resolved(path);
    let bytes = RealDisk
        .read(&resolved, LARGEST_FILE)
        .map_err(|error| not_kept(path, &why(&error, Doing::Reading(&resolved))))?;
    let text = String::from_utf8_lossy(&bytes);
    let is_as_read = read_lesson_shapes(&text).is_ok_and(|mut file| {
        let _ = Told::taken_from(&mut file, &text);
        file == loaded.file
    });
    if !is_as_read {
        return Err(not_kept(path, &"the lesson was changed while it was planned"));
    }
    let told = Some(write_told(&loaded.lesson, plan.plan()));
    let file = LessonFile { told, ..loaded.file.clone() };
    let text = merged(&text, &file).map_err(|error| not_kept(path, &error))?;
    write_new(path, text.as_bytes(), Backup::Keep, Access::AsBefore)
        .map_err(|error| not_kept(path, &why(&error, Doing::Writing(path))))
}

fn not_kept(path: &Path, why: &dyn std::fmt::Display) -> u8 {
    let why = said(&why.to_string());
    wrong(&format!("{}: the plan could not be kept with the lesson: {why}", path.display()));
    CANNOT_READ
}
