//! A proof that some tins do not stand on a shelf together.
//!
//! Each tin's centre lies in a box, at first wherever the tin is inside the
//! shelf. Two boxes are narrowed by what their barrier forbids whatever point
//! of the other is taken; an empty box refutes. Else a box is halved, and each
//! half is to be refuted. Reaches are rounded down, which relaxes the gap by
//! less than a hundredth of a millimetre: what is refuted so is refuted for
//! all places, not only for those of a grid.
//!
//! Of arrangements that differ by which of several equal tins is which, or by
//! a mirror, one is looked at.

use super::{Barrier, Footprint, OnShelf, fine};
use crate::graph::packing::Space;

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Search {
    /// They stand like this.
    Placed(Vec<OnShelf>),
    /// They cannot.
    Refuted,
    /// Too many boxes.
    GaveUp,
}

/// Where a centre may lie, edges included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Box2 {
    x: (i64, i64),
    y: (i64, i64),
}

impl Box2 {
    fn is_empty(&self) -> bool {
        self.x.0 > self.x.1 || self.y.0 > self.y.1
    }

    fn middle(&self) -> (i64, i64) {
        (i64::midpoint(self.x.0, self.x.1), i64::midpoint(self.y.0, self.y.1))
    }
}

/// Which of equal tins come one after the other, and what a mirror allows.
struct Symmetry {
    /// The first lies no further right than the second.
    order: Vec<(usize, usize)>,
    /// First and last of the tins that a mirror brings to the left front half.
    half: (usize, usize),
}

/// Tins, each turned or not, on a shelf.
struct Tins {
    of: Vec<(Footprint, bool)>,
    space: Space,
    barriers: Vec<(usize, usize, Barrier)>,
    symmetry: Symmetry,
}

/// Of more tins that can be turned there are too many ways to do so.
const TURNED: usize = 10;

/// Looks for a proof. Each box that is halved counts the pairs of tins there
/// are; all together no more than `limit`.
pub(super) fn search(tins: &[Footprint], space: Space, limit: usize) -> Search {
    if tins.is_empty() {
        return Search::Placed(Vec::new());
    }
    if tins.iter().filter(|t| t.turns()).count() > TURNED {
        return Search::GaveUp;
    }
    let mut left = limit;
    let mut gave_up = false;
    for turned in ways(tins) {
        let of: Vec<_> = tins.iter().copied().zip(turned).collect();
        match Tins::new(of, space).run(&mut left) {
            Search::Refuted => {}
            Search::GaveUp => gave_up = true,
            placed @ Search::Placed(_) => return placed,
        }
    }
    if gave_up { Search::GaveUp } else { Search::Refuted }
}

/// All ways of turning tins that are sorted, of equal ones the turned last.
fn ways(tins: &[Footprint]) -> Vec<Vec<bool>> {
    let mut all: Vec<Vec<bool>> = vec![Vec::new()];
    for (i, tin) in tins.iter().enumerate() {
        let mut more = Vec::new();
        for way in all {
            let after_turned = i > 0 && tins[i - 1] == *tin && way[i - 1];
            if !after_turned {
                more.push([&way[..], &[false]].concat());
            }
            if tin.turns() {
                more.push([&way[..], &[true]].concat());
            }
        }
        all = more;
    }
    all
}

impl Tins {
    fn new(of: Vec<(Footprint, bool)>, space: Space) -> Self {
        let mut barriers = Vec::new();
        for j in 0..of.len() {
            for i in 0..j {
                barriers.push((i, j, Barrier::between(of[i], of[j], space.gap)));
            }
        }
        let order = (1..of.len()).filter(|&i| of[i - 1] == of[i]).map(|i| (i - 1, i)).collect();
        let symmetry = Symmetry { order, half: mirrored(&of) };
        Self { of, space, barriers, symmetry }
    }

    fn boxes(&self) -> Vec<Box2> {
        let room = (fine(self.space.width), fine(self.space.depth));
        let mut boxes: Vec<Box2> = self
            .of
            .iter()
            .map(|&(footprint, turned)| {
                let (w, d) = footprint.half(turned);
                Box2 { x: (w, room.0 - w), y: (d, room.1 - d) }
            })
            .collect();
        let first = self.symmetry.half.0;
        if let Some(first) = boxes.get_mut(first) {
            // The middle may lie between two hundredths.
            first.y.1 = first.y.1.min((room.1 + 1) / 2);
        }
        boxes
    }

    fn run(&self, left: &mut usize) -> Search {
        let mut open = vec![self.boxes()];
        while let Some(mut boxes) = open.pop() {
            if !self.narrow(&mut boxes) {
                continue;
            }
            let middles: Vec<(i64, i64)> = boxes.iter().map(Box2::middle).collect();
            if self.barriers.iter().all(|&(i, j, b)| is_apart(b, middles[i], middles[j])) {
                let centred = |(&(f, turned), c)| OnShelf::centred(f, turned, c);
                let placed: Option<Vec<_>> = self.of.iter().zip(middles).map(centred).collect();
                return placed.map_or(Search::GaveUp, Search::Placed);
            }
            let Some(less) = left.checked_sub(self.barriers.len().max(1)) else {
                return Search::GaveUp;
            };
            *left = less;
            let Some((i, across)) = self.widest(&boxes) else { return Search::GaveUp };
            let mut second = boxes.clone();
            let (one, other) = if across {
                (&mut boxes[i].x, &mut second[i].x)
            } else {
                (&mut boxes[i].y, &mut second[i].y)
            };
            let middle = i64::midpoint(one.0, one.1);
            one.1 = middle;
            other.0 = middle;
            open.push(second);
            open.push(boxes);
        }
        Search::Refuted
    }

    /// Takes from each box what no arrangement has; false if one is empty.
    fn narrow(&self, boxes: &mut [Box2]) -> bool {
        // A few rounds bring nearly all there is to gain.
        for _ in 0..6 {
            let mut changed = false;
            for &(i, j, barrier) in &self.barriers {
                let (a, b) = (boxes[i], boxes[j]);
                let (a, b) = (beside(barrier, a, b), beside(barrier, b, a));
                changed |= (a, b) != (boxes[i], boxes[j]);
                boxes[i] = a;
                boxes[j] = b;
                if a.is_empty() || b.is_empty() {
                    return false;
                }
            }
            changed |= self.in_order(boxes);
            if boxes.iter().any(Box2::is_empty) {
                return false;
            }
            if !changed {
                break;
            }
        }
        true
    }

    fn in_order(&self, boxes: &mut [Box2]) -> bool {
        let before: Vec<Box2> = boxes.to_vec();
        for &(i, j) in &self.symmetry.order {
            boxes[j].x.0 = boxes[j].x.0.max(boxes[i].x.0);
            boxes[i].x.1 = boxes[i].x.1.min(boxes[j].x.1);
        }
        let width = fine(self.space.width);
        let (first, last) = self.symmetry.half;
        let (left, right) = (boxes[first].x.0, boxes[last].x.0);
        boxes[first].x.1 = boxes[first].x.1.min(width - right);
        boxes[last].x.1 = boxes[last].x.1.min(width - left);
        if first == last {
            boxes[first].x.1 = boxes[first].x.1.min((width + 1) / 2);
        }
        before != boxes
    }

    /// The longest side of a box whose tin is not surely clear of all others;
    /// whether it lies left to right. `None` if all are points.
    fn widest(&self, boxes: &[Box2]) -> Option<(usize, bool)> {
        let mut widest = (1, None);
        for &(i, j, barrier) in &self.barriers {
            if is_surely_apart(barrier, boxes[i], boxes[j]) {
                continue;
            }
            for k in [i, j] {
                let sides = [(boxes[k].x, true), (boxes[k].y, false)];
                for (side, across) in sides {
                    if side.1 - side.0 > widest.0 {
                        widest = (side.1 - side.0, Some((k, across)));
                    }
                }
            }
        }
        widest.1
    }
}

/// First and last tin of the kind that a mirror brings to the left front half:
/// one that is the only one of its kind, else one of the first kind, of which
/// the first and the last are then no further from the left and the right.
fn mirrored(of: &[(Footprint, bool)]) -> (usize, usize) {
    let last_of = |i: usize| of.iter().rposition(|o| *o == of[i]).unwrap_or(i);
    let first_of = |i: usize| of.iter().position(|o| *o == of[i]).unwrap_or(i);
    let first = (0..of.len()).find(|&i| first_of(i) == last_of(i)).unwrap_or(0);
    (first, last_of(first))
}

fn is_apart(barrier: Barrier, a: (i64, i64), b: (i64, i64)) -> bool {
    !barrier.forbids(a.0 - b.0, a.1 - b.1)
}

/// Least and most distance from nought of `a - b`.
fn away(a: (i64, i64), b: (i64, i64)) -> (i64, i64) {
    let (low, high) = (a.0 - b.1, a.1 - b.0);
    let least = if low > 0 { low } else { (-high).max(0) };
    (least, low.abs().max(high.abs()))
}

fn is_surely_apart(barrier: Barrier, a: Box2, b: Box2) -> bool {
    !barrier.forbids(away(a.x, b.x).0, away(a.y, b.y).0)
}

/// What is left of a box beside all of another.
fn beside(barrier: Barrier, mut a: Box2, b: Box2) -> Box2 {
    if let Some(reach) = barrier.across(away(a.y, b.y).1) {
        a.x = cut(a.x, b.x, reach);
    }
    if a.is_empty() {
        return a;
    }
    if let Some(reach) = barrier.along(away(a.x, b.x).1) {
        a.y = cut(a.y, b.y, reach);
    }
    a
}

/// What is left of a stretch if nothing of it may be nearer than `reach` to
/// any point of another.
fn cut(mut a: (i64, i64), b: (i64, i64), reach: i64) -> (i64, i64) {
    if a.0 - b.1 > -reach {
        a.0 = a.0.max(b.0 + reach);
    }
    if a.1 - b.0 < reach {
        a.1 = a.1.min(b.1 - reach);
    }
    a
}
