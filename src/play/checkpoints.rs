//! Moments at which looking pays: by which it is best told who will be out.

use super::marks::{GroupMark, Mark};
use super::network::{Network, What};
use super::odds::Runs;
use super::to_give::GroupToGive;
use crate::model::{GroupId, StepId};
use crate::units::Minute;

/// Whose moment it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whom {
    /// A group's, with the step that is over.
    Group(GroupId, StepId),
    /// The whole class's.
    Class,
}

/// A moment at which looking pays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Checkpoint {
    /// Whose.
    pub whom: Whom,
    /// What is to be done by then.
    pub mark: Mark,
    /// The minute.
    pub at: Minute,
    /// When it is planned to be done.
    pub planned: Minute,
    /// The latest minute at which, others as planned, all are out.
    pub latest: Minute,
    /// Share of runs out, of those in which it is done by then.
    pub odds_if: f64,
    /// The same of those in which it is not.
    pub odds_if_later: f64,
    /// How much it tells of being out, in bits.
    pub information: f64,
}

/// So many are told, one of them the class's.
const TOLD: usize = 4;
/// A moment that fewer runs than this share reach, or miss, tells nothing.
const SCARCE: f64 = 0.02;

/// The best moment of the class and the best of groups, each of another group,
/// the most telling first.
pub(super) fn checkpoints(
    network: &Network<'_>,
    marks: &[GroupMark],
    runs: &Runs,
    gives: &[GroupToGive],
) -> Vec<Checkpoint> {
    let mut of_groups: Vec<Checkpoint> = Vec::new();
    for (m, mark) in marks.iter().enumerate() {
        let times: Vec<f64> = runs.mark_times(m).collect();
        let out: Vec<bool> = (0..runs.count()).map(|r| runs.is_out(r, mark.group)).collect();
        let Some(best) = best_minute(&times, &out) else { continue };
        let What::Step(group, step) = network.nodes[mark.node].what else { continue };
        let give = gives.iter().find(|g| g.group == group);
        let give = give.and_then(|g| g.steps.iter().find(|s| s.step == step));
        let planned = network.nodes[mark.node].end;
        let give = give.map_or(0, |g| g.minutes);
        of_groups.push(told(Whom::Group(group, step), mark.mark, best, (planned, give)));
    }
    let mut best: Vec<Checkpoint> = of_the_class(network, marks, runs, gives).into_iter().collect();
    by_information(&mut of_groups);
    for point in of_groups {
        let group = |p: &Checkpoint| match p.whom {
            Whom::Group(group, _) => Some(group),
            Whom::Class => None,
        };
        if best.len() < TOLD && !best.iter().any(|b| group(b) == group(&point)) {
            best.push(point);
        }
    }
    by_information(&mut best);
    best
}

fn by_information(points: &mut [Checkpoint]) {
    points.sort_by(|a, b| b.information.total_cmp(&a.information));
}

/// The moment a teacher can say aloud: by which everybody has done something.
fn of_the_class(
    network: &Network<'_>,
    marks: &[GroupMark],
    runs: &Runs,
    gives: &[GroupToGive],
) -> Option<Checkpoint> {
    let out: Vec<bool> = (0..runs.count()).map(|r| runs.all_out(r)).collect();
    let mut points = Vec::new();
    for mark in [Mark::First, Mark::Filled, Mark::Loaded] {
        let of: Vec<usize> = (0..marks.len()).filter(|&m| marks[m].mark == mark).collect();
        if of.len() < 2 {
            continue;
        }
        let last = |run| of.iter().map(|&m| runs.mark(run, m)).fold(f64::NEG_INFINITY, f64::max);
        let times: Vec<f64> = (0..runs.count()).map(last).collect();
        let ends = || of.iter().map(|&m| &network.nodes[marks[m].node]);
        let planned = ends().map(|n| n.end).fold(f64::NEG_INFINITY, f64::max);
        let give = ends().filter(|n| n.end >= planned).filter_map(|n| {
            let What::Step(group, step) = n.what else { return None };
            let give = gives.iter().find(|g| g.group == group)?;
            give.steps.iter().find(|s| s.step == step).map(|s| s.minutes)
        });
        let give = give.min().unwrap_or(0);
        if let Some(best) = best_minute(&times, &out) {
            points.push(told(Whom::Class, mark, best, (planned, give)));
        }
    }
    by_information(&mut points);
    points.first().copied()
}

/// A minute, the odds with it and without, and what it tells.
type Best = (i32, f64, f64, f64);

#[allow(clippy::cast_possible_truncation)] // planned ends are whole minutes
fn told(whom: Whom, mark: Mark, best: Best, (planned, give): (f64, i32)) -> Checkpoint {
    let (at, odds_if, odds_if_later, information) = best;
    let planned = planned.round() as i32;
    Checkpoint {
        whom,
        mark,
        at: Minute::new(at),
        planned: Minute::new(planned),
        latest: Minute::new(planned + give),
        odds_if,
        odds_if_later,
        information,
    }
}

/// The whole minute that tells most of being out, and by which it is likelier;
/// none where none tells anything.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)] // counts, minutes of a day
fn best_minute(times: &[f64], out: &[bool]) -> Option<Best> {
    let mut all: Vec<(f64, bool)> = times.iter().copied().zip(out.iter().copied()).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (runs, all_out) = (all.len() as f64, out.iter().filter(|o| **o).count() as f64);
    let mut finite = all.iter().filter(|a| a.0.is_finite()).map(|a| a.0);
    let (first, last) = (all.first()?.0, finite.next_back()?);
    if !first.is_finite() {
        return None;
    }
    let (mut by, mut by_out) = (0_usize, 0_usize);
    let mut best: Option<Best> = None;
    for minute in first.ceil() as i32..=last.ceil() as i32 {
        while let Some(&(_, is_out)) = all.get(by).filter(|a| a.0 <= f64::from(minute)) {
            by += 1;
            by_out += usize::from(is_out);
        }
        let (n, k) = (by as f64, by_out as f64);
        if n < SCARCE * runs || runs - n < SCARCE * runs {
            continue;
        }
        let (odds_if, odds_if_later) = (k / n, (all_out - k) / (runs - n));
        let information = entropy(all_out / runs)
            - n / runs * entropy(odds_if)
            - (runs - n) / runs * entropy(odds_if_later);
        let better = best.is_none_or(|b| information > b.3);
        if better && odds_if > odds_if_later && information > 1e-4 {
            best = Some((minute, odds_if, odds_if_later, information));
        }
    }
    best
}

/// Of something so likely, in bits.
fn entropy(share: f64) -> f64 {
    let of = |p: f64| if p > 0.0 { -p * libm::log2(p) } else { 0.0 };
    of(share) + of(1.0 - share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_minute_that_parts_the_runs_is_found() {
        let times: Vec<f64> = (0..100).map(|i| 10.0 + f64::from(i) / 10.0).collect();
        let out: Vec<bool> = times.iter().map(|t| *t <= 14.0).collect();
        let (minute, odds_if, later, information) = best_minute(&times, &out).unwrap();
        assert_eq!((minute, odds_if, later), (14, 1.0, 0.0));
        // It tells everything there is to know: 41 of 100 are out.
        assert!((information - entropy(0.41)).abs() < 1e-12);
        assert_eq!(best_minute(&times, &[true; 100]), None);
    }
}
