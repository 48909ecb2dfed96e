//! Pencil-and-paper bounds: the chain of least minutes against the period,
//! shelf places against turns, and the minutes in which counted things are in
//! use against those there are. Each keeps its sum, so that a teacher can
//! check it.

mod batches;
mod chain;
mod share;
mod short;
mod spans;
mod turns;

pub use chain::ChainBound;
pub use share::{ShareBound, ShareOf};
pub use short::ShortSums;
pub use spans::{Span, beside};
pub use turns::TurnBound;

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::graph::Problem;
use crate::graph::dag::{Chain, Dag};
use crate::graph::problem::{Choice, GroupTask, Task, WhenDone};
use crate::model::{ClassStep, Lesson, PeriodId, Phase};
use crate::plan::Bounds;
pub use crate::plan::why::Pace;

/// Computes bounds for one problem.
#[derive(Debug, Clone, Copy)]
pub struct Bounder<'a> {
    /// The lesson it comes from.
    pub lesson: &'a Lesson,
    /// The problem.
    pub problem: &'a Problem,
}

fn length_of(task: &Task, pace: Pace) -> Option<f64> {
    (task.when == WhenDone::InLesson).then(|| match pace {
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
    pub fn class_minutes(&self, period: usize, phase: Phase, pace: Pace) -> f64 {
        self.class_steps(period, phase, pace).iter().map(|(_, minutes)| minutes).sum()
    }

    /// A period's class steps in one phase, each with its minutes.
    pub fn class_steps(&self, period: usize, phase: Phase, pace: Pace) -> Vec<(String, f64)> {
        let minutes = |step: &ClassStep| match pace {
            Pace::Quick => step.minutes.quick().get(),
            Pace::Planned => {
                let caution = self.lesson.rules.caution;
                f64::from(step.minutes.with_caution(caution).rounded_up().get())
            }
        };
        let steps = self.lesson.class_steps_in(PeriodId(period), phase);
        steps.map(|(_, step)| (step.name.clone(), minutes(step))).collect()
    }

    /// The steps of a chain, each with its minutes; least gaps between them
    /// are called "wait".
    pub fn steps(&self, group: &GroupTask, choice: &Choice, chain: &Chain) -> Vec<(String, f64)> {
        let method = self.lesson.method_of(group.group, choice.method);
        let mut all = Vec::new();
        for &(step, minutes, gap) in &chain.steps {
            if gap > 0.0 {
                all.push(("wait".to_owned(), gap));
            }
            all.push((method.steps[step.0].name.clone(), minutes));
        }
        all
    }

    fn dag(&self, group: &GroupTask, choice: &Choice) -> Dag {
        Dag::new(self.lesson.method_of(group.group, choice.method))
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

    /// Of some groups, those that the chain or the lack of a place rules out.
    pub fn impossible(&self, groups: &[usize], pace: Pace) -> Vec<usize> {
        let mut known: BTreeMap<usize, bool> = BTreeMap::new();
        let mut impossible = groups.to_vec();
        impossible.retain(|&g| {
            let group = &self.problem.groups[g];
            let look = || self.possible(group, pace).is_empty();
            *known.entry(group.like).or_insert_with(look)
        });
        impossible
    }

    /// What no plan at planned minutes beats.
    pub fn planned(&self) -> Bounds {
        let groups = &self.problem.groups;
        // Groups that are alike are looked at once.
        let mut known: BTreeMap<usize, Rc<Vec<ChainBound>>> = BTreeMap::new();
        let of = |g: &GroupTask| {
            let possible = || Rc::new(self.possible(g, Pace::Planned));
            Rc::clone(known.entry(g.like).or_insert_with(possible))
        };
        let possible: Vec<Rc<Vec<ChainBound>>> = groups.iter().map(of).collect();
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

    fn served_at_most(&self, possible: &[Rc<Vec<ChainBound>>]) -> usize {
        let able = possible.iter().filter(|p| !p.is_empty()).count();
        able - ShortSums::new(*self, Pace::Planned, &[]).left_out()
    }
}

#[allow(clippy::cast_possible_truncation)] // minutes of a period
fn shortfall(wanted: i32, spare: f64) -> i32 {
    (f64::from(wanted) - spare - 1e-6).ceil().max(0.0) as i32
}
