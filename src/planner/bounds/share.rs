//! Minutes in which counted things are in use against those there are.
//!
//! Of minutes that lie `spacing` apart, a use of so many minutes meets at
//! least as many as the spacing goes into it whole; and so many such minutes
//! can be chosen that no more lie in the time in which the thing is of use
//! than the spacing goes into that. With a spacing of a minute this is the sum
//! of all minutes; with one as long as a bake it is turns.

use super::spans::{Span, joined};
use super::{Bounder, Pace, TurnBound, after_opening, length_of};
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
    /// Places for whole batches, whatever tins they are baked in.
    Batches,
}

/// A sum for groups that are there at one time.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareBound {
    /// What is counted.
    pub of: ShareOf,
    /// Where it is kept, as positions among the problem's pools; of places, its
    /// ovens.
    pub kept: Vec<usize>,
    /// How many there are.
    pub there: usize,
    /// Minutes between two that are looked at.
    pub spacing: f64,
    /// How many of the minutes looked at each group that cannot do without it
    /// meets at least, times how much it uses, the least first.
    pub meets: Vec<usize>,
    /// Those groups, likewise, as positions in the problem.
    pub groups: Vec<usize>,
    /// The period from whose start bell minutes are counted.
    pub from: usize,
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

    /// Whether a group cannot do without it.
    pub fn is_met_by(&self, group: usize) -> bool {
        self.groups.contains(&group)
    }

    /// So many of the groups are not served at least.
    pub fn left_out(&self) -> usize {
        self.meets.len() - self.at_most()
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
/// earliest, and when it has to be over.
#[derive(Debug, Clone, Copy)]
struct UseOf {
    count: usize,
    minutes: f64,
    head: f64,
    last: f64,
}

/// What is counted, where it is kept, and how many there are.
struct Kind {
    of: ShareOf,
    kept: Vec<usize>,
    there: usize,
}

impl<'a> Bounder<'a> {
    /// The sums of a span, for each kind of kit, for adults and for places,
    /// each of what some groups share and at the spacing that allows the
    /// fewest of them. Of several periods only what is used in more than one.
    pub fn shares(&self, span: &Span, pace: Pace) -> Vec<ShareBound> {
        // Groups that differ in nothing but their names are looked at once.
        let mut alike: Vec<usize> = Vec::new();
        let mut timed: Vec<Vec<Timed<'_>>> = Vec::new();
        let mut of_group: Vec<(usize, usize)> = Vec::new();
        for &g in &span.groups {
            let group = &self.problem.groups[g];
            let place = alike.iter().position(|&a| a == group.like).unwrap_or_else(|| {
                let bell = self.bell(span, g);
                let options = self.possible(group, pace);
                let timed_of = |c: &super::ChainBound| self.timed(group, c.choice, bell, pace);
                alike.push(group.like);
                timed.push(options.iter().map(timed_of).collect());
                alike.len() - 1
            });
            if !timed[place].is_empty() {
                of_group.push((g, place));
            }
        }
        let kinds = self.kinds(span, &timed, pace);
        let share = |kind: &Kind| self.share(span, kind, (&timed, &of_group), pace);
        let period = |g: usize| self.problem.groups[g].period;
        let of_several =
            |s: &ShareBound| s.groups.iter().any(|&g| period(g) != period(s.groups[0]));
        let all = kinds.iter().filter_map(share);
        all.filter(|s| span.periods.len() == 1 || of_several(s)).collect()
    }

    fn kinds(&self, span: &Span, timed: &[Vec<Timed<'_>>], pace: Pace) -> Vec<Kind> {
        let options = || timed.iter().flatten();
        let needs = options().flat_map(|t| {
            let of_tasks = t.choice.tasks.iter().flat_map(|task| &task.needs);
            of_tasks.chain(t.choice.holds.iter().map(|h| &h.need))
        });
        let mut kits: Vec<(KitId, Vec<Vec<usize>>)> = Vec::new();
        for need in needs {
            let Some(&first) = need.pools.first() else { continue };
            let PoolOf::Kit(pool) = self.problem.pools[first].of else { continue };
            let kit = self.lesson.kit_pools[pool.0].kit;
            match kits.iter_mut().find(|(k, _)| *k == kit) {
                Some((_, lists)) if lists.contains(&need.pools) => {}
                Some((_, lists)) => lists.push(need.pools.clone()),
                None => kits.push((kit, vec![need.pools.clone()])),
            }
        }
        let counted = |of: ShareOf, kept: Vec<usize>| {
            let count = |&p: &usize| usize::try_from(self.problem.pools[p].count).unwrap_or(0);
            let there = kept.iter().map(count).fold(0, usize::saturating_add);
            Kind { of, kept, there }
        };
        let mut kinds: Vec<Kind> = Vec::new();
        for (kit, lists) in kits {
            kinds.extend(joined(lists).into_iter().map(|kept| counted(ShareOf::Kit(kit), kept)));
        }
        let with_adult = options().filter(|t| t.choice.tasks.iter().any(|task| task.with_adult));
        let adults = joined(with_adult.map(|t| t.group.adults.clone()));
        kinds.extend(adults.into_iter().map(|kept| counted(ShareOf::Adults, kept)));
        let turns = self.turns(span, pace);
        kinds.extend(turns.into_iter().map(|TurnBound { by_batch, places, ovens, .. }| Kind {
            of: if by_batch { ShareOf::Batches } else { ShareOf::Places },
            kept: ovens,
            there: places,
        }));
        kinds
    }

    fn share(
        &self,
        span: &Span,
        kind: &Kind,
        (timed, of_group): (&[Vec<Timed<'_>>], &[(usize, usize)]),
        pace: Pace,
    ) -> Option<ShareBound> {
        let uses: Vec<Vec<Vec<UseOf>>> =
            timed.iter().map(|group| group.iter().map(|t| t.uses(kind)).collect()).collect();
        let every = || uses.iter().flatten().flatten();
        let least = |f: fn(&UseOf) -> f64| every().map(f).fold(f64::INFINITY, f64::min);
        let first = least(|u| u.head);
        let last = every().map(|u| u.last).fold(f64::NEG_INFINITY, f64::max);
        if !first.is_finite() || every().all(|u| u.minutes <= 0.0) {
            return None;
        }
        let mut spacings: Vec<f64> = every().map(|u| u.minutes).filter(|&m| m >= 0.5).collect();
        spacings.push(if pace == Pace::Planned { 1.0 } else { 0.5 });
        spacings.sort_by(f64::total_cmp);
        spacings.dedup();
        let bound = |spacing: f64| {
            let of: Vec<usize> = uses.iter().map(|group| met(group, spacing)).collect();
            let mut meets: Vec<(usize, usize)> = of_group
                .iter()
                .map(|&(g, place)| (of[place], g))
                .filter(|&(met, _)| met > 0)
                .collect();
            meets.sort_unstable();
            let (meets, groups) = meets.into_iter().unzip();
            let (of, kept, there) = (kind.of.clone(), kind.kept.clone(), kind.there);
            ShareBound { of, kept, there, spacing, meets, groups, from: span.first(), first, last }
        };
        let all = spacings.into_iter().map(bound).filter(|s| !s.groups.is_empty());
        all.min_by_key(|s| std::cmp::Reverse(s.left_out()))
    }

    /// When each step of an option can begin at the earliest and when it has to
    /// be over for the rest to be done; its period's bell is `bell` minutes
    /// after that of the span.
    fn timed(&self, group: &'a GroupTask, option: usize, bell: f64, pace: Pace) -> Timed<'a> {
        let choice = &group.options[option];
        let opening = self.class_minutes(group.period, Phase::Opening, pace);
        let period = &self.problem.periods[group.period];
        let closing = self.class_minutes(group.period, Phase::Closing, pace);
        let end = bell + f64::from(period.end - period.start) - closing;
        let dag = self.dag(group, choice);
        let lengths: Vec<Option<f64>> = choice.tasks.iter().map(|t| length_of(t, pace)).collect();
        let before =
            dag.ends_before(|s| lengths[s.0], |s| after_opening(&choice.tasks[s.0], opening));
        let heads =
            choice.tasks.iter().map(|t| bell + before[t.step.0].max(after_opening(t, opening)));
        let heads = heads.collect();
        let after = dag.lengths_after(|s| lengths[s.0]);
        let lasts = choice.tasks.iter().map(|t| end - after[t.step.0]).collect();
        let follows = |h: &HoldTask| {
            let (from, to) = (&choice.tasks[h.from], &choice.tasks[h.to]);
            dag.after(from.step).into_iter().any(|s| s == to.step)
        };
        let in_order = choice.holds.iter().map(follows).collect();
        Timed { group, choice, heads, lasts, lengths, in_order }
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
    group: &'a GroupTask,
    choice: &'a Choice,
    heads: Vec<f64>,
    lasts: Vec<f64>,
    lengths: Vec<Option<f64>>,
    /// For each hold, whether its last step follows its first.
    in_order: Vec<bool>,
}

impl Timed<'_> {
    fn uses(&self, Kind { of, kept, .. }: &Kind) -> Vec<UseOf> {
        let within = |pools: &[usize]| !pools.is_empty() && pools.iter().all(|p| kept.contains(p));
        let amount = |n: i32| usize::try_from(n).unwrap_or(0);
        let one = |t: usize, count: i32| {
            let minutes = self.lengths[t].unwrap_or(0.0);
            let use_of =
                UseOf { count: amount(count), minutes, head: self.heads[t], last: self.lasts[t] };
            (minutes > 0.0 && count > 0).then_some(use_of)
        };
        let mut uses = Vec::new();
        match of {
            ShareOf::Places | ShareOf::Batches => {
                let bake = self.choice.bake.as_ref().filter(|_| within(&self.group.ovens));
                uses.extend(bake.map(|bake| {
                    let all = [bake.load, bake.bake, bake.out];
                    let minutes = all.iter().filter_map(|&t| self.lengths[t]).sum();
                    let (head, last) = (self.heads[bake.load], self.lasts[bake.out]);
                    let count = if *of == ShareOf::Batches { 1 } else { amount(bake.tins) };
                    UseOf { count, minutes, head, last }
                }));
            }
            ShareOf::Adults if self.group.adults.iter().any(|a| !kept.contains(a)) => {}
            ShareOf::Adults if self.group.adults.is_empty() != kept.is_empty() => {}
            ShareOf::Adults => {
                let tasks = self.choice.tasks.iter().enumerate().filter(|(_, t)| t.with_adult);
                uses.extend(tasks.filter_map(|(t, _)| one(t, 1)));
            }
            ShareOf::Kit(_) => {
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
        let (head, last) = (self.heads[hold.from], self.lasts[hold.to]);
        (minutes > 0.0 && count > 0).then_some(UseOf { count, minutes, head, last })
    }
}
