//! Shelf places against turns.

use super::spans::{Span, joined};
use super::{Bounder, Pace, batches, length_of};
use crate::graph::dag::Chain;
use crate::graph::footprint::{Footprint, pattern};
use crate::graph::problem::{BakeTask, Choice, GroupTask, ShelfTask};
use crate::model::Phase;

/// Shelf places against turns, for groups that share ovens at one time.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBound {
    /// Groups that bake.
    pub groups: usize,
    /// Those groups, as positions in the problem.
    pub who: Vec<usize>,
    /// The ovens, as positions in the problem.
    pub ovens: Vec<usize>,
    /// The period from whose start bell minutes are counted.
    pub from: usize,
    /// The period at whose end bell the last has to be out.
    pub until: usize,
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
    /// Minutes from the one bell to the other.
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

    /// So many of the groups are not served at least.
    pub fn left_out(&self) -> usize {
        self.groups - self.at_most()
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
type Baked<'p> = (usize, &'p GroupTask, &'p Choice, &'p BakeTask);

impl Bounder<'_> {
    /// Shelf places against turns for those groups of a span that bake
    /// whatever they choose, counting only choices the chain leaves them: a
    /// sum for all that share ovens.
    pub fn turns(&self, span: &Span, pace: Pace) -> Vec<TurnBound> {
        let (who, all) = self.baked(span, pace);
        let ovens = joined(all.iter().map(|(_, group, ..)| group.ovens.clone()));
        ovens
            .into_iter()
            .filter_map(|ovens| self.turns_in(span, pace, (&who, &all), ovens))
            .collect()
    }

    fn turns_in(
        &self,
        span: &Span,
        pace: Pace,
        (who, all): (&[usize], &[Baked<'_>]),
        ovens: Vec<usize>,
    ) -> Option<TurnBound> {
        let here = |group: &GroupTask| group.ovens.iter().any(|o| ovens.contains(o));
        let all: Vec<Baked<'_>> = all.iter().copied().filter(|(_, g, ..)| here(g)).collect();
        let of = |&g: &usize| here(&self.problem.groups[g]);
        let who: Vec<usize> = who.iter().copied().filter(of).collect();
        let least = Footprint::in_all(all.iter().map(|b| b.3.footprint))?;
        let height = all.iter().map(|b| b.3.height).min()?;
        let tins = all.iter().map(|b| b.3.tins).min()?;
        let shelves: Vec<ShelfTask> =
            ovens.iter().flat_map(|&o| self.problem.ovens[o].shelves.iter().copied()).collect();
        // Every tin contains the least footprint, so no mix of tins counts
        // more on a shelf than that does.
        let places: usize = shelves
            .iter()
            .filter(|s| s.clear >= height)
            .map(|s| pattern(least, s.space).at_most)
            .sum();
        let tins = usize::try_from(tins).unwrap_or(1).max(1);
        let bakes: Vec<&BakeTask> = all.iter().map(|b| b.3).collect();
        let batches = batches::at_one_time(&bakes, &shelves).filter(|&b| b < places / tins);
        let stays = all.iter().map(|(_, _, c, b)| {
            let minutes = |t: usize| length_of(&c.tasks[t], pace).unwrap_or(0.0);
            (minutes(b.load) + minutes(b.bake) + minutes(b.out), (minutes(b.load), minutes(b.out)))
        });
        let (turn, doors) = stays.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let ((g, before, opening), first_in) = soonest(all.iter().map(|&(g, group, c, b)| {
            let opening = self.class_minutes(group.period, Phase::Opening, pace);
            let chain = self.before_load(group, c, b, opening, pace);
            let at = self.bell(span, g) + opening.max(chain.from + chain.length);
            (((g, c), chain, opening), at)
        }))?;
        let start = f64::from(self.problem.periods[span.first()].start);
        // The last is out before whichever bell leaves it the most time.
        let ((group, choice, after), _) = soonest(all.iter().map(|&(_, group, c, b)| {
            let chain = self.after_out(group, c, b, pace);
            let closing = self.class_minutes(group.period, Phase::Closing, pace);
            let end = f64::from(self.problem.periods[group.period].end) - start;
            let left = end - closing - chain.length;
            ((group, c, chain), -left)
        }))?;
        let until = group.period;
        let closing = self.class_minutes(until, Phase::Closing, pace);
        let length = f64::from(self.problem.periods[until].end) - start;
        let mut way_in = self.way_in((g.0, g.1, before), opening, pace);
        let bell = self.bell(span, g.0);
        if bell > 0.0 {
            way_in.insert(0, ("until the bell".to_owned(), bell));
        }
        Some(TurnBound {
            groups: who.len(),
            who,
            ovens,
            from: span.first(),
            until,
            places: batches.unwrap_or(places),
            tins: if batches.is_some() { 1 } else { tins },
            by_batch: batches.is_some(),
            first_in,
            before: way_in,
            turn,
            doors,
            tail: after.length,
            after: self.steps(group, choice, &after),
            closing,
            length,
        })
    }

    /// The groups of a span that bake whatever they choose, and their choices,
    /// those of groups that are alike once.
    fn baked(&self, span: &Span, pace: Pace) -> (Vec<usize>, Vec<Baked<'_>>) {
        let mut all: Vec<Baked<'_>> = Vec::new();
        let mut who = Vec::new();
        // Groups that are alike have the same choices: those of one stand for
        // all of them.
        let mut known: Vec<(usize, bool)> = Vec::new();
        for &g in &span.groups {
            let group = &self.problem.groups[g];
            if let Some((_, bakes)) = known.iter().find(|(like, _)| *like == group.like) {
                who.extend(bakes.then_some(g));
                continue;
            }
            let possible = self.possible(group, pace);
            let baked: Vec<_> = possible
                .iter()
                .filter_map(|c| {
                    let choice = &group.options[c.choice];
                    choice.bake.as_ref().map(|bake| (g, group, choice, bake))
                })
                .collect();
            // A group that need not bake needs no place.
            let bakes = !baked.is_empty() && baked.len() == possible.len();
            known.push((group.like, bakes));
            if bakes {
                who.push(g);
                all.extend(baked);
            }
        }
        (who, all)
    }

    /// The steps from the start bell to the first load.
    fn way_in(
        &self,
        (group, choice, chain): (usize, &Choice, Chain),
        opening: f64,
        pace: Pace,
    ) -> Vec<(String, f64)> {
        let group = &self.problem.groups[group];
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
