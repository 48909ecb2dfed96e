//! Free places on shelves, remembered: a search comes to the same tins on the
//! same shelf again and again, and where one more would stand is dear to find.

use rustc_hash::FxHashMap;

use crate::graph::footprint::{FINE, Footprint, OnShelf, Spot, free_spots};
use crate::graph::packing::Space;
use crate::graph::problem::BakeTask;

/// Answers kept before all are forgotten.
const MOST: usize = 100_000;

/// Where one more tin would stand, by oven, shelf, what it takes, and the tins
/// that stand there. The standard hash, made against keys chosen to collide, takes an
/// eighth of the time of a search.
type Known = FxHashMap<(usize, usize, Footprint), FxHashMap<Vec<OnShelf>, Option<Spot>>>;

/// What is known of free places.
#[derive(Debug, Clone, Default)]
pub(super) struct SpotMemory {
    known: Known,
    number: usize,
}

impl SpotMemory {
    /// A free place for one more tin beside those that stand there: of the
    /// arrangement that holds most, else beside what already stands.
    pub(super) fn free(
        &mut self,
        bake: &BakeTask,
        (oven, shelf): (usize, usize),
        space: Space,
        standing: &mut Vec<OnShelf>,
    ) -> Option<Spot> {
        // The answer hangs on which stand there, not on which came first.
        standing.sort_unstable();
        let of_shelf = self.known.entry((oven, shelf, bake.footprint)).or_default();
        if let Some(&spot) = of_shelf.get(standing.as_slice()) {
            return spot;
        }
        let spot = find(bake, &bake.patterns[oven][shelf], space, standing);
        of_shelf.insert(standing.clone(), spot);
        self.number += 1;
        if self.number > MOST {
            self.known.clear();
            self.number = 0;
        }
        spot
    }
}

fn find(bake: &BakeTask, pattern: &[Spot], space: Space, standing: &[OnShelf]) -> Option<Spot> {
    let free = |spot: &Spot| {
        let new = OnShelf { footprint: bake.footprint, spot: *spot };
        new.is_inside(space) && standing.iter().all(|s| new.is_clear_of(s, space.gap))
    };
    if let Some(spot) = pattern.iter().find(|s| free(s)) {
        return Some(*spot);
    }
    if standing.iter().all(|s| s.footprint.lying() == bake.footprint.lying()) {
        return None;
    }
    if bake.footprint.is_circle() || standing.iter().any(|s| s.footprint.is_circle()) {
        return free_spots(bake.footprint, standing, space).first().copied();
    }
    let mut xs = vec![0];
    let mut ys = vec![0];
    for tin in standing {
        // Right and back edge of the rectangle round its rim, with its air.
        let (w, d) = tin.footprint.sides(tin.spot.turned);
        xs.push(tin.spot.x + (w + space.gap) * FINE);
        ys.push(tin.spot.y + (d + space.gap) * FINE);
    }
    for all in [&mut xs, &mut ys] {
        all.sort_unstable();
        all.dedup();
    }
    let corners = ys.iter().flat_map(|&y| xs.iter().map(move |&x| (x, y)));
    corners.flat_map(|(x, y)| [false, true].map(|turned| Spot { x, y, turned })).find(free)
}
