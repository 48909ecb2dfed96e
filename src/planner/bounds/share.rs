//! Minutes in which counted things are in use against those there are.
//!
//! Of minutes that lie `spacing` apart, a use of so many minutes meets at
//! least as many as the spacing goes into it whole; and so many such minutes
//! can be chosen that no more lie in the time in which the thing is of use
//! than the spacing goes into that. With a spacing of a minute this is the sum
//! of all minutes; with one as long as a bake it is turns.

use super::{Bounder, Pace, after_opening, length_of};
use crate::graph::problem::{Choice, GroupTask, HoldTask, PoolOf, WhenDone};
use crate::model::{KitId, Phase};

/// What is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShareOf {
    /// Kit of a kind, in the pools that serve it.
    Kit(KitId),
    /// Adults for steps that occupy one.
    Adults,
    /// Places on shelves, for every tin that contains the smallest of some.
    Places,
}

/// A sum for one period.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareBound {
    /// What is counted.
    pub of: ShareOf,
    /// How many there are.
    pub there: usize,
    /// Minutes between two that are looked at.
    pub spacing: f64,
    /// How many of the minutes looked at each group that may be served meets
    /// at least, times how much it uses, the least first.
    pub meets: Vec<usize>,
    /// Those groups, likewise, as positions in the problem.
    pub groups: Vec<usize>,
    /// First minute of use.
    pub first: f64,
    /// Minute before which all use ends.
    pub last: f64,
}

impl ShareBound {
    /// Minutes looked at, times how many there are.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few hundred
    pub fn room(&self) -> usize {
        let minutes = ((self.last - self.first) / self.spacing + 1e-6).floor().max(0.0);
        (minutes as usize).saturating_mul(self.there)
    }

    /// Whether a group takes any of it.
    pub fn is_met_by(&self, group: usize) -> bool {
        self.groups.iter().zip(&self.meets).any(|(&g, &met)| g == group && met > 0)
    }

    /// No more groups can be served than those that use least, as long as
    /// there is room for them.
    pub fn at_most(&self) -> usize {
        let room = self.room();
        let mut taken = 0_usize;
        self.meets
            .iter()
            .take_while(|&&more| {
                taken = taken.saturating_add(more);
                taken <= room
            })
            .count()
    }
}

/// One use of something by an option: how much, for how long, from when at the
/// earliest, and what must follow it.
#[derive(Debug, Clone, Copy)]
struct UseOf {
    count: usize,
    minutes: f64,
    head: f64,
    tail: f64,
}

/// What is counted and the pools it comes from.
type Kind = (ShareOf, Vec<usize>);

impl<'a> Bounder<'a> {
    /// The sums of a period, for each kind of kit, for adults and for places,
    /// each at the spacing that allows the fewest groups.
    pub fn shares(&self, period: usize, pace: Pace) -> Vec<ShareBound> {
        // Groups that differ in nothing but their names are looked at once.
        let mut alike: Vec<usize> = Vec::new();
        let mut timed: Vec<Vec<Timed<'_>>> = Vec::new();
        let mut of_group: Vec<(usize, usize)> = Vec::new();
        for (g, group) in self.problem.groups.iter().enumerate() {
            if group.period != period {
                continue;
            }
            let place = alike.iter().position(|&a| a == group.like).unwrap_or_else(|| {
                let options = self.possible(&self.problem.groups[g], pace);
                alike.push(group.like);
                timed.push(options.iter().map(|c| self.timed(group, c.choice, pace)).collect());
                alike.len() - 1
            });
            if !timed[place].is_empty() {
                of_group.push((g, place));
            }
        }
        let mut kinds: Vec<Kind> = Vec::new();
        for need in timed.iter().flatten().flat_map(|t| {
            let of_tasks = t.choice.tasks.iter().flat_map(|task| &task.needs);
            of_tasks.chain(t.choice.holds.iter().map(|h| &h.need))
        }) {
            let Some(&first) = need.pools.first() else { continue };
            let PoolOf::Kit(pool) = self.problem.pools[first].of else { continue };
            let of = ShareOf::Kit(self.lesson.kit_pools[pool.0].kit);
            if kinds.iter().all(|(k, _)| *k != of) {
                let same = |p: &usize| match self.problem.pools[*p].of {
                    PoolOf::Kit(q) => ShareOf::Kit(self.lesson.kit_pools[q.0].kit) == of,
                    _ => false,
                };
                let pools = (0..self.problem.pools.len()).filter(same).collect();
                kinds.push((of, pools));
            }
        }
        let is_adult = |p: &usize| matches!(self.problem.pools[*p].of, PoolOf::Adult(_));
        let adults = (0..self.problem.pools.len()).filter(is_adult).collect();
        kinds.push((ShareOf::Adults, adults));
        kinds.push((ShareOf::Places, Vec::new()));
        kinds
            .iter()
            .filter_map(|kind| self.share(period, kind, (&timed, &of_group), pace))
            .collect()
    }

    fn share(
        &self,
        period: usize,
        kind: &Kind,
        (timed, of_group): (&[Vec<Timed<'_>>], &[(usize, usize)]),
        pace: Pace,
    ) -> Option<ShareBound> {
        let mut uses: Vec<Vec<Vec<UseOf>>> =
            timed.iter().map(|group| group.iter().map(|t| t.uses(kind)).collect()).collect();
        let there = match kind.0 {
            ShareOf::Places => {
                let turns = self.turns(period, pace);
                if turns.as_ref().is_some_and(|turns| turns.by_batch) {
                    uses.iter_mut().flatten().flatten().for_each(|place| place.count = 1);
                }
                turns.map_or(0, |turns| turns.places)
            }
            _ => {
                let count = |&p: &usize| usize::try_from(self.problem.pools[p].count).unwrap_or(0);
                kind.1.iter().map(count).fold(0, usize::saturating_add)
            }
        };
        let every = || uses.iter().flatten().flatten();
        let least = |f: fn(&UseOf) -> f64| every().map(f).fold(f64::INFINITY, f64::min);
        let of = &self.problem.periods[period];
        let closing = self.class_minutes(period, Phase::Closing, pace);
        let first = least(|u| u.head);
        let last = f64::from(of.end - of.start) - closing - least(|u| u.tail);
        if !first.is_finite() || every().all(|u| u.minutes <= 0.0) {
            return None;
        }
        let mut spacings: Vec<f64> = every().map(|u| u.minutes).filter(|&m| m >= 0.5).collect();
        spacings.push(if pace == Pace::Planned { 1.0 } else { 0.5 });
        spacings.sort_by(f64::total_cmp);
        spacings.dedup();
        let bound = |spacing: f64| {
            let of: Vec<usize> = uses.iter().map(|group| met(group, spacing)).collect();
            let mut meets: Vec<(usize, usize)> =
                of_group.iter().map(|&(g, place)| (of[place], g)).collect();
            meets.sort_unstable();
            let (meets, groups) = meets.into_iter().unzip();
            ShareBound { of: kind.0.clone(), there, spacing, meets, groups, first, last }
        };
        spacings.into_iter().map(bound).min_by_key(ShareBound::at_most)
    }

    /// When each step of an option can begin at the earliest and what must
    /// follow it.
    fn timed(&self, group: &'a GroupTask, option: usize, pace: Pace) -> Timed<'a> {
        let choice = &group.options[option];
        let opening = self.class_minutes(group.period, Phase::Opening, pace);
        let dag = self.dag(group, choice);
        let lengths: Vec<Option<f64>> = choice.tasks.iter().map(|t| length_of(t, pace)).collect();
        let before =
            dag.ends_before(|s| lengths[s.0], |s| after_opening(&choice.tasks[s.0], opening));
        let heads = choice.tasks.iter().map(|t| before[t.step.0].max(after_opening(t, opening)));
        let heads = heads.collect();
        let after = dag.lengths_after(|s| lengths[s.0]);
        let tails = choice.tasks.iter().map(|t| after[t.step.0]).collect();
        let follows = |h: &HoldTask| {
            let (from, to) = (&choice.tasks[h.from], &choice.tasks[h.to]);
            dag.after(from.step).into_iter().any(|s| s == to.step)
        };
        let in_order = choice.holds.iter().map(follows).collect();
        Timed { choice, heads, tails, lengths, in_order }
    }
}

/// How many of the minutes looked at a group meets at least, whatever option
/// it has.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few hundred
fn met(options: &[Vec<UseOf>], spacing: f64) -> usize {
    let of = |uses: &Vec<UseOf>| -> usize {
        let whole = |u: &UseOf| u.count * ((u.minutes / spacing + 1e-6).floor().max(0.0) as usize);
        uses.iter().map(whole).sum()
    };
    options.iter().map(of).min().unwrap_or(0)
}

struct Timed<'a> {
    choice: &'a Choice,
    heads: Vec<f64>,
    tails: Vec<f64>,
    lengths: Vec<Option<f64>>,
    /// For each hold, whether its last step follows its first.
    in_order: Vec<bool>,
}

impl Timed<'_> {
    fn uses(&self, (of, pools): &Kind) -> Vec<UseOf> {
        let amount = |n: i32| usize::try_from(n).unwrap_or(0);
        let one = |t: usize, count: i32| {
            let minutes = self.lengths[t].unwrap_or(0.0);
            let use_of =
                UseOf { count: amount(count), minutes, head: self.heads[t], tail: self.tails[t] };
            (minutes > 0.0 && count > 0).then_some(use_of)
        };
        let mut uses = Vec::new();
        match of {
            ShareOf::Places => uses.extend(self.choice.bake.as_ref().map(|bake| {
                let all = [bake.load, bake.bake, bake.out];
                let minutes = all.iter().filter_map(|&t| self.lengths[t]).sum();
                let (head, tail) = (self.heads[bake.load], self.tails[bake.out]);
                UseOf { count: amount(bake.tins), minutes, head, tail }
            })),
            ShareOf::Adults => {
                let tasks = self.choice.tasks.iter().enumerate().filter(|(_, t)| t.with_adult);
                uses.extend(tasks.filter_map(|(t, _)| one(t, 1)));
            }
            ShareOf::Kit(_) => {
                let within = |pools_of: &[usize]| {
                    !pools_of.is_empty() && pools_of.iter().all(|p| pools.contains(p))
                };
                for (t, task) in self.choice.tasks.iter().enumerate() {
                    for need in task.needs.iter().filter(|n| within(&n.pools)) {
                        uses.extend(one(t, need.count));
                    }
                }
                let holds = self.choice.holds.iter().zip(&self.in_order);
                for (hold, &in_order) in holds.filter(|(h, _)| within(&h.need.pools)) {
                    uses.extend(self.held(hold, in_order));
                }
            }
        }
        uses
    }

    /// The shortest a hold can be: its first and its last step, one after the
    /// other.
    fn held(&self, hold: &HoldTask, in_order: bool) -> Option<UseOf> {
        let when = |t: usize| self.choice.tasks[t].when;
        if when(hold.from) != WhenDone::InLesson || when(hold.to) != WhenDone::InLesson {
            return None;
        }
        let of = |t: usize| self.lengths[t].unwrap_or(0.0);
        let minutes = match (hold.from == hold.to, in_order) {
            (true, _) => of(hold.from),
            (false, true) => of(hold.from) + of(hold.to),
            (false, false) => return None,
        };
        let count = usize::try_from(hold.need.count).unwrap_or(0);
        let (head, tail) = (self.heads[hold.from], self.tails[hold.to]);
        (minutes > 0.0 && count > 0).then_some(UseOf { count, minutes, head, tail })
    }
}
