//! Looks for plans. Knows nothing of how they are judged: it is handed a
//! judge, and trusts no plan of its own before that has accepted it.

pub mod bounds;
mod class_starts;
mod construct;
pub mod exact;
mod genome;
mod improve;
mod kit_book;
mod objective;
mod oven_book;
mod place;
mod reasons;
mod timeline;
mod write_out;

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use thiserror::Error;

use crate::graph::{Problem, expand};
use crate::model::Lesson;
use crate::plan::{Bounds, Plan};
use bounds::Bounder;
use class_starts::class_starts;
use improve::Search;
use objective::Score;

/// When to stop looking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Budget {
    /// After so long, if given.
    pub within: Option<Duration>,
    /// After so many plans built, if given.
    pub decodings: Option<u64>,
    /// Where chance begins. The same seed and number of decodings give the
    /// same plan.
    pub seed: u64,
}

impl Default for Budget {
    /// Twenty thousand decodings: more than lessons of the usual size need.
    fn default() -> Self {
        Self { within: None, decodings: Some(20_000), seed: 1 }
    }
}

/// Why there is no plan at all, not even one that serves nobody.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PlanError {
    /// The judge refused a plan: a fault of the planner, never of the lesson.
    #[error("the planner made a plan that breaks a rule: {0}")]
    Fault(String),
    /// A step of the class finds no place within its window, beside the
    /// class's other steps and with its adults there.
    #[error(
        "the class's own step \"{0}\" finds no place in its window, beside the other steps of the class and with its adults there"
    )]
    ClassStep(String),
}

/// The best plan found, as judged.
#[derive(Debug, Clone)]
pub struct Found<C> {
    /// What the judge made of it.
    pub judged: C,
    /// Time to the first judged plan.
    pub first_plan: Duration,
    /// Time in all.
    pub elapsed: Duration,
    /// Plans built.
    pub decodings: u64,
}

/// How many steps of the search between looks at the clock.
const LOOK_EVERY: u64 = 32;

/// Looks for the best plan of a lesson until the budget is spent, nothing
/// better is possible, or `stop` is set (heeded within a few decodings).
/// Hands every plan that is better than all before to `judge`, and what that
/// made of it to `each`.
///
/// # Errors
/// If the judge refuses a plan, or a step of the class finds no place.
pub fn plan_lesson<C>(
    lesson: &Lesson,
    budget: &Budget,
    stop: &AtomicBool,
    judge: impl Fn(Plan) -> Result<C, String>,
    mut each: impl FnMut(&C),
) -> Result<Found<C>, PlanError> {
    let begun = Instant::now();
    let problem = expand(lesson);
    let bounder = Bounder { lesson, problem: &problem };
    let bounds = bounder.planned();
    let floats = class_starts(&problem).map_err(|step| {
        let step = problem.floating[step].step;
        PlanError::ClassStep(lesson.class_steps[step.0].name.clone())
    })?;
    let mut search = Search::new(&problem, budget.seed, floats);
    let mut judged = judge(written(bounder, &mut search, bounds)).map_err(PlanError::Fault)?;
    let first_plan = begun.elapsed();
    each(&judged);
    let mut shown = search.best.1;
    let mut last_judged = begun.elapsed();
    let done = |search: &Search<'_>, elapsed: Duration| {
        stop.load(Ordering::Relaxed)
            || budget.within.is_some_and(|within| elapsed >= within)
            || budget.decodings.is_some_and(|most| search.decodings >= most)
            || best_possible(&problem, bounds, search.best.1)
    };
    loop {
        let elapsed = begun.elapsed();
        if done(&search, elapsed) {
            break;
        }
        for _ in 0..LOOK_EVERY {
            if budget.decodings.is_some_and(|most| search.decodings >= most) {
                break;
            }
            search.step();
        }
        // Better plans are shown as they come, though not more often than an
        // eye could follow.
        if search.best.1 < shown && begun.elapsed() - last_judged > Duration::from_millis(20) {
            judged = judge(written(bounder, &mut search, bounds)).map_err(PlanError::Fault)?;
            each(&judged);
            shown = search.best.1;
            last_judged = begun.elapsed();
        }
    }
    judged = judge(written(bounder, &mut search, bounds)).map_err(PlanError::Fault)?;
    if search.best.1 < shown {
        each(&judged);
    }
    Ok(Found { judged, first_plan, elapsed: begun.elapsed(), decodings: search.decodings })
}

fn written(bounder: Bounder<'_>, search: &mut Search<'_>, bounds: Bounds) -> Plan {
    let tries = search.decodings;
    let built = search.build_best();
    let mut plan = write_out::write_out(bounder.problem, built);
    plan.not_served = reasons::reasons(bounder, &write_out::not_served(built), tries);
    plan.bounds = Some(bounds);
    plan
}

/// Whether no further search can find better: every aim is at its bound. One
/// oven call is the least for any lesson that bakes, and the ready times are
/// at their least when the first plan served all groups one by one, which
/// only the search can tell; so it goes on unless there is nothing to serve.
fn best_possible(problem: &Problem, bounds: Bounds, score: Score) -> bool {
    let groups = u32::try_from(problem.groups.len()).unwrap_or(u32::MAX);
    bounds.served_at_most == 0 && score.not_served == groups
}
