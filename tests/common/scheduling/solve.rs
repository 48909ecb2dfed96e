//! The search for the earliest finish of a [`Scheduling`], and its proof.

use std::panic::{AssertUnwindSafe, catch_unwind};

use pumpkin_constraints as constraints;
use pumpkin_core::predicate;
use pumpkin_core::variables::DomainId;
use pumpkin_propagators::disjunctive::ArgDisjunctiveTask;

use super::bound::{apart, least_finish, sharpen};
use super::problem::{Schedule, Scheduling};
use ovenbell::graph::closure::{Closure, NONE};
use ovenbell::planner::exact::{Engine, Limits, SearchEnd};

/// What is asked for.
#[derive(Debug, Clone, Default)]
pub struct ScheduleWanted {
    /// It is known that nothing ends earlier.
    pub at_least: Option<i32>,
    /// Only what ends by then is wanted.
    pub at_most: Option<i32>,
    /// Starts to begin from. If they keep the rules, they are the best so far;
    /// if not, a hint.
    pub seed: Option<Vec<i32>>,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing ends earlier: proved.
    Optimal(Schedule),
    /// The best found, and what is proved: nothing ends before `at_least`.
    Feasible {
        /// The best found.
        best: Schedule,
        /// Proved least finish.
        at_least: i32,
    },
    /// Nothing keeps all the rules (and ends by `at_most`): proved.
    Infeasible,
    /// Nothing found before the limits.
    Unknown {
        /// Proved least finish.
        at_least: i32,
    },
}

/// Where a search stands. Kept outside what may fail, so that nothing found or
/// proved is lost.
struct Progress {
    best: Option<Schedule>,
    at_least: i32,
    refuted: bool,
}

/// Looks for the schedule that ends first, until that is proved or a limit is
/// reached. A fault of the solver counts as a limit reached.
pub fn solve(problem: &Scheduling, asked: &ScheduleWanted, limits: Limits<'_>) -> Outcome {
    let mut standing =
        Progress { best: None, at_least: asked.at_least.unwrap_or(0).max(0), refuted: false };
    let work = AssertUnwindSafe(|| run(problem, asked, limits, &mut standing));
    let _ = catch_unwind(work);
    let at_least = standing.at_least;
    match standing.best {
        Some(best) if standing.refuted || best.finish <= at_least => Outcome::Optimal(best),
        Some(best) => Outcome::Feasible { best, at_least },
        None if standing.refuted => Outcome::Infeasible,
        None => Outcome::Unknown { at_least },
    }
}

fn run(problem: &Scheduling, asked: &ScheduleWanted, limits: Limits<'_>, standing: &mut Progress) {
    let too_much = |r: &super::Resource| {
        r.demands.iter().any(|&(a, d)| d > r.capacity && problem.activities[a].minutes > 0)
    };
    if problem.resources.iter().any(too_much) {
        standing.refuted = true;
        return;
    }
    let most = asked.at_most.unwrap_or(i32::MAX).min(problem.horizon());
    if let Some(seed) = &asked.seed
        && problem.keeps(seed)
        && problem.finish(seed) <= most
    {
        standing.best = Some(Schedule { starts: seed.clone(), finish: problem.finish(seed) });
    }
    let apart = apart(problem);
    let Some(least) = least_finish(problem, &apart, standing.at_least, most) else {
        standing.refuted = true;
        return;
    };
    standing.at_least = standing.at_least.max(least);
    let wanted = standing.best.as_ref().map_or(most, |b| b.finish - 1);
    if wanted < standing.at_least {
        standing.refuted = true;
        return;
    }
    let mut closure = problem.closure(wanted);
    if !sharpen(problem, &apart, &mut closure) {
        standing.refuted = true;
        return;
    }
    let mut model = Model::new(problem, &apart, &closure, (standing.at_least, wanted));
    if let Some(seed) = &asked.seed {
        model.wish(seed);
    }
    model.descend(problem, limits, standing);
}

struct Model {
    engine: Engine,
    starts: Vec<DomainId>,
    finish: DomainId,
}

impl Model {
    fn new(
        problem: &Scheduling,
        apart: &[(usize, usize)],
        closure: &Closure,
        finish: (i32, i32),
    ) -> Self {
        let mut engine = Engine::new();
        let n = problem.activities.len();
        let starts: Vec<DomainId> =
            (0..n).map(|i| engine.variable(closure.earliest(i), closure.latest(i))).collect();
        let end = engine.variable(finish.0, finish.1);
        let mut branch_on = starts.clone();
        branch_on.push(end);
        engine.branch_on(branch_on);
        let mut model = Self { engine, starts, finish: end };
        model.lags(problem, closure);
        model.resources(problem);
        model.pairs(problem, apart, closure);
        model
    }

    fn lags(&mut self, problem: &Scheduling, closure: &Closure) {
        let n = problem.activities.len();
        let minutes = |i: usize| problem.activities[i].minutes;
        for i in 0..n {
            let mut followed = false;
            for j in (0..n).filter(|&j| j != i) {
                let least = closure.least(i, j);
                followed |= least >= minutes(i);
                if least > NONE && !implied(closure, n, (i, j)) {
                    self.engine.lag(self.starts[i], self.starts[j], least);
                }
            }
            if !followed {
                self.engine.lag(self.starts[i], self.finish, minutes(i));
            }
        }
    }

    fn resources(&mut self, problem: &Scheduling) {
        for resource in &problem.resources {
            let used: Vec<(usize, i32)> = resource
                .demands
                .iter()
                .copied()
                .filter(|&(a, takes)| takes > 0 && problem.activities[a].minutes > 0)
                .collect();
            let total: i64 = used.iter().map(|&(_, takes)| i64::from(takes)).sum();
            if total <= i64::from(resource.capacity) {
                continue;
            }
            let starts: Vec<DomainId> = used.iter().map(|&(a, _)| self.starts[a]).collect();
            let minutes: Vec<i32> =
                used.iter().map(|&(a, _)| problem.activities[a].minutes).collect();
            let takes: Vec<i32> = used.iter().map(|u| u.1).collect();
            // With the default explanations: others have refuted what has a
            // solution.
            self.engine.post(|tag| {
                constraints::cumulative(starts, minutes, takes, resource.capacity, tag)
            });
        }
    }

    /// Pairs that must not overlap, in sets all of whose pairs must not: the
    /// solver finds edges among those. A set whose order is known says nothing.
    fn pairs(&mut self, problem: &Scheduling, apart: &[(usize, usize)], closure: &Closure) {
        let ordered = |a: usize, b: usize| {
            closure.least(a, b) >= problem.activities[a].minutes
                || closure.least(b, a) >= problem.activities[b].minutes
        };
        for clique in cliques(problem.activities.len(), apart) {
            let settled = |(i, &a): (usize, &usize)| clique[..i].iter().all(|&b| ordered(a, b));
            if clique.iter().enumerate().all(settled) {
                continue;
            }
            let tasks: Vec<ArgDisjunctiveTask<DomainId>> = clique
                .iter()
                .map(|&a| ArgDisjunctiveTask {
                    start_time: self.starts[a],
                    processing_time: problem.activities[a].minutes,
                })
                .collect();
            self.engine.post(|tag| constraints::disjunctive_strict(tasks, tag));
        }
    }

    fn wish(&mut self, starts: &[i32]) {
        for (&variable, &start) in self.starts.iter().zip(starts) {
            self.engine.wish(variable, start);
        }
    }

    /// Earlier and earlier finishes until there is none.
    fn descend(&mut self, problem: &Scheduling, limits: Limits<'_>, standing: &mut Progress) {
        loop {
            match self.engine.search(limits) {
                SearchEnd::Refuted => {
                    standing.refuted = true;
                    return;
                }
                SearchEnd::Stopped => return,
                SearchEnd::Solved => {
                    let starts: Vec<i32> =
                        self.starts.iter().map(|&s| self.engine.value(s)).collect();
                    if !problem.keeps(&starts) {
                        return;
                    }
                    let finish = problem.finish(&starts);
                    standing.best = Some(Schedule { starts, finish });
                    if finish <= standing.at_least {
                        return;
                    }
                    let end = self.finish;
                    self.engine.clause([predicate![end <= finish - 1]]);
                }
            }
        }
    }
}

/// Whether a lag follows from two others of the closure.
fn implied(closure: &Closure, n: usize, (i, j): (usize, usize)) -> bool {
    let least = closure.least(i, j);
    if closure.earliest(j) - closure.latest(i) >= least {
        return true;
    }
    (0..n).any(|k| {
        let (first, second) = (closure.least(i, k), closure.least(k, j));
        k != i && k != j && first > NONE && second > NONE && first + second >= least
            // Of two ways round a cycle of no slack, keep one.
            && (first + closure.least(k, i) < 0 || k < i)
            && (second + closure.least(j, k) < 0 || k < j)
    })
}

/// Sets all of whose pairs are apart, so that every pair is in one of them:
/// grown greedily from each pair not yet covered.
fn cliques(n: usize, apart: &[(usize, usize)]) -> Vec<Vec<usize>> {
    let mut is_apart = vec![false; n * n];
    for &(a, b) in apart {
        is_apart[a * n + b] = true;
        is_apart[b * n + a] = true;
    }
    let degree = |i: usize| (0..n).filter(|&j| is_apart[i * n + j]).count();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(degree(i)));
    let mut covered = vec![false; n * n];
    let mut cliques = Vec::new();
    for &(a, b) in apart {
        if covered[a * n + b] {
            continue;
        }
        let mut clique = vec![a, b];
        for &c in &order {
            if !clique.contains(&c) && clique.iter().all(|&m| is_apart[m * n + c]) {
                clique.push(c);
            }
        }
        for &x in &clique {
            for &y in &clique {
                covered[x * n + y] = true;
            }
        }
        cliques.push(clique);
    }
    cliques
}
