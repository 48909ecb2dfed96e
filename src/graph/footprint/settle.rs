//! Tins pushed apart from where they fell until they stand, if they do.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::barrier::exact;
use super::{Barrier, FINE, Footprint, OnShelf};
use crate::graph::packing::Space;

/// Air beyond what is wanted, in millimetres, so that rounding to hundredths
/// does no harm.
const SLACK: f64 = 0.015;
/// Pushed a little further than to where two tins are clear, tins come to rest
/// sooner.
const FURTHER: f64 = 1.2;

/// Lets tins fall so many times and pushes each fall apart in so many rounds.
pub(super) fn settle(
    tins: &[Footprint],
    space: Space,
    (falls, rounds): (u64, usize),
) -> Option<Vec<OnShelf>> {
    (0..falls).find_map(|seed| {
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let turned: Vec<bool> = tins.iter().map(|t| t.turns() && rng.random()).collect();
        let ranges: Option<Vec<_>> =
            tins.iter().zip(&turned).map(|(t, &turned)| range(*t, turned, space)).collect();
        let ranges = ranges?;
        let mut at: Vec<(f64, f64)> = ranges
            .iter()
            .map(|r| (rng.random_range(r.0.0..=r.0.1), rng.random_range(r.1.0..=r.1.1)))
            .collect();
        let mut barriers = Vec::new();
        for j in 0..tins.len() {
            for i in 0..j {
                let of = |k: usize| (tins[k], turned[k]);
                barriers.push((i, j, Barrier::between(of(i), of(j), space.gap)));
            }
        }
        (0..rounds).any(|_| is_at_rest(&barriers, &ranges, &mut at)).then_some(())?;
        let standing = tins.iter().zip(&turned).zip(&at).map(|((&tin, &turned), at)| {
            let whole = |mm: f64| rounded(mm * f64::from(FINE));
            OnShelf::centred(tin, turned, (whole(at.0), whole(at.1)))
        });
        standing.collect::<Option<Vec<_>>>().filter(|s| super::together::is_standing(s, space))
    })
}

#[allow(clippy::cast_possible_truncation)] // within a shelf
pub(super) fn rounded(n: f64) -> i64 {
    n.round() as i64
}

type Range = ((f64, f64), (f64, f64));

/// Where a centre may lie, in millimetres; as it lies if it goes no other way.
fn range(tin: Footprint, turned: bool, space: Space) -> Option<Range> {
    let half = tin.half(turned);
    let half = (exact(half.0) / f64::from(FINE), exact(half.1) / f64::from(FINE));
    let (w, d) = (f64::from(space.width) - half.0, f64::from(space.depth) - half.1);
    (half.0 <= w && half.1 <= d).then_some(((half.0, w), (half.1, d)))
}

/// One round of pushing; true if nothing had to be pushed.
fn is_at_rest(
    barriers: &[(usize, usize, Barrier)],
    ranges: &[Range],
    at: &mut [(f64, f64)],
) -> bool {
    let mut at_rest = true;
    for &(i, j, barrier) in barriers {
        let (a, b) = (at[i], at[j]);
        let Some((by, way)) = barrier.push((a.0 - b.0, a.1 - b.1), SLACK) else { continue };
        at_rest &= by <= SLACK / 2.0;
        let by = by * FURTHER / 2.0;
        for (k, sign) in [(i, 1.0), (j, -1.0)] {
            let (x, y) = ranges[k];
            at[k].0 = (at[k].0 + sign * by * way.0).clamp(x.0, x.1);
            at[k].1 = (at[k].1 + sign * by * way.1).clamp(y.0, y.1);
        }
    }
    at_rest
}
