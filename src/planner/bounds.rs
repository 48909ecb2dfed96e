//! Pencil-and-paper bounds: the chain of least minutes against the period,
//! and shelf places against turns. Each keeps its sum, so that a teacher can
//! check it.

use crate::graph::Problem;
use crate::graph::dag::{Chain, Dag};
use crate::graph::packing::pattern;
use crate::graph::problem::{BakeTask, Choice, GroupTask, Task, When};
use crate::model::{Lesson, PeriodId, Phase};
use crate::plan::Bounds;

/// Which minutes a bound counts with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// Quick and unrounded: what not even the best lesson beats.
    Quick,
    /// As planned: what no plan beats.
    Planned,
}

/// Least minutes of one choice, from bell to bell. Work of hands waits for the
/// opening steps; what needs none, such as a dough that was set to prove
/// beforehand, does not.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainBound {
    /// Which choice of the group.
    pub choice: usize,
    /// Minutes of the opening steps; 0 if the chain does not wait for them.
    pub opening: f64,
    /// The longest chain of the group's own steps.
    pub chain: Chain,
    /// Minutes of the closing steps.
    pub closing: f64,
    /// Minutes of the period.
    pub length: f64,
}

impl ChainBound {
    /// Opening, chain and closing together.
    pub fn total(&self) -> f64 {
        self.opening + self.chain.length + self.closing
    }

    /// Whether the period is long enough.
    pub fn fits(&self) -> bool {
        self.total() <= self.length + 1e-6
    }
}

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

/// Computes bounds for one problem.
#[derive(Debug, Clone, Copy)]
pub struct Bounder<'a> {
    /// The lesson it comes from.
    pub lesson: &'a Lesson,
    /// The problem.
    pub problem: &'a Problem,
}

fn length_of(task: &Task, pace: Pace) -> Option<f64> {
    (task.when == When::InLesson).then(|| match pace {
        Pace::Quick => task.quick,
        Pace::Planned => f64::from(task.minutes),
    })
}

/// When a task may start, if the opening takes so long.
fn after_opening(task: &Task, opening: f64) -> f64 {
    if task.kind.is_hand() { opening } else { 0.0 }
}

impl<'a> Bounder<'a> {
    /// Minutes of a period's class steps in one phase.
    fn class_minutes(&self, period: usize, phase: Phase, pace: Pace) -> f64 {
        self.lesson
            .class_steps_in(PeriodId(period), phase)
            .map(|(_, step)| match pace {
                Pace::Quick => step.minutes.quick().get(),
                Pace::Planned => {
                    let caution = self.lesson.rules.caution;
                    f64::from(step.minutes.with_caution(caution).rounded_up().get())
                }
            })
            .sum()
    }

    fn dag(&self, group: &GroupTask, choice: &Choice) -> Dag {
        Dag::new(self.lesson.method_of(group.group, choice.method))
    }

    /// The chain bound of one choice.
    pub fn chain(&self, group: &GroupTask, choice: usize, pace: Pace) -> ChainBound {
        let of = &group.options[choice];
        let period = &self.problem.periods[group.period];
        let opening = self.class_minutes(group.period, Phase::Opening, pace);
        let chain = self.dag(group, of).longest_chain(
            |s| length_of(&of.tasks[s.0], pace),
            |s| after_opening(&of.tasks[s.0], opening),
        );
        ChainBound {
            choice,
            opening: chain.from,
            chain,
            closing: self.class_minutes(group.period, Phase::Closing, pace),
            length: f64::from(period.end - period.start),
        }
    }

    /// Whether the ovens a group may use have room for a choice at all.
    pub fn has_place(&self, group: &GroupTask, choice: &Choice) -> bool {
        let Some(bake) = &choice.bake else { return true };
        let places: usize = group
            .ovens
            .iter()
            .flat_map(|&o| &bake.at_most[o])
            .enumerate()
            .filter(|(shelf, _)| group.shelf.is_none_or(|only| only == *shelf))
            .map(|(_, places)| places)
            .sum();
        places >= usize::try_from(bake.tins).unwrap_or(0)
    }

    /// Choices of a group that neither the chain nor the lack of a place
    /// rules out.
    pub fn possible(&self, group: &GroupTask, pace: Pace) -> Vec<ChainBound> {
        (0..group.options.len())
            .filter(|&c| self.has_place(group, &group.options[c]))
            .map(|c| self.chain(group, c, pace))
            .filter(ChainBound::fits)
            .collect()
    }

    /// The choice with the shortest chain among those with a place.
    pub fn shortest(&self, group: &GroupTask, pace: Pace) -> Option<ChainBound> {
        (0..group.options.len())
            .filter(|&c| self.has_place(group, &group.options[c]))
            .map(|c| self.chain(group, c, pace))
            .min_by(|a, b| a.total().total_cmp(&b.total()))
    }

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

    /// The longest chain that must precede loading.
    pub fn before_load(
        &self,
        group: &GroupTask,
        of: &Choice,
        bake: &BakeTask,
        opening: f64,
        pace: Pace,
    ) -> Chain {
        let dag = self.dag(group, of);
        let before = dag.before(of.tasks[bake.load].step);
        dag.longest_chain(
            |s| before.contains(&s).then(|| length_of(&of.tasks[s.0], pace)).flatten(),
            |s| after_opening(&of.tasks[s.0], opening),
        )
    }

    /// The longest chain that must follow taking out.
    pub fn after_out(&self, group: &GroupTask, of: &Choice, bake: &BakeTask, pace: Pace) -> Chain {
        let dag = self.dag(group, of);
        let after = dag.after(of.tasks[bake.out].step);
        dag.longest_chain(
            |s| after.contains(&s).then(|| length_of(&of.tasks[s.0], pace)).flatten(),
            |_| 0.0,
        )
    }

    /// What no plan at planned minutes beats.
    pub fn planned(&self) -> Bounds {
        let groups = &self.problem.groups;
        let possible: Vec<Vec<ChainBound>> =
            groups.iter().map(|g| self.possible(g, Pace::Planned)).collect();
        let served = self.served_at_most(&possible);
        let mut departures: Vec<u64> = Vec::new();
        let mut shortfalls: Vec<i32> = Vec::new();
        for (group, possible) in groups.iter().zip(&possible) {
            let departure = |c: &ChainBound| group.options[c.choice].departure;
            let Some(least) = possible.iter().map(departure).min() else { continue };
            departures.push(least);
            let spare = possible
                .iter()
                .filter(|c| departure(c) == least)
                .map(|c| c.length - c.total())
                .fold(0.0, f64::max);
            shortfalls.push(shortfall(self.problem.wanted_spare, spare));
        }
        departures.sort_unstable();
        shortfalls.sort_unstable();
        let last = served.checked_sub(1).and_then(|i| shortfalls.get(i));
        Bounds {
            served_at_most: u32::try_from(served).unwrap_or(u32::MAX),
            departures_at_least: departures.iter().take(served).sum(),
            shortfall_at_least: last.copied().unwrap_or(0),
        }
    }

    fn served_at_most(&self, possible: &[Vec<ChainBound>]) -> usize {
        (0..self.problem.periods.len())
            .map(|period| {
                let able = self
                    .problem
                    .groups
                    .iter()
                    .zip(possible)
                    .filter(|(g, p)| g.period == period && !p.is_empty())
                    .count();
                match self.turns(period, Pace::Planned) {
                    Some(turns) => able - (turns.groups - turns.at_most()),
                    None => able,
                }
            })
            .sum()
    }
}

#[allow(clippy::cast_possible_truncation)] // minutes of a period
fn shortfall(wanted: i32, spare: f64) -> i32 {
    (f64::from(wanted) - spare - 1e-6).ceil().max(0.0) as i32
}
