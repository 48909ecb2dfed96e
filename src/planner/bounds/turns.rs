//! Shelf places against turns.

use super::{Bounder, Pace, batches, length_of};
use crate::graph::dag::Chain;
use crate::graph::footprint::{Footprint, pattern};
use crate::graph::problem::{BakeTask, Choice, GroupTask, ShelfTask};
use crate::model::Phase;

/// Shelf places against turns, for some groups of one period.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBound {
    /// Groups that bake.
    pub groups: usize,
    /// Tins that can stand in all ovens at one time; batches, if `by_batch`.
    pub places: usize,
    /// Tins a group has at least; 1, if `by_batch`.
    pub tins: usize,
    /// A place is one for a whole batch, whatever tins it is baked in.
    pub by_batch: bool,
    /// Earliest start of a load, in minutes from the start bell.
    pub first_in: f64,
    /// The chain that leads there: each step with its minutes. Class steps
    /// first, if it waits for them.
    pub before: Vec<(String, f64)>,
    /// Least minutes of loading, baking and taking out.
    pub turn: f64,
    /// Those of loading and of taking out in it.
    pub doors: (f64, f64),
    /// Least minutes from taken out to ready.
    pub tail: f64,
    /// The chain of them.
    pub after: Vec<(String, f64)>,
    /// Minutes of the closing steps.
    pub closing: f64,
    /// Minutes of the period.
    pub length: f64,
}

impl TurnBound {
    /// Groups whose tins can stand in the ovens at one time.
    pub fn per_turn(&self) -> usize {
        self.places / self.tins.max(1)
    }

    /// Turns that `groups` groups need.
    pub fn turns(&self, groups: usize) -> Option<usize> {
        (self.per_turn() > 0).then(|| groups.div_ceil(self.per_turn()))
    }

    /// Minutes from bell to bell for so many groups.
    #[allow(clippy::cast_precision_loss)] // a few turns
    pub fn total(&self, groups: usize) -> f64 {
        self.turns(groups).map_or(f64::INFINITY, |turns| {
            self.first_in + turns as f64 * self.turn + self.tail + self.closing
        })
    }

    /// No more than this many of the groups can be served.
    pub fn at_most(&self) -> usize {
        (0..=self.groups)
            .rev()
            .find(|&n| n == 0 || self.total(n) <= self.length + 1e-6)
            .unwrap_or(0)
    }
}

/// A choice that is baked, and whose it is.
type Baked<'p> = (&'p GroupTask, &'p Choice, &'p BakeTask);

impl Bounder<'_> {
    /// Shelf places against turns for those of a period's groups that bake
    /// whatever they choose, counting only choices the chain leaves them.
    pub fn turns(&self, period: usize, pace: Pace) -> Option<TurnBound> {
        let (groups, all) = self.baked(period, pace);
        let least = Footprint::in_all(all.iter().map(|(_, _, b)| b.footprint))?;
        let height = all.iter().map(|(_, _, b)| b.height).min()?;
        let tins = all.iter().map(|(_, _, b)| b.tins).min()?;
        let usable =
            (0..self.problem.ovens.len()).filter(|o| all.iter().any(|(g, ..)| g.ovens.contains(o)));
        let shelves: Vec<ShelfTask> =
            usable.flat_map(|o| self.problem.ovens[o].shelves.iter().copied()).collect();
        // Every tin contains the least footprint, so no mix of tins counts
        // more on a shelf than that does.
        let places: usize = shelves
            .iter()
            .filter(|s| s.clear >= height)
            .map(|s| pattern(least, s.space).at_most)
            .sum();
        let tins = usize::try_from(tins).unwrap_or(1).max(1);
        let bakes: Vec<&BakeTask> = all.iter().map(|b| b.2).collect();
        let batches = batches::at_one_time(&bakes, &shelves).filter(|&b| b < places / tins);
        let opening = self.class_minutes(period, Phase::Opening, pace);
        let of = &self.problem.periods[period];
        let stays = all.iter().map(|(_, c, b)| {
            let minutes = |t: usize| length_of(&c.tasks[t], pace).unwrap_or(0.0);
            (minutes(b.load) + minutes(b.bake) + minutes(b.out), (minutes(b.load), minutes(b.out)))
        });
        let (turn, doors) = stays.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let (before, first_in) = soonest(all.iter().map(|&(g, c, b)| {
            let chain = self.before_load(g, c, b, opening, pace);
            let at = opening.max(chain.from + chain.length);
            ((g, c, chain), at)
        }))?;
        let (after, tail) = soonest(all.iter().map(|&(g, c, b)| {
            let chain = self.after_out(g, c, b, pace);
            let length = chain.length;
            ((g, c, chain), length)
        }))?;
        Some(TurnBound {
            groups,
            places: batches.unwrap_or(places),
            tins: if batches.is_some() { 1 } else { tins },
            by_batch: batches.is_some(),
            first_in,
            before: self.way_in(before, opening, pace),
            turn,
            doors,
            tail,
            after: self.steps(after.0, after.1, &after.2),
            closing: self.class_minutes(period, Phase::Closing, pace),
            length: f64::from(of.end - of.start),
        })
    }

    /// How many of a period's groups bake whatever they choose, and their
    /// choices, those of groups that are alike once.
    fn baked(&self, period: usize, pace: Pace) -> (usize, Vec<Baked<'_>>) {
        let mut all: Vec<Baked<'_>> = Vec::new();
        let mut groups = 0;
        // Groups that are alike have the same choices: those of one stand for
        // all of them.
        let mut known: Vec<(usize, bool)> = Vec::new();
        for group in self.problem.groups.iter().filter(|g| g.period == period) {
            if let Some((_, bakes)) = known.iter().find(|(like, _)| *like == group.like) {
                groups += usize::from(*bakes);
                continue;
            }
            let possible = self.possible(group, pace);
            let baked: Vec<_> = possible
                .iter()
                .filter_map(|c| {
                    let choice = &group.options[c.choice];
                    choice.bake.as_ref().map(|bake| (group, choice, bake))
                })
                .collect();
            // A group that need not bake needs no place.
            let bakes = !baked.is_empty() && baked.len() == possible.len();
            known.push((group.like, bakes));
            if bakes {
                groups += 1;
                all.extend(baked);
            }
        }
        (groups, all)
    }

    /// The steps from the start bell to the first load.
    fn way_in(
        &self,
        (group, choice, chain): (&GroupTask, &Choice, Chain),
        opening: f64,
        pace: Pace,
    ) -> Vec<(String, f64)> {
        let class = || self.class_steps(group.period, Phase::Opening, pace);
        if chain.from + chain.length < opening {
            return class();
        }
        let mut all = if chain.from > 0.0 { class() } else { Vec::new() };
        all.extend(self.steps(group, choice, &chain));
        all
    }
}

/// What comes with the least of some figures.
fn soonest<T>(all: impl Iterator<Item = (T, f64)>) -> Option<(T, f64)> {
    all.min_by(|a, b| a.1.total_cmp(&b.1))
}
