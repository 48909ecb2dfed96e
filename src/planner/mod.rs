//! Looks for plans. Knows nothing of how they are judged: it is handed a
//! judge, and trusts no plan of its own before that has accepted it.

mod adults_wished;
mod beside;
pub mod bounds;
mod class_starts;
mod construct;
pub mod exact;
pub mod explain;
mod follow;
mod genome;
mod ideal_score;
mod improve;
mod kit_book;
mod lasting;
mod objective;
mod occupy_adults;
mod oven_book;
mod place_task;
mod prover;
mod reasons;
mod reasons_anew;
mod shelf_by_shelf;
mod spot_memory;
mod stand_tins;
mod timeline;
mod trial;
mod vary;
mod wish;
mod write_out;

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use thiserror::Error;

use crate::graph::expand;
use crate::model::{GroupId, Lesson};
use crate::plan::{Bounds, Plan};
pub use beside::Beside;
use bounds::Bounder;
use class_starts::class_starts;
use exact::lesson::{Known, Seed};
use improve::LateAcceptance;
use objective::Score;
use prover::{Desk, Proof};
pub use reasons_anew::{told_anew, told_beside};
pub use trial::{Trial, serve_all};

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
pub struct BestPlan<C> {
    /// The plan as judged.
    pub judged: C,
    /// When what was it.
    pub times: PlanningTimes,
    /// Plans built.
    pub decodings: u64,
}

/// How long it took from the start of planning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PlanningTimes {
    /// To the first judged plan.
    pub first_plan: Duration,
    /// To the first judged plan that is as good as the best on the aims that can be proved.
    pub best_plan: Duration,
    /// Until it was proved that none is better on them, if that was.
    pub proved: Option<Duration>,
    /// In all.
    pub elapsed: Duration,
}

/// How many steps of the search between looks at the clock.
const LOOK_EVERY: u64 = 32;

/// Better plans are shown as they come, though not more often than an eye
/// could follow.
const SHOW_EVERY: Duration = Duration::from_millis(20);

/// Plans built without a better one, at the least, after which the search has done
/// enough once the aims that can be proved are: only the lesser ones could still be
/// better. It looks for them for a quarter of its budget in any case.
const SETTLED: u64 = 5_000;

/// Steps of the search that follow on plans of the solver, beyond its budget.
const FOLLOWED_BY: u64 = 200;

/// Conflicts of the solver, for each question, for each plan the search may
/// build, where no time is given.
const CONFLICTS_A_DECODING: u64 = 1;

/// Looks for the best plan of a lesson until the budget is spent and no more
/// can be proved, nothing better is possible, or `stop` is set (heeded within
/// a few decodings). Hands every plan that is better than all before, or of
/// which more is proved, to `judge`, and what that made of it to `each`.
///
/// With a number of decodings and no time the answer is the same in every
/// run: plans come from the search alone, and proofs are of the last plan and
/// limited by conflicts.
///
/// # Errors
/// If the judge refuses a plan, or a step of the class finds no place.
pub fn plan_lesson<C>(
    lesson: &Lesson,
    budget: &Budget,
    stop: &AtomicBool,
    judge: impl Fn(Plan) -> Result<C, String>,
    mut each: impl FnMut(&C),
) -> Result<BestPlan<C>, PlanError> {
    let each = |plan: &C| {
        each(plan);
        ControlFlow::Continue(())
    };
    run((lesson, &[]), budget, stop, (judge, each), true)
}

/// As [`plan_lesson`], but ends as soon as `each` breaks, and proves no more
/// than pencil and paper do.
///
/// # Errors
/// As [`plan_lesson`].
pub fn plan_until<C>(
    lesson: &Lesson,
    budget: &Budget,
    stop: &AtomicBool,
    judge: impl Fn(Plan) -> Result<C, String>,
    each: impl FnMut(&C) -> ControlFlow<()>,
) -> Result<BestPlan<C>, PlanError> {
    plan_serving((lesson, &[]), budget, stop, judge, each)
}

/// As [`plan_until`], but of any two plans the one that serves more of `must`
/// is better, whatever else they come to.
///
/// # Errors
/// As [`plan_lesson`].
pub fn plan_serving<C>(
    (lesson, before_all): (&Lesson, &[GroupId]),
    budget: &Budget,
    stop: &AtomicBool,
    judge: impl Fn(Plan) -> Result<C, String>,
    each: impl FnMut(&C) -> ControlFlow<()>,
) -> Result<BestPlan<C>, PlanError> {
    run((lesson, before_all), budget, stop, (judge, each), false)
}

fn run<C>(
    (lesson, before_all): (&Lesson, &[GroupId]),
    budget: &Budget,
    stop: &AtomicBool,
    (judge, each): (impl Fn(Plan) -> Result<C, String>, impl FnMut(&C) -> ControlFlow<()>),
    prove: bool,
) -> Result<BestPlan<C>, PlanError> {
    let begun = Instant::now();
    let mut problem = expand(lesson);
    problem.groups.iter_mut().for_each(|g| g.before_all = before_all.contains(&g.group));
    let problem = problem;
    let bounder = Bounder { lesson, problem: &problem };
    let bounds = bounder.planned();
    let floats = class_starts(&problem).map_err(|step| {
        let step = problem.floating[step].step;
        PlanError::ClassStep(lesson.class_steps[step.0].name.clone())
    })?;
    let search = LateAcceptance::new(&problem, budget.seed, floats, stop);
    let desk = Desk::new(bounds, budget.within.is_some());
    let until = budget.within.and_then(|within| begun.checked_add(within));
    let conflicts = match (budget.within, budget.decodings) {
        (None, Some(decodings)) => Some(decodings.saturating_mul(CONFLICTS_A_DECODING)),
        _ => None,
    };
    thread::scope(|scope| {
        if prove {
            scope.spawn(|| desk.work(lesson, &problem, until, conflicts));
        }
        let ideal = ideal_score::ideal(&problem);
        let planning =
            Planning { bounder, budget, stop, bounds, ideal, desk: &desk, prove, begun, search };
        let found = planning.run(judge, each);
        desk.close();
        found
    })
}

/// One lesson being planned.
struct Planning<'a> {
    bounder: Bounder<'a>,
    budget: &'a Budget,
    stop: &'a AtomicBool,
    /// Bounds proved by pencil and paper.
    bounds: Bounds,
    /// A score that no plan beats on any aim.
    ideal: Option<Score>,
    desk: &'a Desk,
    /// Whether a prover works at the desk.
    prove: bool,
    begun: Instant,
    search: LateAcceptance<'a>,
}

impl Planning<'_> {
    fn run<C>(
        mut self,
        judge: impl Fn(Plan) -> Result<C, String>,
        mut each: impl FnMut(&C) -> ControlFlow<()>,
    ) -> Result<BestPlan<C>, PlanError> {
        let paper = self.desk.proved().0;
        let mut judged = judge(self.written(&paper)).map_err(PlanError::Fault)?;
        let first_plan = self.begun.elapsed();
        let mut times = PlanningTimes { first_plan, best_plan: first_plan, ..Default::default() };
        let mut enough = each(&judged).is_break();
        let mut shown = (self.search.best.1, paper);
        let mut last_shown = first_plan;
        self.lay_down();
        let mut laid_down = aims(self.search.best.1);
        loop {
            let searched = self.searched();
            let (proof, proved) = self.desk.proved();
            if enough || self.is_over() {
                break;
            }
            if self.is_settled() {
                if is_proved(self.search.best.1, self.groups(), proof.bounds) {
                    break;
                }
                // Without a time the answer must not hang on when a proof came.
                if self.budget.within.is_none() && !proved {
                    self.desk.wait(Duration::from_millis(10));
                    continue;
                }
            }
            // Without a time the answer must not hang on when a plan was found.
            let may_follow = self.budget.within.is_some() || searched && proved;
            let followed = may_follow && self.follow();
            if aims(self.search.best.1) < laid_down {
                self.lay_down();
                laid_down = aims(self.search.best.1);
            }
            if searched && proved && !followed {
                break;
            }
            if searched && !followed {
                self.desk.wait(Duration::from_millis(10));
            }
            for _ in 0..LOOK_EVERY {
                if self.searched() || self.is_over() {
                    break;
                }
                if self.search.step() && aims(self.search.best.1) < laid_down {
                    self.lay_down();
                    laid_down = aims(self.search.best.1);
                }
                if self.just_settled() {
                    break;
                }
            }
            let now = (self.search.best.1, proof);
            let elapsed = self.begun.elapsed();
            // At first as they come: a program may be waiting for the first
            // plan that serves everyone.
            let pause = SHOW_EVERY.min(elapsed / 4);
            if now != shown && laid_down == aims(now.0) && elapsed - last_shown > pause {
                judged = judge(self.written(&now.1)).map_err(PlanError::Fault)?;
                enough = each(&judged).is_break();
                self.note(&mut times, shown.0, &now);
                shown = now;
                last_shown = self.begun.elapsed();
            }
        }
        let proof = self.desk.proved().0;
        let last = (self.search.best.1, proof);
        // Once time is up nothing is done twice.
        if last != shown || !self.is_over() {
            judged = judge(self.written(&last.1)).map_err(PlanError::Fault)?;
        }
        if last != shown {
            // The last: whether it is enough no longer matters.
            let _ = each(&judged);
        }
        self.note(&mut times, shown.0, &last);
        times.elapsed = self.begun.elapsed();
        Ok(BestPlan { judged, times, decodings: self.search.decodings })
    }

    /// Notes when a plan was better than the one shown before, or was proved to be the best.
    fn note(&self, times: &mut PlanningTimes, before: Score, (score, proof): &(Score, Proof)) {
        let now = self.begun.elapsed();
        if aims(*score) < aims(before) {
            (times.best_plan, times.proved) = (now, None);
        }
        if is_proved(*score, self.groups(), proof.bounds) {
            times.proved.get_or_insert(now);
        }
    }

    /// Whether it was told to stop, or time is up.
    fn is_over(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
            || self.budget.within.is_some_and(|within| self.begun.elapsed() >= within)
    }

    /// Plans without a better one after which it counts as settled.
    fn settled_after(&self) -> u64 {
        SETTLED.max(self.budget.decodings.unwrap_or(0) / 4)
    }

    /// Whether no better plan has come for long.
    fn is_settled(&self) -> bool {
        self.prove
            && self.search.since_better() >= self.settled_after()
            && self.budget.within.is_none_or(|within| self.begun.elapsed() >= within / 4)
    }

    /// Whether it has been so for this plan and no longer.
    fn just_settled(&self) -> bool {
        self.prove && self.search.since_better() == self.settled_after()
    }

    fn groups(&self) -> u32 {
        u32::try_from(self.bounder.problem.groups.len()).unwrap_or(u32::MAX)
    }

    /// Whether the search has nothing left to do.
    fn searched(&self) -> bool {
        self.budget.decodings.is_some_and(|most| self.search.decodings >= most)
            || ideal_score::is_best(self.ideal, self.bounds, self.search.best.1)
    }

    /// Goes on from what the solver has found; `false` if that was nothing.
    fn follow(&mut self) -> bool {
        let found = self.desk.found();
        for plan in &found {
            self.search.follow(plan);
            for _ in 0..FOLLOWED_BY {
                if self.is_over()
                    || ideal_score::is_best(self.ideal, self.bounds, self.search.best.1)
                {
                    break;
                }
                self.search.step();
            }
        }
        !found.is_empty()
    }

    fn lay_down(&mut self) {
        if !self.prove {
            return;
        }
        let (score, groups) = (self.search.best.1, self.groups());
        let built = self.search.build_best();
        let seed = built
            .schedule
            .iter()
            .map(|s| {
                let ovens = || s.standing.iter().map(|t| t.oven).collect();
                let seed = |option| Seed { option, starts: s.starts.clone(), ovens: ovens() };
                s.option.map(seed)
            })
            .collect();
        let known = Known {
            served: groups - score.not_served,
            departures: score.departures,
            shortfall: score.shortfall,
            seed,
        };
        self.desk.lay_down(known, self.bounds);
    }

    fn written(&mut self, proof: &Proof) -> Plan {
        let whole = !self.search.is_cut_short();
        let built = self.search.build_best();
        let mut plan = write_out::write_out(self.bounder.problem, built);
        let not_served = write_out::not_served(built);
        plan.not_served = reasons::reasons(self.bounder, &not_served, whole, proof);
        plan.bounds = Some(proof.bounds);
        plan
    }
}

/// Whether no plan can be better on the aims that are proved.
fn is_proved(score: Score, groups: u32, bounds: Bounds) -> bool {
    let Bounds { served_at_most, departures_at_least, shortfall_at_least } = bounds;
    groups - score.not_served >= served_at_most
        && score.departures <= departures_at_least
        && score.shortfall <= shortfall_at_least
}

/// The aims that are proved.
fn aims(score: Score) -> (u32, u64, i32) {
    (score.not_served, score.departures, score.shortfall)
}
