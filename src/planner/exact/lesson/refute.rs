//! *Cannot* beyond pencil and paper: the lesson at its quickest, in half
//! minutes, worked through by the solver.

use std::cell::RefCell;

use super::super::engine::Limits;
use super::ask::{Said, ServeQuestion, ask};
use super::ovens::Shelves;
use crate::graph::Problem;
use crate::planner::bounds::beside;

/// What is refuted at the quickest.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::planner) struct Refuted {
    /// Groups that cannot be served even by themselves.
    pub alone: Vec<usize>,
    /// Sets of other groups that cannot all be served.
    pub together: Vec<Vec<usize>>,
}

impl Refuted {
    /// So many groups are left out in any plan.
    pub(in crate::planner) fn left_out(&self) -> usize {
        self.alone.len() + self.together.len()
    }
}

/// Conflicts for one group by itself, and for all together.
const ALONE: u64 = 2_000;
const TOGETHER: u64 = 20_000;

/// Those of some groups that cannot be served even by themselves; `quick` is
/// the lesson at its quickest. What a limit cuts short is not refuted.
pub(in crate::planner) fn refute_alone(
    quick: &Problem,
    groups: &[usize],
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
) -> Vec<usize> {
    // Whatever holds of one group holds of the others like it.
    let mut known: Vec<(usize, bool)> = Vec::new();
    let mut alone = Vec::new();
    for &g in groups {
        let like = quick.groups[g].like;
        let impossible = match known.iter().find(|k| k.0 == like) {
            Some(&(_, impossible)) => impossible,
            None => {
                let impossible = is_refuted(quick, &[g], (limits, ALONE), shelves);
                known.push((like, impossible));
                impossible
            }
        };
        alone.extend(impossible.then_some(g));
    }
    alone
}

/// Sets of groups that cannot all be served, each with one of `asked` in it
/// and none of `out`, of which that is known by themselves. No two sets have a
/// group in common.
pub(in crate::planner) fn refute_together(
    quick: &Problem,
    (asked, out): (&[usize], &[usize]),
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
) -> Vec<Vec<usize>> {
    let mut seen: Vec<usize> = Vec::new();
    let mut together = Vec::new();
    for &g in asked {
        if seen.contains(&g) {
            continue;
        }
        let mut all = beside(quick, quick.groups[g].period);
        all.retain(|h| !out.contains(h));
        seen.extend(&all);
        if is_refuted(quick, &all, (limits, TOGETHER), shelves) {
            together.push(all);
        }
    }
    together
}

fn is_refuted(
    quick: &Problem,
    groups: &[usize],
    (limits, conflicts): (Limits<'_>, u64),
    shelves: &RefCell<Shelves>,
) -> bool {
    let most = limits.conflicts.map_or(conflicts, |most| most.min(conflicts));
    let limits = Limits { conflicts: Some(most), ..limits };
    let asked = ServeQuestion { groups, in_halves: true, shelf_room: true, together_first: true };
    ask(quick, asked, limits, shelves) == Said::No
}
