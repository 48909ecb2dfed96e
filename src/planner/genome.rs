//! The choices the search varies: who is placed first, which tin and oven each group
//! tries first, from when it may load, where floating steps of the class lie.

use std::sync::Arc;

use super::adults_wished::AdultsWished;
use super::exact::lesson::ModelPlan;
use crate::graph::Problem;
use crate::graph::footprint::Spot;

/// The choices the search varies for one group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gene {
    /// Option tried first.
    pub option: usize,
    /// How far the list of ovens is turned.
    pub turn: usize,
    /// Loading starts no earlier, if that can be.
    pub not_before: i32,
    /// Another order of the option's `rest`.
    pub rest: Option<Vec<usize>>,
    /// Where each task of the option is tried first.
    pub starts: Option<Arc<[i32]>>,
    /// Where its tins are tried first, one for each.
    pub stand: Option<Arc<[StandsAt]>>,
}

/// Where a tin is tried first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandsAt {
    /// The oven.
    pub oven: usize,
    /// The shelf and the place on it, where that was worked out.
    pub place: Option<(usize, Spot)>,
}

/// The choices the search varies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Genome {
    /// Groups in the order in which they are placed.
    pub order: Vec<usize>,
    /// Choices of each group.
    pub genes: Vec<Gene>,
    /// Starts of the floating steps of the class.
    pub floats: Vec<i32>,
    /// Adults that are tried first.
    pub adults: Option<Arc<AdultsWished>>,
}

impl Genome {
    /// Where the search starts: groups that are to be served before all others,
    /// those with locks and those kept apart first,
    /// then as listed; first choices; floating steps of the class as given.
    pub fn first(problem: &Problem, floats: Vec<i32>) -> Self {
        let mut order: Vec<usize> = (0..problem.groups.len()).collect();
        order.sort_by_key(|&g| {
            let group = &problem.groups[g];
            // Among locked ones in the order of time: what is taken is then
            // free again for who comes after.
            let tasks = group.options.first().map_or(&[][..], |o| &o.tasks);
            let locked = tasks.iter().filter_map(|t| t.locked).min();
            (!group.before_all, locked.is_none(), !group.keep_apart, locked, g)
        });
        let gene = Gene {
            option: 0,
            turn: 0,
            not_before: i32::MIN,
            rest: None,
            starts: None,
            stand: None,
        };
        Self { order, genes: vec![gene; problem.groups.len()], floats, adults: None }
    }

    /// This genome with everything where the solver's plan has it: groups in the order
    /// in which that loads them, and those it does not serve last.
    pub fn after(&self, problem: &Problem, plan: &ModelPlan) -> Self {
        let adults = AdultsWished::of(problem, plan).map(Arc::new);
        let mut genome = Self { floats: plan.floats.clone(), adults, ..self.clone() };
        let mut loads = vec![i32::MAX; genome.genes.len()];
        for (g, seed) in plan.groups.iter().enumerate() {
            let Some(seed) = seed else { continue };
            let group = &problem.groups[g];
            let bake = group.options[seed.option].bake.as_ref();
            let load = bake.and_then(|bake| seed.starts.get(bake.load)).copied();
            let first = seed.ovens.first();
            loads[g] = load.unwrap_or(i32::MIN);
            genome.genes[g] = Gene {
                option: seed.option,
                turn: group.ovens.iter().position(|oven| Some(oven) == first).unwrap_or(0),
                not_before: load.unwrap_or(i32::MIN),
                rest: None,
                starts: Some(seed.starts.as_slice().into()),
                stand: Some(
                    seed.ovens.iter().map(|&oven| StandsAt { oven, place: None }).collect(),
                ),
            };
        }
        genome.order.sort_by_key(|&g| loads[g]);
        genome
    }
}
