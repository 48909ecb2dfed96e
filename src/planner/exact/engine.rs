//! The solver as the models use it: variables, clauses, constraints, and a
//! search that stops when told.

use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use pumpkin_conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_constraints as constraints;
use pumpkin_core::Solver;
use pumpkin_core::constraints::Constraint;
use pumpkin_core::options::{
    LearningOptions, RestartOptions, SequenceGeneratorType, SolverOptions,
};
use pumpkin_core::predicates::Predicate;
use pumpkin_core::proof::ConstraintTag;
use pumpkin_core::results::{ProblemSolution, SatisfactionResult};
use pumpkin_core::termination::TerminationCondition;
use pumpkin_core::variables::{DomainId, Literal, TransformableVariable};

use super::guide::{Guide, Tally};

/// When to give up.
#[derive(Debug, Clone, Copy, Default)]
pub struct Limits<'a> {
    /// When this is set, if given.
    pub stop: Option<&'a AtomicBool>,
    /// At this time, if given.
    pub until: Option<Instant>,
    /// After so many conflicts, if given. The only limit that is the same in
    /// every run.
    pub conflicts: Option<u64>,
}

impl Limits<'_> {
    /// Whether the flag is set.
    fn is_stopped(&self) -> bool {
        self.stop.is_some_and(|stop| stop.load(Ordering::Relaxed))
    }

    /// Whether time is up or the flag set.
    pub fn over(&self) -> bool {
        self.is_stopped() || self.until.is_some_and(|until| Instant::now() >= until)
    }
}

/// What a search came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SearchEnd {
    /// A solution; ask [`Engine::value`].
    Solved,
    /// There is none.
    Refuted,
    /// A limit was reached.
    Stopped,
}

/// How many decisions and conflicts pass between looks at the clock.
const LOOK_EVERY: u32 = 16;

struct Watch<'a> {
    limits: Limits<'a>,
    tally: Rc<Tally>,
    until_look: u32,
}

impl TerminationCondition for Watch<'_> {
    fn should_stop(&mut self) -> bool {
        // A solver that was stopped before its first decision cannot go on later.
        if !self.tally.decided.get() {
            return false;
        }
        let spent = self.limits.conflicts.is_some_and(|most| self.tally.conflicts.get() >= most);
        if spent || self.limits.is_stopped() {
            return true;
        }
        if self.until_look > 0 {
            self.until_look -= 1;
            return false;
        }
        self.until_look = LOOK_EVERY;
        self.limits.over()
    }
}

/// A model and the search for its solutions.
pub struct Engine {
    solver: Solver,
    tag: ConstraintTag,
    guide: Guide,
    resolver: ResolutionResolver,
    tally: Rc<Tally>,
    values: Vec<i32>,
}

/// A few tens of megabytes of learned nogoods at most.
const KEPT: LearningLimits = LearningLimits { high: 10_000, mid: 7_000, low: 20_000 };

struct LearningLimits {
    high: usize,
    mid: usize,
    low: usize,
}

impl Default for Engine {
    fn default() -> Self {
        Self::new()
    }
}

impl Engine {
    /// A model with nothing in it yet.
    pub fn new() -> Self {
        let options = SolverOptions {
            restart_options: RestartOptions {
                sequence_generator_type: SequenceGeneratorType::Constant,
                min_num_conflicts_before_first_restart: 250,
                ..RestartOptions::default()
            },
            learning_options: LearningOptions {
                max_num_high_lbd_nogoods: KEPT.high,
                max_num_mid_lbd_nogoods: KEPT.mid,
                max_num_low_lbd_nogoods: KEPT.low,
                ..LearningOptions::default()
            },
            memory_preallocated: 1,
            ..SolverOptions::default()
        };
        let mut solver = Solver::with_options(options);
        let tag = solver.new_constraint_tag();
        let tally = Rc::<Tally>::default();
        let guide = Guide::new(Vec::new(), Rc::clone(&tally));
        let resolver = ResolutionResolver::default();
        Self { solver, tag, guide, resolver, tally, values: Vec::new() }
    }

    /// A variable from `low` to `high`.
    pub fn variable(&mut self, low: i32, high: i32) -> DomainId {
        self.solver.new_bounded_integer(low, high)
    }

    /// What the search branches on where conflicts say nothing.
    pub fn branch_on(&mut self, starts: Vec<DomainId>) {
        self.guide = Guide::new(starts, Rc::clone(&self.tally));
    }

    /// Tries this value of a variable before others.
    pub fn wish(&mut self, variable: DomainId, value: i32) {
        self.guide.wish(variable, value);
    }

    /// At least one of these must hold.
    pub fn clause(&mut self, any: impl IntoIterator<Item = Predicate>) {
        if !self.solver.is_inconsistent() {
            self.solver.add_clause(any, self.tag);
        }
    }

    /// A constraint made with the engine's tag.
    pub fn post<C: Constraint>(&mut self, make: impl FnOnce(ConstraintTag) -> C) {
        if !self.solver.is_inconsistent() {
            self.solver.add_constraint(make(self.tag)).post();
        }
    }

    /// A new truth value.
    pub fn literal(&mut self) -> Literal {
        self.solver.new_literal()
    }

    /// A constraint that holds where `condition` does.
    pub fn post_if<C: Constraint>(
        &mut self,
        condition: Literal,
        make: impl FnOnce(ConstraintTag) -> C,
    ) {
        if !self.solver.is_inconsistent() {
            self.solver.add_constraint(make(self.tag)).implied_by(condition);
        }
    }

    /// `from + least ≤ to`.
    pub fn lag(&mut self, from: DomainId, to: DomainId, least: i32) {
        let terms = [from.scaled(1), to.scaled(-1)];
        self.post(|tag| constraints::less_than_or_equals(terms, -least, tag));
    }

    /// Looks for a solution, from what was learned before on.
    pub fn search(&mut self, limits: Limits<'_>) -> SearchEnd {
        if self.solver.is_inconsistent() {
            return SearchEnd::Refuted;
        }
        self.tally.decided.set(false);
        let tally = Rc::clone(&self.tally);
        let mut watch = Watch { limits, tally, until_look: 0 };
        match self.solver.satisfy(&mut self.guide, &mut watch, &mut self.resolver) {
            SatisfactionResult::Satisfiable(found) => {
                let solution = found.solution();
                for variable in solution.get_domains() {
                    let at = usize::try_from(variable.id()).unwrap_or(0);
                    if self.values.len() <= at {
                        self.values.resize(at + 1, 0);
                    }
                    self.values[at] = solution.get_integer_value(variable);
                }
                SearchEnd::Solved
            }
            SatisfactionResult::Unsatisfiable(..) => SearchEnd::Refuted,
            SatisfactionResult::Unknown(..) => SearchEnd::Stopped,
        }
    }

    /// Conflicts in all searches so far.
    pub fn conflicts(&self) -> u64 {
        self.tally.conflicts.get()
    }

    /// The value of a variable in the solution found last.
    pub fn value(&self, variable: DomainId) -> i32 {
        let at = usize::try_from(variable.id()).unwrap_or(usize::MAX);
        self.values.get(at).copied().unwrap_or(0)
    }
}
