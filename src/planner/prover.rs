//! The thread that proves while the search looks for better plans.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::exact::Limits;
use super::exact::lesson::{Known, prove};
use crate::graph::Problem;
use crate::plan::Bounds;

/// Between the search, which lays down the best plan it knows, and the thread
/// that proves what it can about it. A new plan stops the proof under way;
/// what is proved of the last plan is the same in every run, as long as only
/// conflicts limit it.
#[derive(Debug)]
pub(super) struct Desk {
    state: Mutex<State>,
    changed: Condvar,
    halt: AtomicBool,
    /// What was proved before a better plan came still counts: true, but not
    /// the same in every run.
    keeps: bool,
}

#[derive(Debug)]
struct State {
    /// The plan to prove something about, if its proof has not begun.
    next: Option<Known>,
    /// How many plans were laid down.
    number: u64,
    /// What is proved of the plan laid down last.
    bounds: Bounds,
    /// All that can be is proved of it.
    done: bool,
    closed: bool,
}

impl Desk {
    /// Nothing proved beyond `bounds`.
    pub(super) fn new(bounds: Bounds, keeps: bool) -> Self {
        let state = State { next: None, number: 0, bounds, done: true, closed: false };
        Self {
            state: Mutex::new(state),
            changed: Condvar::new(),
            halt: AtomicBool::new(false),
            keeps,
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Lays down a plan better than the last; unless proofs are kept, nothing
    /// is proved but `bounds`.
    pub(super) fn lay_down(&self, known: Known, bounds: Bounds) {
        let mut state = self.state();
        state.next = Some(known);
        state.number += 1;
        if !self.keeps {
            state.bounds = bounds;
        }
        state.done = false;
        self.halt.store(true, Ordering::Relaxed);
        self.changed.notify_all();
    }

    /// What is proved of the plan laid down last, and whether that is all.
    pub(super) fn proved(&self) -> (Bounds, bool) {
        let state = self.state();
        (state.bounds, state.done)
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

    /// Proves until closed. `conflicts` limits each proof.
    pub(super) fn work(&self, problem: &Problem, until: Option<Instant>, conflicts: Option<u64>) {
        loop {
            let (known, number, bounds) = {
                let mut state = self.state();
                loop {
                    if state.closed {
                        return;
                    }
                    if let Some(known) = state.next.take() {
                        self.halt.store(false, Ordering::Relaxed);
                        break (known, state.number, state.bounds);
                    }
                    state = self.changed.wait(state).unwrap_or_else(PoisonError::into_inner);
                }
            };
            let limits = Limits { stop: Some(&self.halt), until, conflicts };
            let tell = |better: Bounds, done: bool| {
                let mut state = self.state();
                if state.number == number {
                    state.bounds = better;
                    state.done = done;
                    self.changed.notify_all();
                }
            };
            let last = prove(problem, &known, bounds, limits, |better| tell(better, false));
            tell(last, true);
        }
    }
}
