//! How many tins of one kind stand on a shelf, and where.

use std::collections::HashMap;
use std::sync::{LazyLock, Mutex, PoisonError};

use super::barrier::exact;
use super::{FINE, Footprint, OnShelf, Spot, Together, fine, stand};
use crate::graph::packing::{self, Space};

/// Tins of one kind on one empty shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// Where they stand; as many as were found to fit.
    pub spots: Vec<Spot>,
    /// No arrangement holds more than this.
    pub at_most: usize,
}

/// Beyond this many, rows are good enough and nothing better is looked for.
const LOOKED_FOR: usize = 12;

static KNOWN: LazyLock<Mutex<HashMap<(i32, Space), Pattern>>> = LazyLock::new(Mutex::default);
/// More than a program asks in a day; then all is forgotten.
const REMEMBERED: usize = 5_000;

/// The best arrangement of tins of one kind.
pub fn pattern(tin: Footprint, space: Space) -> Pattern {
    let Footprint::Circle { across } = tin else {
        let (long, wide) = tin.sides(false);
        let packing::Pattern { spots, at_most } = packing::pattern(long, wide, space);
        let fine = |s: packing::TinSpot| Spot { x: s.x * FINE, y: s.y * FINE, turned: s.turned };
        return Pattern { spots: spots.into_iter().map(fine).collect(), at_most };
    };
    let asked = (across, space);
    let known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&asked).cloned();
    known.unwrap_or_else(|| {
        let found = circles(across, space);
        let mut all = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
        if all.len() >= REMEMBERED {
            all.clear();
        }
        all.insert(asked, found.clone());
        found
    })
}

fn circles(across: i32, space: Space) -> Pattern {
    let mut at_most = by_formula(across, space);
    let mut spots = rows(across, space);
    let tin = Footprint::Circle { across };
    while spots.len() < at_most && spots.len() < LOOKED_FOR {
        match stand(&vec![tin; spots.len() + 1], space) {
            Together::Placed(more) => spots = more.iter().map(|t: &OnShelf| t.spot).collect(),
            Together::Refuted => at_most = spots.len(),
            Together::Unknown => break,
        }
    }
    // Front to back, so that the first of them leave what is behind free.
    spots.sort_unstable_by_key(|s| (s.y, s.x));
    Pattern { spots, at_most }
}

/// Distance between centres, and width and depth of where they lie; `None` if
/// there is no room for one.
fn centres(across: i32, space: Space) -> Option<(i64, i64, i64)> {
    let (w, d) = (fine(space.width - across), fine(space.depth - across));
    (w >= 0 && d >= 0).then_some((fine(across + space.gap), w, d))
}

/// What no arrangement beats: the lesser of two formulas.
///
/// Points of a convex region that are at least 1 apart are no more than
/// 2/√3 × area + half the perimeter + 1 (N. Oler, *An inequality in the geometry
/// of numbers*, Acta Mathematica 105, 1961; from memory). And if the region is
/// cut into cells so small that two points of one are nearer than that, there
/// are no more points than cells.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few hundred
pub(super) fn by_formula(across: i32, space: Space) -> usize {
    let Some((apart, w, d)) = centres(across, space) else { return 0 };
    let (a, b) = (exact(w) / exact(apart), exact(d) / exact(apart));
    // Never too few for want of digits.
    let points = (2.0 / 3.0_f64.sqrt() * a * b + a + b + 1.0 + 1e-6).floor() as usize;
    cells(apart, w, d).map_or(points, |cells| cells.min(points))
}

/// The fewest cells, columns by rows, of which none holds two centres.
fn cells(apart: i64, w: i64, d: i64) -> Option<usize> {
    let row = |columns: i64| {
        // Diagonals must be shorter than `apart`: (w/c)² + (d/r)² < apart².
        (1..=40).find(|rows: &i64| {
            let (c, r) = (i128::from(columns), i128::from(*rows));
            let (w, d, apart) = (i128::from(w), i128::from(d), i128::from(apart));
            w * w * r * r + d * d * c * c < apart * apart * c * c * r * r
        })
    };
    (1..=40).filter_map(|c| row(c).map(|r| c * r)).min().and_then(|n| usize::try_from(n).ok())
}

/// The best of rows that stand square and rows that stand into each other's
/// gaps, along the front or along the side.
pub(super) fn rows(across: i32, space: Space) -> Vec<Spot> {
    let Some((apart, w, d)) = centres(across, space) else { return Vec::new() };
    let turn = |all: Vec<(i64, i64)>| all.into_iter().map(|(x, y)| (y, x)).collect();
    let mut best: Vec<(i64, i64)> = square(apart, w, d);
    for other in [staggered(apart, w, d), turn(staggered(apart, d, w))] {
        if other.len() > best.len() {
            best = other;
        }
    }
    let spot = |(x, y)| {
        let (x, y) = (i32::try_from(x).ok()?, i32::try_from(y).ok()?);
        Some(Spot { x, y, turned: false })
    };
    best.into_iter().filter_map(spot).collect()
}

fn square(apart: i64, w: i64, d: i64) -> Vec<(i64, i64)> {
    let along = |row: i64| (0..=w / apart).map(move |c| (c * apart, row * apart));
    (0..=d / apart).flat_map(along).collect()
}

/// Rows of which every second one is moved by half of what its tins are apart;
/// they are spread out to left and right where that brings a row nearer to
/// the next.
fn staggered(apart: i64, w: i64, d: i64) -> Vec<(i64, i64)> {
    let by_step = |step: i64| {
        let half = step / 2;
        let up = apart * apart - half * half;
        let rise = if up <= 0 { 0 } else { root_up(up) };
        let mut all = Vec::new();
        // Every second row stands behind the other.
        if 2 * rise < apart {
            return all;
        }
        for row in 0..=d / rise {
            let from = if row % 2 == 0 { 0 } else { half };
            all.extend(
                (0..).map(|c| from + c * step).take_while(|x| *x <= w).map(|x| (x, row * rise)),
            );
        }
        all
    };
    let even = |n: i64| n - n % 2;
    let mut best: Vec<(i64, i64)> = Vec::new();
    let tight = apart + apart % 2;
    let whole =
        (1..=40).map(|n| even(2 * w / n)).filter(|step| *step >= tight && *step < 2 * apart);
    // A row of one, and the next at the other wall.
    let single = (w < apart).then_some(2 * w).filter(|step| *step > 0);
    for step in std::iter::once(tight).chain(whole).chain(single) {
        let all = by_step(step);
        if all.len() > best.len() {
            best = all;
        }
    }
    best
}

fn root_up(square: i64) -> i64 {
    let root = square.isqrt();
    if root * root < square { root + 1 } else { root }
}
