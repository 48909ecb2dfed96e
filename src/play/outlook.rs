//! A plan played on from what is known in mid-lesson: when each group will be
//! ready.
//!
//! Everybody takes their planned minutes and nothing begins before its plan. A
//! group that is late is so with all that follows; what it is in the middle of
//! lasts so much longer. What it holds up is later too.

use super::network::{Network, minutes as time};
use super::run::Play;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Slip};
use crate::units::Minute;

/// What a difference of times is forgiven, in minutes.
const DUST: f64 = 1e-6;

/// When a group is expected to be ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Expected {
    /// Which.
    pub group: GroupId,
    /// The first whole minute at which it is; `None` where that is never, as
    /// nobody is there to serve it.
    pub ready: Option<Minute>,
    /// Minutes from there to the closing steps; negative if it is late.
    pub spare: i32,
    /// Whether something of it waits longer than its link allows.
    pub waits_too_long: bool,
}

impl Expected {
    /// Whether it is ready by the closing steps, and nothing of it waits too long.
    pub fn is_out(&self) -> bool {
        self.ready.is_some() && self.spare >= 0 && !self.waits_too_long
    }
}

/// Plays a plan on from a minute. A group is in one slip at most; in none it is on
/// plan.
pub fn outlook(lesson: &Lesson, plan: &CheckedPlan, slips: &[Slip], now: Minute) -> Vec<Expected> {
    let network = Network::new(lesson, plan);
    let now = time(now);
    let mut minutes = network.planned_minutes();
    let mut starts: Vec<f64> = network.nodes.iter().map(|n| n.start).collect();
    for slip in slips {
        let of_group = network.groups.iter().filter(|g| g.group == slip.group);
        let (from, late) = (time(slip.from), f64::from(slip.late.get()));
        for &node in of_group.flat_map(|g| &g.nodes) {
            let of = &network.nodes[node];
            if from <= of.start + DUST {
                starts[node] += late;
            } else if from < of.end - DUST {
                minutes.nodes[node] += late;
            }
        }
    }
    let begun: Vec<Option<f64>> =
        starts.iter().map(|&start| Some(start).filter(|&start| start < now - DUST)).collect();
    let mut play = Play::new(&network, starts);
    play.set_begun(begun);
    play.run(&minutes);
    let expected = network.groups.iter().enumerate().map(|(g, played)| {
        let ready = play.ready(g);
        Expected {
            group: played.group,
            ready: ready.is_finite().then(|| Minute::new(whole((ready - DUST).ceil()))),
            spare: whole((play.spare(g, &minutes) + DUST).floor()),
            waits_too_long: play.waited_too_long(g),
        }
    });
    expected.collect()
}

#[allow(clippy::cast_possible_truncation)] // bounded
fn whole(minutes: f64) -> i32 {
    let most = f64::from(i32::MAX / 2);
    minutes.clamp(-most, most) as i32
}
