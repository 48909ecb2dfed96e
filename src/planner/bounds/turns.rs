//! Shelf places against turns.

use super::{Bounder, Pace, length_of};
use crate::graph::packing::pattern;
use crate::graph::problem::{BakeTask, Choice, GroupTask};
use crate::model::Phase;

/// Shelf places against turns, for some groups of one period.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBound {
    /// Groups that bake.
    pub groups: usize,
    /// Tins that can stand in all ovens at one time.
    pub places: usize,
    /// Tins a group has at least.
    pub tins: usize,
    /// Earliest start of a load, in minutes from the start bell.
    pub first_in: f64,
    /// Least minutes of loading, baking and taking out.
    pub turn: f64,
    /// Least minutes from taken out to ready.
    pub tail: f64,
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

impl Bounder<'_> {
    /// Shelf places against turns for those of a period's groups that bake
    /// whatever they choose, counting only choices the chain leaves them.
    pub fn turns(&self, period: usize, pace: Pace) -> Option<TurnBound> {
        let mut all: Vec<(&GroupTask, &Choice, &BakeTask)> = Vec::new();
        let mut groups = 0;
        for group in self.problem.groups.iter().filter(|g| g.period == period) {
            let possible = self.possible(group, pace);
            let baked: Vec<_> = possible
                .iter()
                .filter_map(|c| {
                    let choice = &group.options[c.choice];
                    choice.bake.as_ref().map(|bake| (group, choice, bake))
                })
                .collect();
            // A group that need not bake needs no place.
            if !baked.is_empty() && baked.len() == possible.len() {
                groups += 1;
                all.extend(baked);
            }
        }
        let short = all.iter().map(|(_, _, b)| b.rim.0.min(b.rim.1)).min()?;
        let long = all.iter().map(|(_, _, b)| b.rim.0.max(b.rim.1)).min()?;
        let height = all.iter().map(|(_, _, b)| b.height).min()?;
        let tins = all.iter().map(|(_, _, b)| b.tins).min()?;
        let least = |f: &dyn Fn(&GroupTask, &Choice, &BakeTask) -> f64| {
            all.iter().map(|(g, c, b)| f(g, c, b)).fold(f64::INFINITY, f64::min)
        };
        let usable =
            (0..self.problem.ovens.len()).filter(|o| all.iter().any(|(g, ..)| g.ovens.contains(o)));
        // Every tin contains the least rectangle, so no mix of tins counts
        // more on a shelf than that rectangle does.
        let places = usable
            .flat_map(|o| &self.problem.ovens[o].shelves)
            .filter(|s| s.clear >= height)
            .map(|s| pattern(long, short, s.space).at_most)
            .sum();
        let opening = self.class_minutes(period, Phase::Opening, pace);
        let of = &self.problem.periods[period];
        Some(TurnBound {
            groups,
            places,
            tins: usize::try_from(tins).unwrap_or(1),
            first_in: least(&|g, c, b| {
                let chain = self.before_load(g, c, b, opening, pace);
                opening.max(chain.from + chain.length)
            }),
            turn: least(&|_, c, b| {
                [b.load, b.bake, b.out].iter().filter_map(|&t| length_of(&c.tasks[t], pace)).sum()
            }),
            tail: least(&|g, c, b| self.after_out(g, c, b, pace).length),
            closing: self.class_minutes(period, Phase::Closing, pace),
            length: f64::from(of.end - of.start),
        })
    }
}
