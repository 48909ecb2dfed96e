//! Plans built one at a time, for trying out what a person asks for: whether
//! one more group has room, whether all can be served at all.

use std::sync::atomic::{AtomicBool, Ordering};

use super::class_starts::class_starts;
use super::construct::Constructor;
use super::genome::Genome;
use super::improve::LateAcceptance;
use super::write_out;
use crate::graph::Problem;
use crate::plan::Plan;

/// Builds plans of one problem. Groups go by their positions in it; several
/// may be the same group of the lesson, of which only one may be placed.
#[derive(Debug, Clone)]
pub struct Trial<'p> {
    built: Constructor<'p>,
    genome: Genome,
}

impl<'p> Trial<'p> {
    /// `None` if the class's own steps find no place.
    pub fn new(problem: &'p Problem) -> Option<Self> {
        let genome = Genome::first(problem, class_starts(problem).ok()?);
        Some(Self { built: Constructor::new(problem), genome })
    }

    /// Where the class's own steps that have a window are wanted, in the order
    /// of [`Problem::floating`].
    pub fn want_floats(&mut self, starts: &[i32]) {
        for (float, &start) in self.genome.floats.iter_mut().zip(starts) {
            *float = start;
        }
    }

    /// Sets what a group tries first: an option, the ovens from one of its list
    /// on, a minute for loading.
    pub fn prefer(&mut self, group: usize, (option, turn, load): (usize, usize, i32)) {
        let gene = &mut self.genome.genes[group];
        (gene.option, gene.turn, gene.not_before) = (option, turn, load);
    }

    /// Builds the plan of some groups, in this order.
    pub fn build(&mut self, order: &[usize]) {
        self.genome.order = order.to_vec();
        self.built.build(&self.genome);
    }

    /// Whether there is room for one more group in the plan built last, which
    /// stays as it is.
    pub fn has_room(&mut self, group: usize) -> bool {
        !self.built.crowded() && self.built.has_room(group, &self.genome)
    }

    /// Whether a group is served in the plan built last.
    pub fn serves(&self, group: usize) -> bool {
        self.built.schedule[group].option.is_some()
    }

    /// Ovens and shelves of a group's tins in the plan built last, sorted;
    /// ovens as positions in the problem.
    pub fn stands(&self, group: usize) -> Vec<(usize, usize)> {
        let of = &self.built.schedule[group];
        let tins = of.standing.iter().filter(|_| of.option.is_some());
        let mut all: Vec<(usize, usize)> = tins.map(|t| (t.oven, t.shelf)).collect();
        all.sort_unstable();
        all
    }

    /// The plan built last, without reasons and bounds.
    pub fn written(&self) -> Plan {
        write_out::write_out(self.built.problem, &self.built)
    }
}

/// Looks for a plan that serves every group of a problem, in so many plans
/// built; without reasons and bounds. Always the same for the same problem and
/// seed, as long as `stop` is not set.
pub fn serve_all(
    problem: &Problem,
    (decodings, seed): (u64, u64),
    stop: &AtomicBool,
) -> Option<Plan> {
    let floats = class_starts(problem).ok()?;
    if let Some(plan) = with_floats(problem, &floats, stop) {
        return Some(plan);
    }
    let mut search = LateAcceptance::new(problem, seed, floats, stop);
    while search.best.1.not_served > 0 {
        if search.decodings >= decodings || stop.load(Ordering::Relaxed) {
            return None;
        }
        search.step();
    }
    Some(write_out::write_out(problem, search.build_best()))
}

/// A plan that serves every group with one of the class's own steps at another
/// minute of its window.
fn with_floats(problem: &Problem, floats: &[i32], stop: &AtomicBool) -> Option<Plan> {
    let mut trial = Trial::new(problem)?;
    let order = trial.genome.order.clone();
    for (f, step) in problem.floating.iter().enumerate() {
        for start in step.earliest..=step.latest {
            if stop.load(Ordering::Relaxed) {
                return None;
            }
            trial.want_floats(floats);
            trial.genome.floats[f] = start;
            trial.build(&order);
            if order.iter().all(|&g| trial.serves(g)) {
                return Some(trial.written());
            }
        }
    }
    None
}
