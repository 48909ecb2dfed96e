//! Places on the shelves of one oven for tins whose times are known: each keeps its place
//! from its load until it is out.

use std::cmp::Reverse;

use super::shelf_by_shelf::shelf_by_shelf;
use crate::graph::Problem;
use crate::graph::footprint::{OnShelf, Spot, free_spots};
use crate::graph::problem::BakeTask;

/// A tin that stands in the oven from minute to minute.
pub(super) struct TinToStand<'p> {
    /// Whose it is.
    pub(super) group: usize,
    /// What it is baked as.
    pub(super) bake: &'p BakeTask,
    /// The only shelf it may stand on, if there is one.
    pub(super) only: Option<usize>,
    /// Start of its load.
    pub(super) start: i32,
    /// End of its taking out.
    pub(super) end: i32,
}

impl TinToStand<'_> {
    /// Whether it may stand on a shelf of an oven.
    pub(super) fn may_stand(&self, problem: &Problem, oven: usize, shelf: usize) -> bool {
        self.only.is_none_or(|only| only == shelf)
            && self.bake.height <= problem.ovens[oven].shelves[shelf].clear
    }

    /// Whether both are in the oven at some time.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.start < other.end && other.start < self.end
    }
}

/// Places tried in one order of the tins before the next.
const TRIES: u32 = 600;

/// Shelf and place of each tin; `None` where none were found, which proves nothing, or once
/// `is_over`.
pub(super) fn lasting_places(
    problem: &Problem,
    oven: usize,
    tins: &[TinToStand<'_>],
    is_over: &dyn Fn() -> bool,
) -> Option<Vec<(usize, Spot)>> {
    let mut orders: [Vec<usize>; 2] = [(0..tins.len()).collect(), (0..tins.len()).collect()];
    let area = |i: usize| Reverse(tins[i].bake.footprint.area_with_air(0, false));
    orders[0].sort_by_key(|&i| (tins[i].start, area(i)));
    orders[1].sort_by_key(|&i| (area(i), tins[i].start));
    let one_by_one = orders.into_iter().find_map(|order| {
        let placed = vec![None; tins.len()];
        let mut search = Search { problem, oven, tins, order, placed, left: TRIES, is_over };
        search.place(0).then(|| search.placed.into_iter().flatten().collect())
    });
    one_by_one.or_else(|| shelf_by_shelf(problem, oven, tins, is_over))
}

struct Search<'a, 'p> {
    problem: &'p Problem,
    oven: usize,
    tins: &'a [TinToStand<'p>],
    order: Vec<usize>,
    placed: Vec<Option<(usize, Spot)>>,
    left: u32,
    is_over: &'a dyn Fn() -> bool,
}

impl Search<'_, '_> {
    fn place(&mut self, n: usize) -> bool {
        let Some(&tin) = self.order.get(n) else { return true };
        let of = &self.tins[tin];
        for shelf in 0..self.problem.ovens[self.oven].shelves.len() {
            if !of.may_stand(self.problem, self.oven, shelf) {
                continue;
            }
            for spot in self.free(tin, shelf) {
                if self.left == 0 || (self.is_over)() {
                    return false;
                }
                self.left -= 1;
                self.placed[tin] = Some((shelf, spot));
                if self.place(n + 1) {
                    return true;
                }
                self.placed[tin] = None;
            }
        }
        false
    }

    /// Free places for a tin on a shelf: of the arrangement that holds most, then those
    /// that touch something.
    fn free(&self, tin: usize, shelf: usize) -> Vec<Spot> {
        let of = &self.tins[tin];
        let space = self.problem.ovens[self.oven].shelves[shelf].space;
        let beside = |(other, at): (&TinToStand<'_>, &Option<(usize, Spot)>)| {
            let (on, spot) = (*at)?;
            (on == shelf && other.meets(of))
                .then_some(OnShelf { footprint: other.bake.footprint, spot })
        };
        let standing: Vec<OnShelf> =
            self.tins.iter().zip(&self.placed).filter_map(beside).collect();
        let is_free = |spot: &Spot| {
            let new = OnShelf { footprint: of.bake.footprint, spot: *spot };
            new.is_inside(space) && standing.iter().all(|s| new.is_clear_of(s, space.gap))
        };
        let pattern = &of.bake.patterns[self.oven][shelf];
        let mut spots: Vec<Spot> = pattern.iter().copied().filter(is_free).collect();
        for spot in free_spots(of.bake.footprint, &standing, space) {
            if !spots.contains(&spot) {
                spots.push(spot);
            }
        }
        spots
    }
}
