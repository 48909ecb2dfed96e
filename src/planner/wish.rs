//! What is tried first in placing an option of a group.

use super::genome::{Gene, StandsAt};
use crate::graph::problem::Choice;

/// What is tried first in placing an option.
#[derive(Clone, Copy)]
pub(super) struct Wish<'g> {
    /// How far the list of ovens is turned.
    pub(super) turn: usize,
    /// The order of what follows.
    pub(super) rest: &'g [usize],
    /// The start of each task.
    pub(super) starts: Option<&'g [i32]>,
    /// Where each tin stands.
    pub(super) stand: Option<&'g [StandsAt]>,
    /// Nothing else is tried.
    pub(super) only: bool,
}

impl<'g> Wish<'g> {
    /// A gene's; of its own option, or of another.
    pub(super) fn of(choice: &'g Choice, gene: &Gene, own: Option<&'g Gene>) -> Self {
        Self {
            turn: gene.turn,
            rest: own.and_then(|gene| gene.rest.as_deref()).unwrap_or(&choice.rest),
            starts: own.and_then(|gene| gene.starts.as_deref()),
            stand: own.and_then(|gene| gene.stand.as_deref()),
            only: false,
        }
    }

    /// The same, with nothing else tried.
    pub(super) fn and_nothing_else(self) -> Self {
        Self { only: true, ..self }
    }

    /// Where a task is tried first, within its window.
    pub(super) fn start(&self, task: usize, (earliest, latest): (i32, i32)) -> Option<i32> {
        let start = self.starts?.get(task).copied()?;
        (earliest..=latest).contains(&start).then_some(start)
    }
}
