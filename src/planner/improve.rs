//! Local search over genomes, by late acceptance: a change is kept if the
//! plan is no worse than the one some changes ago. Exactly repeatable for a
//! seed and a number of decodings.

use std::sync::atomic::AtomicBool;

use super::construct::Constructor;
use super::exact::lesson::ModelPlan;
use super::genome::Genome;
use super::objective::Score;
use super::vary::Vary;
use crate::graph::Problem;

/// Length of the list of past scores. Longer searches wider and slower; this
/// did best over the project's lessons and the J30 set.
const HISTORY: usize = 60;

/// Decodings without a better plan after which the search starts again from
/// the best, shaken.
const PATIENCE: u64 = 6_000;
/// Changes that shake it.
const SHAKES: usize = 12;

/// The search: where it is and the best it has seen.
pub struct LateAcceptance<'p> {
    built: Constructor<'p>,
    vary: Vary<'p>,
    history: Vec<Score>,
    current: (Genome, Score),
    last_better: u64,
    /// Plans built when the best was found.
    best_at: u64,
    /// The best genome and its score.
    pub best: (Genome, Score),
    /// Plans built so far.
    pub decodings: u64,
    /// The best plan is the one built last.
    best_is_built: bool,
    /// The best plan is the first, and `stop` came before it was whole.
    best_is_cut: bool,
    stop: &'p AtomicBool,
}

impl<'p> LateAcceptance<'p> {
    /// Builds the first plan, with floating steps of the class where they can
    /// all be. Once `stop` is set, even in the middle of the first plan, no
    /// more groups are placed.
    pub fn new(problem: &'p Problem, seed: u64, floats: Vec<i32>, stop: &'p AtomicBool) -> Self {
        let mut built = Constructor::new(problem);
        built.heed(Some(stop));
        let genome = Genome::first(problem, floats);
        let score = built.build(&genome);
        let best_is_cut = built.cut_short();
        Self {
            built,
            vary: Vary::new(problem, seed),
            history: vec![score; HISTORY],
            current: (genome.clone(), score),
            last_better: 0,
            best_at: 0,
            best: (genome, score),
            decodings: 1,
            best_is_built: true,
            best_is_cut,
            stop,
        }
    }

    /// The constructor, with the best plan built in it, tidied. A plan that was
    /// cut short stays as far as it came.
    pub fn build_best(&mut self) -> &Constructor<'p> {
        if self.best_is_built {
            self.built.tidy_all(&self.best.0);
        } else if !self.best_is_cut {
            self.built.heed(None);
            self.built.build_tidy(&self.best.0);
            self.built.heed(Some(self.stop));
        }
        self.best_is_built = false;
        &self.built
    }

    /// Plans built since the best was.
    pub fn since_better(&self) -> u64 {
        self.decodings - self.best_at
    }

    /// Whether the best plan is one for whose groups time ran out.
    pub fn is_cut_short(&self) -> bool {
        self.best_is_cut
    }

    /// Makes one change; `true` if it led to a better plan than any before.
    pub fn step(&mut self) -> bool {
        if self.decodings - self.last_better > PATIENCE {
            self.shake();
        }
        let mut genome = self.current.0.clone();
        self.vary.change(&mut genome);
        let score = self.built.build(&genome);
        self.best_is_built = false;
        if self.built.crowded() || self.built.cut_short() {
            self.decodings += 1;
            return false;
        }
        let slot = usize::try_from(self.decodings).unwrap_or(0) % HISTORY;
        self.decodings += 1;
        if score > self.current.1 && score > self.history[slot] {
            return false;
        }
        self.history[slot] = score;
        self.go_on_from(genome, score)
    }

    /// Builds a plan after the solver's and goes on from there; `true` if it is
    /// better than any before.
    pub fn follow(&mut self, plan: &ModelPlan) -> bool {
        let genome = self.built.follow(&self.best.0, plan);
        let score = self.built.build(&genome);
        self.best_is_built = false;
        self.decodings += 1;
        if self.built.crowded() || self.built.cut_short() {
            return false;
        }
        self.last_better = self.decodings;
        self.history.fill(score);
        self.go_on_from(genome, score)
    }

    /// Takes the plan built last as the one to change; `true` if it is better than
    /// any before.
    fn go_on_from(&mut self, genome: Genome, score: Score) -> bool {
        let better = score < self.best.1;
        if better {
            self.best = (genome.clone(), score);
            self.best_is_built = true;
            self.last_better = self.decodings;
            self.best_at = self.decodings;
        }
        self.current = (genome, score);
        self.vary.look_at(&self.built);
        better
    }

    fn shake(&mut self) {
        let mut genome = self.best.0.clone();
        for _ in 0..SHAKES {
            self.vary.change(&mut genome);
        }
        let mut score = self.built.build(&genome);
        self.best_is_built = false;
        if self.built.crowded() {
            genome.floats.clone_from(&self.best.0.floats);
            score = self.built.build(&genome);
        }
        self.decodings += 1;
        self.last_better = self.decodings;
        self.history.fill(score);
        self.current = (genome, score);
    }
}
