//! The thread that proves while the search looks for better plans.

use std::cell::RefCell;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::bounds::{Bounder, Pace, ShortSums};
use super::exact::Limits;
use super::exact::lesson::{
    Known, ModelPlan, Proofs, Refuted, Shelves, refute_alone, refute_together,
};
use crate::graph::{Problem, quick};
use crate::model::Lesson;
use crate::plan::Bounds;

/// The facts proved about a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Proof {
    /// Bounds that no plan beats.
    pub(super) bounds: Bounds,
    /// Groups that cannot be served.
    pub(super) refuted: Refuted,
}

/// Conflicts for each question in the first round, where only time limits them.
const FIRST_SLICE: u64 = 4_000;

/// The desk between the search, which lays down the best plan it knows, and the thread
/// that proves what it can about it. A new plan stops the proof under way;
/// what is proved of the last plan is the same in every run, as long as only
/// conflicts limit it.
#[derive(Debug)]
pub(super) struct Desk {
    state: Mutex<DeskState>,
    changed: Condvar,
    halt: AtomicBool,
    /// Whether proofs from before a better plan came still count: true, but
    /// not the same in every run.
    keeps: bool,
}

#[derive(Debug)]
struct DeskState {
    /// The plan to prove something about, if its proof has not begun.
    next: Option<Known>,
    /// How many plans were laid down.
    number: u64,
    /// The proof about the plan laid down last.
    proof: Proof,
    /// Plans of the model that are better than it, in the order in which they were
    /// found.
    found: Vec<ModelPlan>,
    /// All that can be is proved of it.
    done: bool,
    closed: bool,
}

impl Desk {
    /// A desk with nothing proved beyond `bounds`.
    pub(super) fn new(bounds: Bounds, keeps: bool) -> Self {
        let proof = Proof { bounds, refuted: Refuted::default() };
        let found = Vec::new();
        let state = DeskState { next: None, number: 0, proof, found, done: true, closed: false };
        Self {
            state: Mutex::new(state),
            changed: Condvar::new(),
            halt: AtomicBool::new(false),
            keeps,
        }
    }

    fn state(&self) -> MutexGuard<'_, DeskState> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Lays down a plan better than the last; unless proofs are kept, nothing
    /// is proved but `bounds`.
    pub(super) fn lay_down(&self, known: Known, bounds: Bounds) {
        let mut state = self.state();
        state.next = Some(known);
        state.number += 1;
        if !self.keeps {
            state.proof = Proof { bounds, refuted: Refuted::default() };
            state.found.clear();
        }
        state.done = false;
        self.halt.store(true, Ordering::Relaxed);
        self.changed.notify_all();
    }

    /// The proof about the plan laid down last, and whether that is all.
    pub(super) fn proved(&self) -> (Proof, bool) {
        let state = self.state();
        (state.proof.clone(), state.done)
    }

    /// The plans of the model found since they were last asked for.
    pub(super) fn found(&self) -> Vec<ModelPlan> {
        std::mem::take(&mut self.state().found)
    }

    /// Waits a little for news.
    pub(super) fn wait(&self, at_most: Duration) {
        let state = self.state();
        if !state.done {
            let _ = self.changed.wait_timeout(state, at_most);
        }
    }

    /// No more is wanted.
    pub(super) fn close(&self) {
        self.state().closed = true;
        self.halt.store(true, Ordering::Relaxed);
        self.changed.notify_all();
    }

    /// Proves until closed. `conflicts` limits each question; without it each is
    /// asked for longer and longer, in turn.
    pub(super) fn work(
        &self,
        lesson: &Lesson,
        problem: &Problem,
        until: Option<Instant>,
        conflicts: Option<u64>,
    ) {
        let mut at_quickest: Option<Problem> = None;
        let shelves = RefCell::new(Shelves::default());
        let limits = Limits { stop: Some(&self.halt), until, conflicts };
        let mut kept: Option<Proofs<'_>> = None;
        let mut told_of: Option<(Vec<usize>, Refuted)> = None;
        while let Some((known, number, proof)) = self.take() {
            let tell = |proof: Proof, done: bool| {
                let mut state = self.state();
                if state.number == number {
                    state.proof = proof;
                    state.done = done;
                    self.changed.notify_all();
                }
            };
            let found = |plan: ModelPlan| {
                let mut state = self.state();
                if self.keeps || state.number == number {
                    state.found.push(plan);
                    self.changed.notify_all();
                }
            };
            let unserved = |&g: &usize| known.seed.get(g).is_some_and(Option::is_none);
            let left_out: Vec<usize> = (0..problem.groups.len()).filter(unserved).collect();
            let mut proofs = match kept.take().filter(|_| self.keeps) {
                Some(mut proofs) => {
                    proofs.go_on(known, proof.bounds);
                    proofs
                }
                None => Proofs::new(problem, known, proof.bounds, limits, &shelves),
            };
            let mut refuted = proof.refuted;
            let mut slice = conflicts.unwrap_or(FIRST_SLICE);
            let mut open = proofs.round(slice, |b| tell(of(b, &refuted), false), &found);
            let bounder = Bounder { lesson, problem };
            let impossible = bounder.impossible(&left_out, Pace::Quick);
            if let Some((_, known)) = told_of.take_if(|(of, _)| *of == left_out) {
                refuted = known;
            } else if left_out.len() > impossible.len() {
                let quick = at_quickest.get_or_insert_with(|| quick(lesson, problem));
                let why = Why { bounder, quick, left_out: &left_out, impossible: &impossible };
                refuted = why.refuted(limits, &shelves);
            }
            if !limits.over() {
                told_of = Some((left_out, refuted.clone()));
            }
            let most = problem.groups.len() - impossible.len() - refuted.left_out();
            let most = u32::try_from(most).unwrap_or(u32::MAX);
            if most < proofs.bounds().served_at_most {
                proofs.serves_at_most(most);
                open = true;
            }
            while open && !limits.over() {
                slice = if conflicts.is_some() { slice } else { slice.saturating_mul(2) };
                open = proofs.round(slice, |b| tell(of(b, &refuted), false), &found);
                open &= conflicts.is_none();
            }
            tell(of(proofs.bounds(), &refuted), true);
            kept = Some(proofs);
        }
    }

    /// The next plan to prove something about, when there is one; `None` once
    /// closed.
    fn take(&self) -> Option<(Known, u64, Proof)> {
        let mut state = self.state();
        loop {
            if state.closed {
                return None;
            }
            if let Some(known) = state.next.take() {
                self.halt.store(false, Ordering::Relaxed);
                return Some((known, state.number, state.proof.clone()));
            }
            state = self.changed.wait(state).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

fn of(bounds: Bounds, refuted: &Refuted) -> Proof {
    Proof { bounds, refuted: refuted.clone() }
}

/// The question why some groups are left out, some of whom are known to be impossible.
struct Why<'a> {
    bounder: Bounder<'a>,
    quick: &'a Problem,
    left_out: &'a [usize],
    impossible: &'a [usize],
}

impl Why<'_> {
    fn refuted(&self, limits: Limits<'_>, shelves: &RefCell<Shelves>) -> Refuted {
        let is_open = |g: &&usize| !self.impossible.contains(g);
        let rest: Vec<usize> = self.left_out.iter().filter(is_open).copied().collect();
        let alone = refute_alone(self.quick, &rest, limits, shelves);
        // Who cannot be served even alone does not count against the others.
        let out = [self.impossible, &alone].concat();
        // Where a short sum says why, no longer proof is wanted.
        let sums = ShortSums::new(self.bounder, Pace::Quick, &out);
        let open = |g: &usize| !out.contains(g) && !sums.tell(*g, self.left_out);
        let asked: Vec<usize> = rest.iter().copied().filter(open).collect();
        let together = refute_together(self.quick, (&asked, &out), limits, shelves);
        Refuted { alone, together }
    }
}
