//! A plan played on from what is known in mid-lesson: when each group will be
//! ready.
//!
//! Everybody takes their planned minutes and nothing begins before its plan. A
//! group that is late is so with all that follows; what it is in the middle of
//! lasts so much longer. What it holds up is later too.

use super::luck::Luck;
use super::minutes::{Dealer, Spread, quick_minutes};
use super::network::{Minutes, Network, Work, minutes as time};
use super::odds::Settings;
use super::run::Play;
use super::slips::late_by;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Slip};
use crate::units::Minute;

/// What a difference of times is forgiven, in minutes.
pub(super) const DUST: f64 = 1e-6;

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

/// A plan at a minute: when everything began or is to begin, and how much longer what
/// is under way lasts.
#[derive(Clone)]
pub(super) struct FromHere<'n> {
    pub(super) network: &'n Network<'n>,
    pub(super) now: f64,
    pub(super) starts: Vec<f64>,
    pub(super) longer: Vec<f64>,
}

impl<'n> FromHere<'n> {
    pub(super) fn of(network: &'n Network<'n>, slips: &[Slip], now: Minute) -> Self {
        let mut starts: Vec<f64> = network.nodes.iter().map(|n| n.start).collect();
        let mut longer = vec![0.0; starts.len()];
        for group in network.groups.iter().filter(|g| slips.iter().any(|s| s.group == g.group)) {
            let late = |is_before: &dyn Fn(f64) -> bool| {
                f64::from(late_by(slips, group.group, |from| is_before(time(from))).get())
            };
            for &node in &group.nodes {
                let of = &network.nodes[node];
                let started = late(&|from| from <= of.start + DUST);
                let ended = late(&|from| from < of.end - DUST);
                // Tins that were out early are so; nothing else is sooner than planned.
                let started = if of.work == Work::TakeOut { started } else { started.max(0.0) };
                starts[node] += started;
                longer[node] += (ended - started).max(of.start - of.end);
            }
        }
        Self { network, now: time(now), starts, longer }
    }

    /// When a node is over, as far as it waits for nobody else.
    pub(super) fn end(&self, node: usize) -> f64 {
        let of = &self.network.nodes[node];
        self.starts[node] + of.end - of.start + self.longer[node]
    }

    /// It played on, everybody taking their planned minutes, and these minutes.
    pub(super) fn played(&self) -> (Play<'n>, Minutes) {
        let mut minutes = self.network.planned_minutes();
        minutes.nodes.iter_mut().zip(&self.longer).for_each(|(takes, longer)| *takes += longer);
        let mut play = self.play(self.starts.clone());
        play.run(&minutes);
        (play, minutes)
    }

    /// When each group is expected to be ready, everybody taking their planned minutes.
    pub(super) fn expected(&self) -> Vec<Expected> {
        let (play, minutes) = self.played();
        let expected = self.network.groups.iter().enumerate().map(|(g, played)| {
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

    /// When each began that has.
    fn begun(&self) -> Vec<Option<f64>> {
        let begun = |&start: &f64| Some(start).filter(|&start| start < self.now - DUST);
        self.starts.iter().map(begun).collect()
    }

    /// Something to play it on with, in which what has not begun does so no sooner than
    /// this.
    fn play(&self, earliest: Vec<f64>) -> Play<'n> {
        let mut play = Play::new(self.network, earliest);
        play.set_begun(self.begun());
        play
    }

    /// What has not begun may begin sooner than planned where all before it is quick, but
    /// not before now.
    fn earliest(&self, spread: Spread) -> Vec<f64> {
        let quick = self.network.earliest_starts(&quick_minutes(self.network, spread));
        let nodes = self.network.nodes.iter().zip(&self.starts).zip(quick);
        nodes.map(|((node, start), quick)| (quick + start - node.start).max(self.now)).collect()
    }

    /// Minutes that were dealt, but for what is over already: that took what it took.
    /// What is under way lasts at least until now.
    fn keep_what_is_known(&self, minutes: &mut Minutes, planned: &Minutes) {
        let nodes = self.network.nodes.iter().zip(&mut minutes.nodes).enumerate();
        for (i, (node, takes)) in nodes {
            let so_far = self.now - self.starts[i];
            let planned = node.end - node.start + self.longer[i];
            if so_far > DUST {
                *takes = match planned <= so_far + DUST {
                    true => planned,
                    false => (*takes + self.longer[i]).max(so_far),
                };
            }
        }
        for (opened, planned) in minutes.opened.iter_mut().zip(&planned.opened) {
            *opened = if *planned <= self.now { *planned } else { opened.max(self.now) };
        }
        let closing = minutes.closing.iter_mut().zip(&planned.closing);
        for (closing, planned) in closing.filter(|(_, planned)| **planned <= self.now) {
            *closing = *planned;
        }
    }
}

/// Plays a plan on from a minute. Of several slips of a group each holds from its minute
/// on; a group in none is on plan.
pub fn outlook(lesson: &Lesson, plan: &CheckedPlan, slips: &[Slip], now: Minute) -> Vec<Expected> {
    let network = Network::new(lesson, plan);
    FromHere::of(&network, slips, now).expected()
}

/// The share of runs in which all groups are out, played on from a minute of the
/// lesson: what is over took what it took, and all that comes takes drawn minutes, on
/// the same luck for every plan.
pub fn odds_from_here(
    (lesson, plan): (&Lesson, &CheckedPlan),
    slips: &[Slip],
    now: Minute,
    settings: &Settings,
) -> f64 {
    let network = Network::new(lesson, plan);
    let here = FromHere::of(&network, slips, now);
    let (luck, together) = (Luck { seed: settings.seed }, settings.together(lesson));
    let dealer = Dealer::new(&network, luck, settings.spread, &together);
    let (planned, mut play) =
        (network.planned_minutes(), here.play(here.earliest(settings.spread)));
    let (mut minutes, mut normals, mut out) = (Minutes::default(), Vec::new(), 0_u32);
    let runs = settings.runs.clamp(1, Settings::MOST_RUNS);
    for run in 0..runs {
        dealer.deal(u64::from(run), &mut normals, &mut minutes);
        here.keep_what_is_known(&mut minutes, &planned);
        play.run(&minutes);
        out += u32::from((0..network.groups.len()).all(|g| play.is_out(g, &minutes)));
    }
    f64::from(out) / f64::from(runs)
}

#[allow(clippy::cast_possible_truncation)] // bounded
pub(super) fn whole(minutes: f64) -> i32 {
    let most = f64::from(i32::MAX / 2);
    minutes.clamp(-most, most) as i32
}
