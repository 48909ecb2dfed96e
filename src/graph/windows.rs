//! When the steps of one choice can start, by bells, links and locks alone,
//! and how far apart any two of them lie: the closure of all their gaps.
//! Placing each step within what those placed before leave it, in any order,
//! never contradicts a link later on.

use std::sync::Arc;

use super::closure::{Closure, NONE};
use super::problem::{PeriodTask, Task, WhenDone};

/// The closure, for the tasks of one choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Windows {
    /// For each pair, the least minutes from the start of the first to the
    /// start of the second.
    closure: Arc<Closure>,
    /// Whether there is any way at all.
    possible: bool,
}

impl Windows {
    /// The closure of a choice's gaps. `bake` are its load, bake and take-out
    /// tasks, which follow one another without a gap.
    pub fn new(tasks: &[Task], bake: Option<[usize; 3]>, period: &PeriodTask) -> Self {
        let mut closure = Closure::new(tasks.len());
        for (i, task) in tasks.iter().enumerate() {
            for gap in &task.before {
                let end = tasks[gap.task].minutes;
                closure.bound(gap.task, i, end + gap.least);
                if let Some(longest) = gap.longest {
                    closure.bound(i, gap.task, -(end + longest));
                }
            }
            match task.when {
                WhenDone::Beforehand => {
                    closure.not_after(i, period.start - task.minutes);
                }
                WhenDone::InLesson => {
                    closure.not_before(i, earliest(task, period));
                    closure.not_after(i, period.closing_start - task.minutes);
                }
                WhenDone::Collected => {
                    let bell = if task.kind.is_hand() { period.end } else { period.start };
                    closure.not_before(i, bell);
                }
            }
            if let Some(at) = task.locked {
                closure.not_before(i, at);
                closure.not_after(i, at);
            } else if let Some(by) = task.not_before {
                closure.not_before(i, by);
            }
        }
        if let Some([load, bake, out]) = bake {
            for (a, b) in [(load, bake), (bake, out)] {
                closure.bound(a, b, tasks[a].minutes);
                closure.bound(b, a, -tasks[a].minutes);
            }
        }
        let possible = closure.close();
        Self { closure: Arc::new(closure), possible }
    }

    /// Whether links, locks and bells leave any way at all.
    pub fn possible(&self) -> bool {
        self.possible
    }

    /// The least minutes from the start of one task to the start of another,
    /// if anything binds them.
    pub fn least(&self, from: usize, to: usize) -> Option<i32> {
        let least = self.closure.least(from, to);
        (least > NONE).then_some(least)
    }

    /// Earliest and latest start of a task beside those that have a start;
    /// `unplaced` marks those that have none. Empty if earliest is over
    /// latest.
    pub fn of(&self, task: usize, starts: &[i32], unplaced: i32) -> (i32, i32) {
        if !self.possible {
            return (0, -1);
        }
        let (mut earliest, mut latest) = (self.closure.earliest(task), self.closure.latest(task));
        for (other, &start) in starts.iter().enumerate() {
            if start == unplaced || other == task {
                continue;
            }
            let closure = &self.closure;
            let (after, before) = (closure.least(other, task), closure.least(task, other));
            if after > NONE {
                earliest = earliest.max(start + after);
            }
            if before > NONE {
                latest = latest.min(start - before);
            }
        }
        (earliest, latest)
    }
}

/// Hands begin after the opening; what needs none may go on through it.
fn earliest(task: &Task, period: &PeriodTask) -> i32 {
    if task.kind.is_hand() { period.opening_end } else { period.start }
}
