//! When the steps of one choice can start, by bells, links and locks alone,
//! and how far apart any two of them lie: the closure of all their gaps.
//! Placing each step within what those placed before leave it, in any order,
//! never contradicts a link later on.

use super::problem::{PeriodTask, Task, When};

/// No bound; far enough from the ends of the numbers to be added up.
const NONE: i32 = i32::MIN / 4;

/// The closure, for the tasks of one choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Windows {
    /// Tasks, and one more for minute 0.
    nodes: usize,
    /// For each pair, the least minutes from the start of the first to the
    /// start of the second.
    least: Vec<i32>,
    /// Whether there is any way at all.
    possible: bool,
}

impl Windows {
    /// The closure of a choice's gaps. `bake` are its load, bake and take-out
    /// tasks, which follow one another without a gap.
    pub fn new(tasks: &[Task], bake: Option<[usize; 3]>, period: &PeriodTask) -> Self {
        let nodes = tasks.len() + 1;
        let mut windows = Self { nodes, least: vec![NONE; nodes * nodes], possible: true };
        let zero = tasks.len();
        for (i, task) in tasks.iter().enumerate() {
            for gap in &task.before {
                let end = tasks[gap.task].minutes;
                windows.bound(gap.task, i, end + gap.least);
                if let Some(longest) = gap.longest {
                    windows.bound(i, gap.task, -(end + longest));
                }
            }
            match task.when {
                When::Beforehand => windows.bound(i, zero, task.minutes - period.start),
                When::InLesson => {
                    windows.bound(zero, i, earliest(task, period));
                    windows.bound(i, zero, task.minutes - period.closing_start);
                }
                When::Collected if task.kind.is_hand() => windows.bound(zero, i, period.end),
                When::Collected => windows.bound(zero, i, period.start),
            }
            if let Some(at) = task.locked {
                windows.bound(zero, i, at);
                windows.bound(i, zero, -at);
            }
        }
        if let Some([load, bake, out]) = bake {
            for (a, b) in [(load, bake), (bake, out)] {
                windows.bound(a, b, tasks[a].minutes);
                windows.bound(b, a, -tasks[a].minutes);
            }
        }
        windows.close();
        windows
    }

    fn bound(&mut self, from: usize, to: usize, least: i32) {
        let at = from * self.nodes + to;
        self.least[at] = self.least[at].max(least);
    }

    fn close(&mut self) {
        let n = self.nodes;
        for via in 0..n {
            for from in 0..n {
                let first = self.least[from * n + via];
                if first <= NONE {
                    continue;
                }
                for to in 0..n {
                    let second = self.least[via * n + to];
                    if second > NONE {
                        self.bound(from, to, first + second);
                    }
                }
            }
            if (0..n).any(|i| self.least[i * n + i] > 0) {
                self.possible = false;
                return;
            }
        }
    }

    /// Whether links, locks and bells leave any way at all.
    pub fn possible(&self) -> bool {
        self.possible
    }

    /// The least minutes from the start of one task to the start of another,
    /// if anything binds them.
    pub fn least(&self, from: usize, to: usize) -> Option<i32> {
        let least = self.least[from * self.nodes + to];
        (least > NONE).then_some(least)
    }

    /// Earliest and latest start of a task beside those that have a start;
    /// `unplaced` marks those that have none. Empty if earliest is over
    /// latest.
    pub fn of(&self, task: usize, starts: &[i32], unplaced: i32) -> (i32, i32) {
        if !self.possible {
            return (0, -1);
        }
        let n = self.nodes;
        let zero = n - 1;
        let mut earliest = self.least[zero * n + task];
        let mut latest = -self.least[task * n + zero];
        for (other, &start) in starts.iter().enumerate() {
            if start == unplaced || other == task {
                continue;
            }
            let (after, before) = (self.least[other * n + task], self.least[task * n + other]);
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
