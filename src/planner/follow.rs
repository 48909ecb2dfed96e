//! A plan of the solver's, followed: first all that goes exactly as it has it, then the
//! rest beside that.

use super::construct::{Constructor, Scene};
use super::genome::Genome;
use super::wish::Wish;

impl Constructor<'_> {
    /// The genome with those groups first that can be placed exactly where their genes have
    /// them, beside one another.
    pub fn in_order_of_fit(&mut self, mut genome: Genome) -> Genome {
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
}
