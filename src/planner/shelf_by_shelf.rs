//! Places for tins whose times are known, looked for shelf by shelf: which tins share one,
//! and how all that stand there beside one another are arranged.

use std::cmp::Reverse;

use super::lasting::TinToStand;
use crate::graph::Problem;
use crate::graph::footprint::{Footprint, Spot, Together, stand};

/// Shelves asked whether they take some tins together.
const ASKED: u32 = 80;

/// Shelf and place of each tin in one oven; `None` where none were found, which proves
/// nothing, or once `is_over`. Tins of which one is still there when the next comes are
/// arranged as if all stood there at one time.
pub(super) fn shelf_by_shelf(
    problem: &Problem,
    oven: usize,
    tins: &[TinToStand<'_>],
    is_over: &dyn Fn() -> bool,
) -> Option<Vec<(usize, Spot)>> {
    let mut search = Search::new(problem, oven, tins, is_over);
    if !search.place(0) {
        return None;
    }
    (0..tins.len()).map(|tin| search.spot(tin)).collect()
}

/// Whether it is proved that tins do not stand in an oven together, whichever shelves they
/// are on; `false` for tins that are not all there at one time.
pub(super) fn is_too_full(
    problem: &Problem,
    oven: usize,
    tins: &[TinToStand<'_>],
    is_over: &dyn Fn() -> bool,
) -> bool {
    let mut search = Search::new(problem, oven, tins, is_over);
    tins.iter().all(|one| tins.iter().all(|other| one.meets(other)))
        && !search.place(0)
        && !search.unsure
}

struct Search<'a, 'p> {
    problem: &'p Problem,
    oven: usize,
    tins: &'a [TinToStand<'p>],
    order: Vec<usize>,
    shelf_of: Vec<Option<usize>>,
    left: u32,
    is_over: &'a dyn Fn() -> bool,
    /// Something was left out that was not refuted.
    unsure: bool,
}

impl<'a, 'p> Search<'a, 'p> {
    fn new(
        problem: &'p Problem,
        oven: usize,
        tins: &'a [TinToStand<'p>],
        is_over: &'a dyn Fn() -> bool,
    ) -> Self {
        let mut order: Vec<usize> = (0..tins.len()).collect();
        let area = |i: usize| Reverse(tins[i].bake.footprint.area_with_air(0, false));
        order.sort_by_key(|&i| (area(i), tins[i].start, tins[i].group));
        let shelf_of = vec![None; tins.len()];
        Self { problem, oven, tins, order, shelf_of, left: ASKED, is_over, unsure: false }
    }

    fn place(&mut self, n: usize) -> bool {
        let Some(&tin) = self.order.get(n) else { return true };
        // Tins of one group that are alike stand on the shelves in the order of both.
        let alike = n.checked_sub(1).map(|before| self.order[before]);
        let alike = alike.filter(|&before| self.tins[before].group == self.tins[tin].group);
        let from = alike.and_then(|before| self.shelf_of[before]).unwrap_or(0);
        for shelf in from..self.problem.ovens[self.oven].shelves.len() {
            if !self.tins[tin].may_stand(self.problem, self.oven, shelf) {
                continue;
            }
            if self.left == 0 || (self.is_over)() {
                self.unsure = true;
                return false;
            }
            self.left -= 1;
            self.shelf_of[tin] = Some(shelf);
            if self.spot(tin).is_some() && self.place(n + 1) {
                return true;
            }
            self.shelf_of[tin] = None;
        }
        false
    }

    /// The place of a tin among all that it meets on its shelf, or that meet these.
    fn spot(&mut self, tin: usize) -> Option<(usize, Spot)> {
        let shelf = self.shelf_of[tin]?;
        let mut with = vec![tin];
        let mut at = 0;
        while let Some(&one) = with.get(at) {
            let there = |&other: &usize| {
                self.shelf_of[other] == Some(shelf) && self.tins[one].meets(&self.tins[other])
            };
            let new = (0..self.tins.len()).filter(|other| there(other) && !with.contains(other));
            let new: Vec<usize> = new.collect();
            with.extend(new);
            at += 1;
        }
        with.sort_unstable();
        let footprints: Vec<Footprint> =
            with.iter().map(|&other| self.tins[other].bake.footprint).collect();
        let space = self.problem.ovens[self.oven].shelves[shelf].space;
        match stand(&footprints, space) {
            Together::Placed(standing) => {
                let mine = with.iter().position(|&other| other == tin)?;
                Some((shelf, standing[mine].spot))
            }
            Together::Refuted => None,
            Together::Unknown => {
                self.unsure = true;
                None
            }
        }
    }
}
