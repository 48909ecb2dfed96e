//! Counted things minute by minute, with a journal so that a try can be
//! taken back.

use crate::graph::Problem;

/// How much of each pool is in use in each minute.
#[derive(Debug, Clone)]
pub struct Timeline {
    counts: Vec<i32>,
    initial: Vec<Vec<i32>>,
    used: Vec<Vec<i32>>,
    journal: Vec<Taking>,
}

#[derive(Debug, Clone, Copy)]
struct Taking {
    pool: usize,
    from: usize,
    until: usize,
    count: i32,
}

impl Timeline {
    /// The pools of a problem and, after them, one for the pupils of each
    /// group.
    pub fn new(problem: &Problem) -> Self {
        let horizon = usize::try_from(problem.horizon).unwrap_or(0);
        let mut counts: Vec<i32> = problem.pools.iter().map(|p| p.count).collect();
        let mut initial: Vec<Vec<i32>> = problem
            .pools
            .iter()
            .map(|p| p.taken.iter().map(|&taken| i32::from(taken)).collect())
            .collect();
        for group in &problem.groups {
            counts.push(group.pupils);
            initial.push(vec![0; horizon]);
        }
        Self { counts, used: initial.clone(), initial, journal: Vec::new() }
    }

    /// Everything free again.
    pub fn clear(&mut self) {
        for (used, initial) in self.used.iter_mut().zip(&self.initial) {
            used.copy_from_slice(initial);
        }
        self.journal.clear();
    }

    fn span(&self, pool: usize, from: i32, until: i32) -> (usize, usize) {
        let most = self.used[pool].len();
        let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(most);
        (clip(from), clip(until))
    }

    /// How many of a pool are free throughout a stretch.
    pub fn free(&self, pool: usize, from: i32, until: i32) -> i32 {
        let (from, until) = self.span(pool, from, until);
        if from >= until {
            return self.counts[pool];
        }
        // No chain of adapters: half of a search is spent here, and what is generic is not
        // built into this loop where parts of the crate are optimised each alone.
        let mut most = i32::MIN;
        for &used in &self.used[pool][from..until] {
            most = most.max(used);
        }
        self.counts[pool] - most
    }

    /// Takes some of a pool for a stretch.
    pub fn take(&mut self, pool: usize, from: i32, until: i32, count: i32) {
        let (from, until) = self.span(pool, from, until);
        if from >= until {
            return;
        }
        for used in &mut self.used[pool][from..until] {
            *used += count;
        }
        self.journal.push(Taking { pool, from, until, count });
    }

    /// Where the journal stands.
    pub fn mark(&self) -> usize {
        self.journal.len()
    }

    /// Takes back all since a mark.
    pub fn back_to(&mut self, mark: usize) {
        while self.journal.len() > mark {
            if let Some(change) = self.journal.pop() {
                for used in &mut self.used[change.pool][change.from..change.until] {
                    *used -= change.count;
                }
            }
        }
    }
}
