//! Where one more tin touches two of the walls and of the tins that stand.

use super::barrier::exact;
use super::settle::rounded;
use super::{Barrier, Footprint, OnShelf, Spot, fine};
use crate::graph::packing::Space;

/// Free places for one more tin in which it touches two things, the foremost
/// first. A tin that stands free can be pushed to such a place.
pub fn free_spots(tin: Footprint, standing: &[OnShelf], space: Space) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    let ways: &[bool] = if tin.turns() { &[false, true] } else { &[false] };
    for &turned in ways {
        let edges = Edges::of((tin, turned), standing, space);
        let free = |centre: (i64, i64)| {
            OnShelf::centred(tin, turned, centre).filter(|new| {
                new.is_inside(space) && standing.iter().all(|s| new.is_clear_of(s, space.gap))
            })
        };
        let meet = |found: &[(i64, i64)]| found.iter().copied().find_map(free).map(|t| t.spot);
        edges.corners(|centres| spots.extend(meet(centres)));
    }
    spots.sort_unstable_by_key(|s| (s.y, s.x, s.turned));
    spots.dedup();
    spots
}

/// Lines and arcs on which the centre of a tin lies that touches something.
struct Edges {
    xs: Vec<i64>,
    ys: Vec<i64>,
    arcs: Vec<((i64, i64), i64)>,
}

impl Edges {
    fn of(tin: (Footprint, bool), standing: &[OnShelf], space: Space) -> Self {
        let half = tin.0.half(tin.1);
        let mut xs = vec![half.0, fine(space.width) - half.0];
        let mut ys = vec![half.1, fine(space.depth) - half.1];
        let mut arcs = Vec::new();
        for other in standing {
            let barrier = Barrier::between(tin, (other.footprint, other.spot.turned), space.gap);
            let (x, y) = other.centre();
            let (across, along) = barrier.straight();
            xs.extend([x - across, x + across]);
            ys.extend([y - along, y + along]);
            arcs.extend(barrier.arcs().map(|((dx, dy), r)| ((x + dx, y + dy), r)));
        }
        for all in [&mut xs, &mut ys] {
            all.sort_unstable();
            all.dedup();
        }
        Self { xs, ys, arcs }
    }

    /// Hands over where each two of them meet: a few hundredths round a point
    /// that is none.
    fn corners(&self, mut meet: impl FnMut(&[(i64, i64)])) {
        for &x in &self.xs {
            for &y in &self.ys {
                meet(&[(x, y)]);
            }
        }
        for &((cx, cy), r) in &self.arcs {
            for &x in &self.xs {
                if let Some(off) = side(r, x - cx) {
                    meet(&[(x, cy - off)]);
                    meet(&[(x, cy + off)]);
                }
            }
            for &y in &self.ys {
                if let Some(off) = side(r, y - cy) {
                    meet(&[(cx - off, y)]);
                    meet(&[(cx + off, y)]);
                }
            }
        }
        for (i, &a) in self.arcs.iter().enumerate() {
            for &b in &self.arcs[i + 1..] {
                for (x, y) in crossings(a, b).into_iter().flatten() {
                    let (x, y) = (rounded(x), rounded(y));
                    let near = [0, -1, 1];
                    let all: Vec<_> =
                        near.iter().flat_map(|dx| near.map(|dy| (x + dx, y + dy))).collect();
                    meet(&all);
                }
            }
        }
    }
}

/// The other side of a right triangle, rounded up.
fn side(r: i64, off: i64) -> Option<i64> {
    let square = r * r - off * off;
    (square >= 0).then(|| {
        let root = square.isqrt();
        if root * root < square { root + 1 } else { root }
    })
}

/// Where two arcs cross.
fn crossings(a: ((i64, i64), i64), b: ((i64, i64), i64)) -> Option<[(f64, f64); 2]> {
    let (dx, dy) = (b.0.0 - a.0.0, b.0.1 - a.0.1);
    let square = dx * dx + dy * dy;
    let (sum, difference) = (a.1 + b.1, a.1 - b.1);
    if square == 0 || square > sum * sum || square < difference * difference {
        return None;
    }
    let (x, y, square) = (exact(dx), exact(dy), exact(square));
    let along = (exact(a.1 * a.1) - exact(b.1 * b.1) + square) / (2.0 * square);
    let aside = (exact(a.1 * a.1) / square - along * along).max(0.0).sqrt();
    let (fx, fy) = (exact(a.0.0) + along * x, exact(a.0.1) + along * y);
    Some([(fx - aside * y, fy + aside * x), (fx + aside * y, fy - aside * x)])
}
