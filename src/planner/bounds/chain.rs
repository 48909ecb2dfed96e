//! The chain of least minutes against the period.

use super::{Bounder, Pace, after_opening, length_of};
use crate::graph::dag::Chain;
use crate::graph::problem::{BakeTask, Choice, GroupTask};
use crate::model::Phase;

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

impl Bounder<'_> {
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
}
