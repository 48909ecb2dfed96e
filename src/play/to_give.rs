//! How many minutes later than planned a group may be, exactly and without
//! odds.
//!
//! Everybody takes their planned minutes and nothing begins before its plan;
//! one group, or one step of it, is so much later. What it holds up is later
//! too. This is a step's total float among the plan's orders, of critical-path
//! scheduling, with doors that must stay shut and stops of the class.

use super::calls::calls;
use super::network::{Minutes, Network, What};
use super::run::Play;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, StepId};

/// What a group has to give.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GroupToGive {
    /// Which.
    pub group: GroupId,
    /// How many whole minutes later it may run, all its steps alike.
    pub minutes: i32,
    /// Each of its steps that is played, in the order of the plan.
    pub steps: Vec<StepToGive>,
}

/// What a group has to give at one of its steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepToGive {
    /// Which.
    pub step: StepId,
    /// How many whole minutes later it may begin.
    pub minutes: i32,
    /// For a load, how much later its whole call may be: all that load within
    /// the minutes of one call.
    pub call: Option<i32>,
}

/// No lesson has more than this to give, in minutes.
const MOST: i32 = 24 * 60;

/// Plans played with planned minutes, some of it later.
struct Later<'n> {
    play: Play<'n>,
    planned: Vec<f64>,
    starts: Vec<f64>,
    minutes: Minutes,
}

impl<'n> Later<'n> {
    fn new(network: &'n Network<'n>) -> Self {
        let planned: Vec<f64> = network.nodes.iter().map(|n| n.start).collect();
        let play = Play::new(network, planned.clone());
        Self { play, starts: planned.clone(), planned, minutes: network.planned_minutes() }
    }

    /// The most whole minutes by which these nodes may be late, so that by any
    /// fewer they may be too: all groups are still out.
    fn most(&mut self, nodes: &[usize]) -> i32 {
        let network = self.play.network();
        for late in 1..=MOST {
            self.starts.clone_from(&self.planned);
            for &node in nodes {
                self.starts[node] += f64::from(late);
            }
            self.play.set_earliest(&self.starts);
            self.play.run(&self.minutes);
            if (0..network.groups.len()).any(|g| !self.play.is_out(g, &self.minutes)) {
                return late - 1;
            }
        }
        MOST
    }
}

/// How many whole minutes later each served group may run, all its steps
/// alike, in the order of the groups.
pub fn groups_to_give(lesson: &Lesson, plan: &CheckedPlan) -> Vec<(GroupId, i32)> {
    let network = Network::new(lesson, plan);
    let mut later = Later::new(&network);
    network.groups.iter().map(|played| (played.group, later.most(&played.nodes))).collect()
}

/// What every served group has to give, at each of its steps.
pub fn to_give(lesson: &Lesson, plan: &CheckedPlan) -> Vec<GroupToGive> {
    let network = Network::new(lesson, plan);
    let calls = calls(&network);
    let mut later = Later::new(&network);
    let groups = network.groups.iter().map(|played| {
        let minutes = later.most(&played.nodes);
        let steps = played.nodes.iter().filter_map(|&node| {
            let What::Step(_, step) = network.nodes[node].what else { return None };
            let call = calls.iter().find(|c| c.loads.contains(&node));
            let call = call.map(|call| later.most(&call.loads));
            Some(StepToGive { step, minutes: later.most(&[node]), call })
        });
        GroupToGive { group: played.group, minutes, steps: steps.collect() }
    });
    groups.collect()
}
