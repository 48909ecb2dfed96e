//! A plan of the solver's, followed: first all that goes exactly as it has it, then the
//! rest beside that.

use super::construct::{Constructor, Scene};
use super::exact::lesson::ModelPlan;
use super::genome::{Genome, StandsAt};
use super::lasting::{TinToStand, lasting_places};
use super::wish::Wish;
use crate::graph::footprint::Spot;

impl Constructor<'_> {
    /// A genome after a plan of the solver's, with places for all its tins where they are
    /// found, and those groups first that can be placed exactly where it has them, beside
    /// one another.
    pub fn follow(&mut self, genome: &Genome, plan: &ModelPlan) -> Genome {
        let mut genome = genome.after(self.problem, plan);
        for oven in 0..self.problem.ovens.len() {
            self.keep_places(&mut genome, plan, oven);
        }
        self.clear(&genome);
        let (exact, others): (Vec<usize>, Vec<usize>) =
            genome.order.iter().partition(|&&g| self.place_exactly(g, &genome));
        genome.order = [exact, others].concat();
        genome
    }

    fn place_exactly(&mut self, g: usize, genome: &Genome) -> bool {
        let group = &self.problem.groups[g];
        let gene = &genome.genes[g];
        let (Some(choice), true) = (group.options.get(gene.option), gene.starts.is_some()) else {
            return false;
        };
        let scene = Scene { index: g, group, choice, period: &self.problem.periods[group.period] };
        let wish = Wish::of(choice, gene, Some(gene)).and_nothing_else();
        let bake = choice.bake.as_ref().map(|bake| (bake, gene.not_before));
        self.attempt(scene, bake, wish)
    }

    /// Places in one oven in which all tins of a plan can stay, where they are found.
    fn keep_places(&self, genome: &mut Genome, plan: &ModelPlan, oven: usize) {
        let problem = self.problem;
        let mut tins: Vec<TinToStand<'_>> = Vec::new();
        for (g, seed) in plan.groups.iter().enumerate() {
            let Some(seed) = seed else { continue };
            let choice = &problem.groups[g].options[seed.option];
            let Some(bake) = &choice.bake else { continue };
            let (start, out) = (seed.starts[bake.load], seed.starts[bake.out]);
            let (end, only) = (out + choice.tasks[bake.out].minutes, problem.groups[g].shelf);
            let here = seed.ovens.iter().filter(|&&o| o == oven);
            tins.extend(here.map(|_| TinToStand { group: g, bake, only, start, end }));
        }
        let Some(places) = lasting_places(problem, oven, &tins, &|| self.is_stopped()) else {
            return;
        };
        let mut place_of: Vec<Vec<(usize, Spot)>> = vec![Vec::new(); genome.genes.len()];
        for (tin, place) in tins.iter().zip(places) {
            place_of[tin.group].push(place);
        }
        for (gene, mut places) in genome.genes.iter_mut().zip(place_of) {
            let Some(stand) = gene.stand.as_mut().filter(|_| !places.is_empty()) else { continue };
            let all = stand.iter().map(|at| match at.oven == oven {
                true => StandsAt { place: places.pop(), ..*at },
                false => *at,
            });
            *stand = all.collect();
        }
    }
}
