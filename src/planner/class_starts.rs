//! Where the class's own steps that have a window can lie all together.

use crate::graph::Problem;
use crate::graph::problem::ClassTask;

/// Looks at no more places than this before giving up.
const TRIES: u32 = 200_000;

/// A start for every floating step of the class, near the middle of its
/// window, so that none overlaps another of its period or takes an adult who
/// is not there or busy; else the step that was hardest to place.
pub fn class_starts(problem: &Problem) -> Result<Vec<i32>, usize> {
    let mut order: Vec<usize> = (0..problem.floating.len()).collect();
    order.sort_by_key(|&i| (free_starts(problem, i).count(), i));
    let mut try_all = ClassStartSearch {
        problem,
        order,
        starts: vec![None; problem.floating.len()],
        deepest: 0,
        tries: 0,
    };
    if try_all.place(0) {
        Ok(try_all.starts.into_iter().flatten().collect())
    } else {
        Err(try_all.order[try_all.deepest])
    }
}

/// Starts of a floating step at which no fixed step and no adult's absence is
/// in its way.
fn free_starts(problem: &Problem, step: usize) -> impl Iterator<Item = i32> + '_ {
    let of = &problem.floating[step];
    (of.earliest..=of.latest).filter(move |&start| {
        let end = start + of.minutes;
        let there = |&pool: &usize| {
            (start..end).all(|minute| {
                let taken = usize::try_from(minute).ok();
                taken.and_then(|m| problem.pools[pool].taken.get(m)) == Some(&false)
            })
        };
        let overlaps = |fixed: &ClassTask| {
            fixed.period == of.period
                && fixed.earliest < end
                && start < fixed.earliest + fixed.minutes
        };
        of.adults.iter().all(there) && !problem.fixed.iter().any(overlaps)
    })
}

struct ClassStartSearch<'p> {
    problem: &'p Problem,
    /// Floating steps, the one with the fewest starts first.
    order: Vec<usize>,
    starts: Vec<Option<i32>>,
    deepest: usize,
    tries: u32,
}

impl ClassStartSearch<'_> {
    fn place(&mut self, depth: usize) -> bool {
        let Some(&step) = self.order.get(depth) else { return true };
        self.deepest = self.deepest.max(depth);
        let of = &self.problem.floating[step];
        let middle = of.earliest + (of.latest - of.earliest) / 2;
        let mut starts: Vec<i32> = free_starts(self.problem, step).collect();
        starts.sort_by_key(|start| (start - middle).abs());
        for start in starts {
            self.tries += 1;
            if self.tries > TRIES {
                return false;
            }
            if self.clashes(step, start) {
                continue;
            }
            self.starts[step] = Some(start);
            if self.place(depth + 1) {
                return true;
            }
            self.starts[step] = None;
        }
        false
    }

    fn clashes(&self, step: usize, start: i32) -> bool {
        let of = &self.problem.floating[step];
        self.starts.iter().zip(&self.problem.floating).any(|(placed, other)| {
            placed.is_some_and(|at| at < start + of.minutes && start < at + other.minutes)
                && (other.period == of.period || other.adults.iter().any(|a| of.adults.contains(a)))
        })
    }
}
