//! The sums that leave groups out.

use std::cmp::Reverse;

use super::{Bounder, Pace, ShareBound, TurnBound};

/// Of a lesson at one pace the sums by which not all of some groups are
/// served.
#[derive(Debug, Clone, PartialEq)]
pub struct ShortSums {
    /// Shelf places against turns.
    pub turns: Vec<TurnBound>,
    /// Counted things against the time in which they are of use.
    pub shares: Vec<ShareBound>,
    /// The period of each group of the problem.
    periods: Vec<usize>,
}

impl ShortSums {
    /// The sums about all groups but those of `out`, of which it is known that
    /// they cannot be served even by themselves: what they would use is left
    /// to the others.
    pub fn new(bounder: Bounder<'_>, pace: Pace, out: &[usize]) -> Self {
        let (mut turns, mut shares) = (Vec::new(), Vec::new());
        for span in bounder.spans(out) {
            let several = span.periods.len() > 1;
            let period = |g: usize| bounder.problem.groups[g].period;
            let of_several = |t: &TurnBound| t.who.iter().any(|&g| period(g) != period(t.who[0]));
            let all = bounder.turns(&span, pace).into_iter();
            turns.extend(all.filter(|t| t.left_out() > 0 && (!several || of_several(t))));
            let all = bounder.shares(&span, pace).into_iter();
            shares.extend(all.filter(|s| s.left_out() > 0));
        }
        let periods = bounder.problem.groups.iter().map(|g| g.period).collect();
        Self { turns, shares, periods }
    }

    /// So many groups are left out in any plan: sums about groups of which
    /// none is the same add up.
    pub fn left_out(&self) -> usize {
        let turns = self.turns.iter().map(|t| (t.left_out(), &t.who));
        let mut all: Vec<(usize, &Vec<usize>)> =
            turns.chain(self.shares.iter().map(|s| (s.left_out(), &s.groups))).collect();
        all.sort_by_key(|&(left, who)| (Reverse(left), who.len()));
        let mut taken: Vec<usize> = Vec::new();
        let mut left_out = 0;
        for (left, who) in all {
            if !who.iter().any(|g| taken.contains(g)) {
                taken.extend(who);
                left_out += left;
            }
        }
        left_out
    }

    /// The turns that leave out some of the groups of which a group is one.
    pub fn turns_of(&self, group: usize) -> Option<&TurnBound> {
        let of = self.turns.iter().filter(|t| t.who.contains(&group));
        of.min_by_key(|t| Reverse(t.left_out()))
    }

    /// The sum that leaves out the most groups, one that a group has a part in
    /// if there is any; else one about others of its period that leaves out
    /// more than are in `not_served`, so that it may stand in for one of them.
    pub fn share_of(&self, group: usize, not_served: &[usize]) -> Option<&ShareBound> {
        let explained = |s: &&ShareBound| {
            let paid = not_served.iter().filter(|&&g| s.is_met_by(g)).count();
            let of_its_period = |&g: &usize| self.periods[g] == self.periods[group];
            s.is_met_by(group) || s.groups.iter().any(of_its_period) && paid < s.left_out()
        };
        let order = |s: &&ShareBound| (!s.is_met_by(group), Reverse(s.left_out()));
        self.shares.iter().filter(explained).min_by_key(order)
    }

    /// Whether a sum tells why a group is not served.
    pub fn tell(&self, group: usize, not_served: &[usize]) -> bool {
        self.turns_of(group).is_some() || self.share_of(group, not_served).is_some()
    }
}
