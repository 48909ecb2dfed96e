//! Odds: a plan played many times with drawn minutes.

use std::ops::Range;
use std::thread;

use thiserror::Error;

use super::causes::{CauseOfLateness, Tally};
use super::checkpoints::{Checkpoint, checkpoints};
use super::luck::Luck;
use super::marks::{GroupMark, marks};
use super::minutes::{Dealer, Spread, quick_minutes};
use super::network::{Minutes, Network};
use super::run::{DUST, Play};
use super::to_give::GroupToGive;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Together};

/// How a plan is played.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// How many runs, from 1 to [`Settings::MOST_RUNS`].
    pub runs: u32,
    /// Where chance begins.
    pub seed: u64,
    /// How far minutes spread.
    pub spread: Spread,
    /// How far they go together; as the lesson says if `None`.
    pub together: Option<Together>,
    /// Threads to work with; the answer does not depend on it.
    pub threads: usize,
}

impl Settings {
    /// More runs are refused: what is told would not change.
    pub const MOST_RUNS: u32 = 200_000;

    /// How far minutes of a lesson go together.
    pub fn together(&self, lesson: &Lesson) -> Together {
        self.together.unwrap_or(lesson.together)
    }
}

impl Default for Settings {
    fn default() -> Self {
        let threads = thread::available_parallelism().map_or(1, usize::from);
        Self { runs: 10_000, seed: 1, spread: Spread::LISTED, together: None, threads }
    }
}

/// A plan that cannot be played.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum OddsError {
    /// No runs, or too many.
    #[error("the number of runs must lie between 1 and {most}, not {0}", most = Settings::MOST_RUNS)]
    Runs(u32),
    /// Nobody is served, so there is nothing to play.
    #[error("no group is served, so there is nothing to play")]
    NobodyServed,
    /// A thread was lost.
    #[error("a fault of ovenbell's: a thread that played was lost")]
    Lost,
}

/// Odds of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Odds {
    /// The runs played.
    pub runs: u32,
    /// The class's.
    pub class: ClassOdds,
    /// Every served group's, in the lesson's order.
    pub groups: Vec<GroupOdds>,
    /// What makes it late, the greatest first.
    pub causes: Vec<CauseOfLateness>,
    /// Moments at which looking pays, the most telling first.
    pub checkpoints: Vec<Checkpoint>,
}

/// Odds of the whole class: shares of the runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassOdds {
    /// All groups are out before the closing steps.
    pub before_closing: f64,
    /// All are out by the bell with those closing steps left out that can be
    /// dropped; `None` if there are none.
    pub by_bell_shortened: Option<f64>,
    /// Groups out on average.
    pub groups_out: f64,
    /// Minutes from the first start bell at which the last group is ready at
    /// 10, 50 and 90 of 100 runs; `None` where it is never ready.
    pub ready: [Option<f64>; 3],
    /// Minutes by which the last group is past the start of the closing steps
    /// at 50, 80 and 95 of 100 runs; 0 where it is in time, `None` where it is
    /// never ready.
    pub past_closing: [Option<f64>; 3],
}

/// Odds of one group: shares of the runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupOdds {
    /// Which.
    pub group: GroupId,
    /// It is out.
    pub out: f64,
    /// It is ready only after the closing steps have begun.
    pub late: f64,
    /// A mixture of it waited longer than it may.
    pub waited: f64,
    /// Minutes from the first start bell at which it is ready at 10, 50 and 90
    /// of 100 runs; `None` where it is never ready.
    pub ready: [Option<f64>; 3],
}

/// What came of each run.
#[derive(Debug, Default)]
pub(super) struct Runs {
    groups: usize,
    marks: usize,
    /// By run and group.
    ready: Vec<f64>,
    late: Vec<bool>,
    waited: Vec<bool>,
    /// By run and mark.
    mark_times: Vec<f64>,
    /// By run: past the closing steps, the last group.
    past: Vec<f64>,
    /// By run: when the last group is ready.
    last: Vec<f64>,
    shortened: Vec<bool>,
    tally: Tally,
    late_runs: u32,
}

impl Runs {
    pub(super) fn count(&self) -> usize {
        self.past.len()
    }

    pub(super) fn is_out(&self, run: usize, group: usize) -> bool {
        let at = run * self.groups + group;
        !self.late[at] && !self.waited[at]
    }

    pub(super) fn all_out(&self, run: usize) -> bool {
        (0..self.groups).all(|g| self.is_out(run, g))
    }

    pub(super) fn mark(&self, run: usize, mark: usize) -> f64 {
        self.mark_times[run * self.marks + mark]
    }

    pub(super) fn mark_times(&self, mark: usize) -> impl Iterator<Item = f64> + '_ {
        (0..self.count()).map(move |run| self.mark(run, mark))
    }

    fn take(&mut self, other: Self) {
        self.ready.extend(other.ready);
        self.late.extend(other.late);
        self.waited.extend(other.waited);
        self.mark_times.extend(other.mark_times);
        self.past.extend(other.past);
        self.last.extend(other.last);
        self.shortened.extend(other.shortened);
        self.tally.take(other.tally);
        self.late_runs += other.late_runs;
    }

    /// Notes one run that has been played.
    fn note(&mut self, play: &Play<'_>, minutes: &Minutes, marks: &[GroupMark]) {
        let network = play.network();
        let (mut latest, mut worst, mut shortened) = (f64::NEG_INFINITY, 0, true);
        let mut last = f64::NEG_INFINITY;
        for (g, group) in network.groups.iter().enumerate() {
            let (ready, waited) = (play.ready(g), play.waited_too_long(g));
            let past = ready - minutes.closing[group.period.0];
            if past > latest {
                (latest, worst) = (past, g);
            }
            last = last.max(ready);
            self.ready.push(ready);
            self.late.push(past > DUST);
            self.waited.push(waited);
            shortened &= !waited && ready <= minutes.closing_needed[group.period.0] + DUST;
        }
        self.mark_times.extend(marks.iter().map(|m| play.end_of(m.node)));
        self.past.push(latest.max(0.0));
        self.last.push(last);
        self.shortened.push(shortened);
        if latest > DUST {
            self.late_runs += 1;
            self.tally.add(play, worst, minutes);
        }
    }
}

/// Plays a plan many times. `gives` is what its groups have to give, for the
/// checkpoints.
///
/// # Errors
/// If nobody is served, or the number of runs is 0 or beyond
/// [`Settings::MOST_RUNS`].
pub fn odds(
    lesson: &Lesson,
    plan: &CheckedPlan,
    settings: &Settings,
    gives: &[GroupToGive],
) -> Result<Odds, OddsError> {
    if settings.runs == 0 || settings.runs > Settings::MOST_RUNS {
        return Err(OddsError::Runs(settings.runs));
    }
    let network = Network::new(lesson, plan);
    if network.groups.is_empty() {
        return Err(OddsError::NobodyServed);
    }
    let marks = marks(&network);
    let runs = played(&network, settings, &marks)?;
    let points = checkpoints(&network, &marks, &runs, gives);
    Ok(told(&network, runs, points))
}

/// All runs, in their order, however many threads play them.
fn played(
    network: &Network<'_>,
    settings: &Settings,
    marks: &[GroupMark],
) -> Result<Runs, OddsError> {
    let (luck, together) = (Luck { seed: settings.seed }, settings.together(network.lesson));
    let dealer = Dealer::new(network, luck, settings.spread, &together);
    let earliest = network.earliest_starts(&quick_minutes(network, settings.spread));
    let empty = || Runs { groups: network.groups.len(), marks: marks.len(), ..Runs::default() };
    let some = |part: Range<u32>| {
        let mut play = Play::new(network, earliest.clone());
        let (mut minutes, mut normals, mut runs) = (Minutes::default(), Vec::new(), empty());
        for run in part {
            dealer.deal(u64::from(run), &mut normals, &mut minutes);
            play.run(&minutes);
            runs.note(&play, &minutes, marks);
        }
        runs
    };
    let mut all = empty();
    for part in in_parts(0..settings.runs, settings.threads, some)? {
        all.take(part);
    }
    Ok(all)
}

/// Runs played by so many threads, a part each, in their order.
pub(super) fn in_parts<T: Send>(
    runs: Range<u32>,
    threads: usize,
    play: impl Fn(Range<u32>) -> T + Sync,
) -> Result<Vec<T>, OddsError> {
    let count = runs.end.saturating_sub(runs.start);
    let threads = u32::try_from(threads).unwrap_or(1).clamp(1, count.max(1));
    if threads == 1 {
        return Ok(vec![play(runs)]);
    }
    // So many runs and parts that their product may be beyond 32 bits.
    let share = |part: u32| u64::from(part) * u64::from(count) / u64::from(threads);
    let first = |part: u32| runs.start + u32::try_from(share(part)).unwrap_or(count);
    thread::scope(|scope| {
        let play = &play;
        let begin = |part| scope.spawn(move || play(part));
        let parts: Vec<_> = (0..threads).map(|part| begin(first(part)..first(part + 1))).collect();
        parts.into_iter().map(|part| part.join().map_err(|_| OddsError::Lost)).collect()
    })
}

#[allow(clippy::cast_precision_loss)] // at most MOST_RUNS
fn told(network: &Network<'_>, mut runs: Runs, checkpoints: Vec<Checkpoint>) -> Odds {
    let (count, groups) = (runs.count(), runs.groups);
    let share = |of: usize| of as f64 / count as f64;
    let how_many = |holds: &dyn Fn(usize) -> bool| share((0..count).filter(|&r| holds(r)).count());
    let of_groups = network.groups.iter().enumerate().map(|(g, group)| GroupOdds {
        group: group.group,
        out: how_many(&|r| runs.is_out(r, g)),
        late: how_many(&|r| runs.late[r * groups + g]),
        waited: how_many(&|r| runs.waited[r * groups + g]),
        ready: at_shares((0..count).map(|r| runs.ready[r * groups + g]).collect(), [10, 50, 90]),
    });
    let of_groups: Vec<GroupOdds> = of_groups.collect();
    let dropped = network.groups.iter().any(|g| {
        network.periods[g.period.0].closing.iter().any(|&step| network.may_be_dropped(step))
    });
    let class = ClassOdds {
        before_closing: how_many(&|r| runs.all_out(r)),
        by_bell_shortened: dropped.then(|| how_many(&|r| runs.shortened[r])),
        groups_out: of_groups.iter().map(|g| g.out).sum(),
        ready: at_shares(std::mem::take(&mut runs.last), [10, 50, 90]),
        past_closing: at_shares(std::mem::take(&mut runs.past), [50, 80, 95]),
    };
    let causes = runs.tally.causes(runs.late_runs);
    let runs = u32::try_from(count).unwrap_or(u32::MAX);
    Odds { runs, class, groups: of_groups, causes, checkpoints }
}

/// The values that so many of 100 do not exceed; `None` for what never was.
fn at_shares(mut values: Vec<f64>, shares: [usize; 3]) -> [Option<f64>; 3] {
    values.sort_unstable_by(f64::total_cmp);
    shares.map(|of_100| {
        let at = (values.len() * of_100).div_ceil(100).max(1) - 1;
        values.get(at).copied().filter(|v| v.is_finite())
    })
}
