//! Changes of a genome by chance.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::construct::{Constructor, GroupSchedule, UNPLACED};
use super::genome::Genome;
use crate::graph::Problem;
use crate::graph::problem::{Gap, GroupTask};

/// Changes genomes; the same changes for the same seed.
pub struct Vary<'p> {
    problem: &'p Problem,
    rng: Pcg64Mcg,
    /// When each group loads in the plan that is changed, for those who do.
    loads: Vec<i32>,
}

impl<'p> Vary<'p> {
    /// Changes of the genomes of a problem.
    pub fn new(problem: &'p Problem, seed: u64) -> Self {
        Self { problem, rng: Pcg64Mcg::seed_from_u64(seed), loads: Vec::new() }
    }

    /// The plan built last is the one that is changed from now on.
    pub fn look_at(&mut self, built: &Constructor<'_>) {
        self.loads.clear();
        self.loads.extend(loads(self.problem, built).into_iter().flatten());
    }

    /// Lets a group, or all that load with it, load some minutes later, or a
    /// little sooner. `loads` is when each group loads now.
    pub fn stagger(&mut self, genome: &mut Genome, loads: &[Option<i32>]) {
        let baking: Vec<usize> = (0..loads.len()).filter(|&g| loads[g].is_some()).collect();
        if baking.is_empty() {
            return;
        }
        let with = loads[baking[self.rng.random_range(0..baking.len())]];
        let by = if self.rng.random_bool(0.25) {
            -self.rng.random_range(1..=3)
        } else {
            self.rng.random_range(1..=5)
        };
        let all_of_them = self.rng.random_bool(0.5);
        let mut they: Vec<usize> = baking.into_iter().filter(|&g| loads[g] == with).collect();
        if !all_of_them {
            let one = they[self.rng.random_range(0..they.len())];
            they = vec![one];
        }
        for g in they {
            let gene = &mut genome.genes[g];
            gene.starts = None;
            gene.not_before = loads[g].map_or(i32::MIN, |load| load + by);
        }
    }

    /// Makes one or two changes.
    pub fn change(&mut self, genome: &mut Genome) {
        let groups = genome.genes.len();
        if groups == 0 {
            return;
        }
        let changes = if self.rng.random_bool(0.3) { 2 } else { 1 };
        for _ in 0..changes {
            let g = self.rng.random_range(0..groups);
            match self.rng.random_range(0..100) {
                0..35 if groups > 1 => self.reorder(genome),
                0..55 if self.problem.groups[g].options.len() > 1 => {
                    let options = self.problem.groups[g].options.len();
                    let option = self.rng.random_range(0..options);
                    let gene = &mut genome.genes[g];
                    (gene.option, gene.rest) = (option, None);
                    (gene.starts, gene.stand) = (None, None);
                }
                0..65 if self.problem.groups[g].ovens.len() > 1 => {
                    let gene = &mut genome.genes[g];
                    gene.turn = self.rng.random_range(0..self.problem.groups[g].ovens.len());
                    gene.stand = None;
                }
                0..85 if !self.loads.is_empty() => self.hold_back(genome, g),
                85..92 if !genome.floats.is_empty() => self.float(genome),
                _ => self.reorder_rest(genome, g),
            }
        }
    }

    fn reorder(&mut self, genome: &mut Genome) {
        let n = genome.order.len();
        let (a, b) = (self.rng.random_range(0..n), self.rng.random_range(0..n));
        if self.rng.random_bool(0.5) {
            genome.order.swap(a, b);
        } else {
            let moved = genome.order.remove(a);
            genome.order.insert(b, moved);
        }
    }

    /// Lets a group load with another, or a little later, or freely.
    fn hold_back(&mut self, genome: &mut Genome, g: usize) {
        let with = self.loads[self.rng.random_range(0..self.loads.len())];
        genome.genes[g].starts = None;
        genome.genes[g].not_before = match self.rng.random_range(0..4) {
            0 => i32::MIN,
            1 => with + self.rng.random_range(-3..=3),
            _ => with,
        };
    }

    fn float(&mut self, genome: &mut Genome) {
        let f = self.rng.random_range(0..genome.floats.len());
        let step = &self.problem.floating[f];
        if step.earliest < step.latest {
            genome.floats[f] = self.rng.random_range(step.earliest..=step.latest);
        }
    }

    /// Moves one task of a group's forward order to another place its links
    /// allow.
    fn reorder_rest(&mut self, genome: &mut Genome, g: usize) {
        let gene = &mut genome.genes[g];
        let Some(choice) = self.problem.groups[g].options.get(gene.option) else { return };
        let mut rest = gene.rest.take().unwrap_or_else(|| choice.rest.clone());
        if rest.len() < 2 {
            return;
        }
        let from = self.rng.random_range(0..rest.len());
        let task = rest.remove(from);
        let is_in = |gaps: &[Gap], other: usize| gaps.iter().any(|g| g.task == other);
        let of = &choice.tasks[task];
        let low = rest.iter().rposition(|&t| is_in(&of.before, t)).map_or(0, |i| i + 1);
        let high = rest.iter().position(|&t| is_in(&of.after, t)).unwrap_or(rest.len());
        rest.insert(if low < high { self.rng.random_range(low..=high) } else { low }, task);
        (gene.rest, gene.starts) = (Some(rest), None);
    }
}

/// When each group loads in the plan built last; `None` for those who do not.
pub fn loads(problem: &Problem, built: &Constructor<'_>) -> Vec<Option<i32>> {
    let load = |(group, schedule): (&GroupTask, &GroupSchedule)| {
        let choice = &group.options[schedule.option?];
        let load = schedule.starts[choice.bake.as_ref()?.load];
        (load != UNPLACED).then_some(load)
    };
    problem.groups.iter().zip(&built.schedule).map(load).collect()
}
