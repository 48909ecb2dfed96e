//! Whether some tins stand on a shelf together: an arrangement, a proof that
//! there is none, or neither.

use std::collections::HashMap;
use std::sync::{LazyLock, Mutex, PoisonError};

use super::equal::{by_formula, rows};
use super::refute::{Search, search};
use super::settle::settle;
use super::touching::free_spots;
use super::{Footprint, OnShelf};
use crate::graph::packing::Space;

/// Whether some tins stand on a shelf at one time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Together {
    /// They do, like this, in the order in which they were given.
    Placed(Vec<OnShelf>),
    /// They do not, wherever they are put.
    Refuted,
    /// Neither was found; nothing may rest on it.
    Unknown,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Effort {
    /// Tins put next to others, one after the other.
    pub tries: usize,
    /// Boxes halved for a proof, times pairs of tins.
    pub boxes: usize,
    /// How often tins are let fall, and rounds of pushing after each.
    pub falls: (u64, usize),
}

impl Effort {
    /// Of what a lesson asks: some hundredths of a second at most.
    pub const LESSON: Self = Self { tries: 300, boxes: 60_000, falls: (40, 300) };
    /// Decides up to four tins.
    pub const THOROUGH: Self = Self { tries: 4_000, boxes: 4_000_000, falls: (400, 300) };
}

type Asked = (Vec<Footprint>, Space);

static KNOWN: LazyLock<Mutex<HashMap<Asked, Together>>> = LazyLock::new(Mutex::default);

/// More than a program asks in a day; then all is forgotten.
const REMEMBERED: usize = 20_000;

/// Whether tins stand on a shelf together. What was asked before is known.
pub fn stand(tins: &[Footprint], space: Space) -> Together {
    let (order, sorted) = sorted(tins);
    let asked = (sorted, space);
    let known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&asked).cloned();
    let found = known.unwrap_or_else(|| {
        let found = stand_with(&asked.0, space, Effort::LESSON);
        let mut all = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
        if all.len() >= REMEMBERED {
            all.clear();
        }
        all.insert(asked, found.clone());
        found
    });
    match found {
        Together::Placed(standing) => Together::Placed(as_given(order, standing)),
        other => other,
    }
}

/// The same, looking as hard as is said.
pub fn stand_with(tins: &[Footprint], space: Space, effort: Effort) -> Together {
    // What is far too much is soon refuted, what is little soon placed.
    if is_refuted(tins, space, effort.boxes / 100) {
        return Together::Refuted;
    }
    match (placed(tins, space, effort), sorted(tins)) {
        (Some(placed), _) => Together::Placed(placed),
        (None, (order, tins)) => match search(&tins, space, effort.boxes) {
            Search::Placed(standing) => Together::Placed(as_given(order, standing)),
            Search::Refuted => Together::Refuted,
            Search::GaveUp => Together::Unknown,
        },
    }
}

/// Whether it is proved that tins do not stand together, halving so many boxes,
/// times pairs of tins.
pub fn is_refuted(tins: &[Footprint], space: Space, boxes: usize) -> bool {
    if let Some(across) = equal_circles(tins)
        && by_formula(across, space) < tins.len()
    {
        return true;
    }
    search(&sorted(tins).1, space, boxes) == Search::Refuted
}

/// An arrangement of tins, in the order in which they are given, if one is
/// found without a proof.
pub fn placed(tins: &[Footprint], space: Space, effort: Effort) -> Option<Vec<OnShelf>> {
    if let Some(across) = equal_circles(tins) {
        let mut spots = rows(across, space);
        if spots.len() >= tins.len() {
            spots.truncate(tins.len());
            let on_shelf = |spot| OnShelf { footprint: tins[0], spot };
            return Some(spots.into_iter().map(on_shelf).collect());
        }
    }
    let (order, tins) = sorted(tins);
    let standing = put_side_by_side(&tins, space, effort.tries)
        .or_else(|| settle(&tins, space, effort.falls))?;
    Some(as_given(order, standing))
}

/// Tins sorted, equal ones beside each other, with where each was before.
fn sorted(tins: &[Footprint]) -> (Vec<usize>, Vec<Footprint>) {
    let mut order: Vec<usize> = (0..tins.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(tins[i]));
    let sorted = order.iter().map(|&i| tins[i]).collect();
    (order, sorted)
}

fn as_given(order: Vec<usize>, standing: Vec<OnShelf>) -> Vec<OnShelf> {
    let mut given: Vec<(usize, OnShelf)> = order.into_iter().zip(standing).collect();
    given.sort_by_key(|g| g.0);
    given.into_iter().map(|g| g.1).collect()
}

/// The diameter of some circles that are all equal.
fn equal_circles(tins: &[Footprint]) -> Option<i32> {
    match tins {
        [Footprint::Circle { across }, rest @ ..] if rest.iter().all(|t| *t == tins[0]) => {
            Some(*across)
        }
        _ => None,
    }
}

/// Whether all tins are on the shelf and clear of each other.
pub(super) fn is_standing(tins: &[OnShelf], space: Space) -> bool {
    tins.iter().enumerate().all(|(i, tin)| {
        tin.is_inside(space) && tins[..i].iter().all(|other| tin.is_clear_of(other, space.gap))
    })
}

/// Tins put one after the other where each touches two things, the first into
/// a corner.
fn put_side_by_side(tins: &[Footprint], space: Space, tries: usize) -> Option<Vec<OnShelf>> {
    let mut put =
        SideBySide { space, left: tries, standing: Vec::new(), used: vec![false; tins.len()] };
    put.rest(tins).then_some(())?;
    // In the order in which they were asked for.
    let mut standing = put.standing;
    standing.sort_by_key(|s| s.0);
    Some(standing.into_iter().map(|s| s.1).collect())
}

struct SideBySide {
    space: Space,
    left: usize,
    standing: Vec<(usize, OnShelf)>,
    used: Vec<bool>,
}

impl SideBySide {
    fn rest(&mut self, tins: &[Footprint]) -> bool {
        if self.standing.len() == tins.len() {
            return true;
        }
        let beside: Vec<OnShelf> = self.standing.iter().map(|s| s.1).collect();
        for i in 0..tins.len() {
            // Of equal tins the first that is left.
            if self.used[i] || (i > 0 && tins[i - 1] == tins[i] && !self.used[i - 1]) {
                continue;
            }
            for spot in free_spots(tins[i], &beside, self.space) {
                if self.left == 0 {
                    return false;
                }
                self.left -= 1;
                self.used[i] = true;
                self.standing.push((i, OnShelf { footprint: tins[i], spot }));
                if self.rest(tins) {
                    return true;
                }
                self.standing.pop();
                self.used[i] = false;
                if beside.is_empty() && (spot.x, spot.y) == (0, 0) && !tins[i].turns() {
                    // Other corners are its mirrors.
                    break;
                }
            }
        }
        false
    }
}
