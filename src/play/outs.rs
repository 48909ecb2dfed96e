//! How many groups are out in each run: what two plans of one lesson are compared
//! by, on the same luck. Nothing else is kept, so that it costs little.

use std::ops::Range;

use super::luck::Luck;
use super::minutes::{Dealer, quick_minutes};
use super::network::{Minutes, Network};
use super::odds::{OddsError, Settings, in_parts};
use super::run::Play;
use crate::check::CheckedPlan;
use crate::model::Lesson;

/// How many groups are out in each of some runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outs {
    /// How many groups the plan serves.
    pub groups: u32,
    /// By run, how many of them are out.
    pub by_run: Vec<u32>,
}

impl Outs {
    /// Groups out on average; none where nothing was played.
    pub fn on_average(&self) -> f64 {
        let all: f64 = self.by_run.iter().map(|&n| f64::from(n)).sum();
        self.share_of_runs(all)
    }

    /// Share of the runs in which all are out.
    pub fn all(&self) -> f64 {
        let runs = self.by_run.iter().filter(|&&n| n == self.groups);
        self.share_of_runs(runs.map(|_| 1.0).sum())
    }

    /// By how much more groups are out on average than in the same runs of
    /// another plan, and the standard error of that.
    pub fn more_than(&self, other: &Self) -> (f64, f64) {
        let pairs = self.by_run.iter().zip(&other.by_run);
        let more: Vec<f64> = pairs.map(|(&a, &b)| f64::from(a) - f64::from(b)).collect();
        let mean = self.share_of_runs(more.iter().sum());
        let squares: f64 = more.iter().map(|m| (m - mean).powi(2)).sum();
        (mean, self.share_of_runs(self.share_of_runs(squares)).sqrt())
    }

    #[allow(clippy::cast_precision_loss)] // at most `Settings::MOST_RUNS`
    fn share_of_runs(&self, of: f64) -> f64 {
        of / self.by_run.len().max(1) as f64
    }
}

/// Plays some runs of a plan, by their numbers; `settings` says on which luck.
///
/// # Errors
/// If nobody is served, or a thread is lost.
pub fn outs(
    lesson: &Lesson,
    plan: &CheckedPlan,
    settings: &Settings,
    runs: Range<u32>,
) -> Result<Outs, OddsError> {
    let network = Network::new(lesson, plan);
    if network.groups.is_empty() {
        return Err(OddsError::NobodyServed);
    }
    let luck = Luck { seed: settings.seed };
    let together = settings.together(lesson);
    let dealer = Dealer::new(&network, luck, settings.spread, &together);
    let earliest = network.earliest_starts(&quick_minutes(&network, settings.spread));
    let some = |part: Range<u32>| -> Vec<u32> {
        let mut play = Play::new(&network, earliest.clone());
        let (mut minutes, mut normals) = (Minutes::default(), Vec::new());
        let count = |run: u32| {
            dealer.deal(u64::from(run), &mut normals, &mut minutes);
            play.run(&minutes);
            let out = (0..network.groups.len()).filter(|&g| play.is_out(g, &minutes)).count();
            u32::try_from(out).unwrap_or(u32::MAX)
        };
        part.map(count).collect()
    };
    let by_run = in_parts(runs, settings.threads, some)?.concat();
    Ok(Outs { groups: u32::try_from(network.groups.len()).unwrap_or(u32::MAX), by_run })
}
