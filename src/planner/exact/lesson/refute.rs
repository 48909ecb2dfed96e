//! *Cannot* beyond pencil and paper: the lesson at its quickest, in half
//! minutes, worked through by the solver.

use std::cell::RefCell;

use super::super::engine::Limits;
use super::ask::{Said, ServeQuestion, ask};
use super::ovens::Shelves;
use crate::graph::Problem;

/// What is refuted at the quickest.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::planner) struct Refuted {
    /// Groups that cannot be served even by themselves.
    pub alone: Vec<usize>,
    /// Periods whose other groups cannot all be served.
    pub together: Vec<usize>,
}

/// Conflicts for one group by itself, and for all together.
const ALONE: u64 = 2_000;
const TOGETHER: u64 = 20_000;

/// Looks at the groups of `left_out`, positions in `quick`, which is the
/// lesson at its quickest. What a limit cuts short is not refuted.
pub(in crate::planner) fn refute(
    quick: &Problem,
    left_out: &[usize],
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
) -> Refuted {
    let mut refuted = Refuted::default();
    for &g in left_out {
        let like = quick.groups[g].like;
        let asked = left_out.iter().position(|&h| quick.groups[h].like == like);
        let first = asked.map_or(g, |i| left_out[i]);
        let impossible = if first == g {
            is_refuted(quick, &[g], (limits, ALONE), shelves)
        } else {
            refuted.alone.contains(&first)
        };
        if impossible {
            refuted.alone.push(g);
        }
    }
    for period in 0..quick.periods.len() {
        let here = |g: &usize| quick.groups[*g].period == period;
        let open = |g: &usize| here(g) && !refuted.alone.contains(g);
        let all: Vec<usize> = (0..quick.groups.len()).filter(open).collect();
        let asked = left_out.iter().any(open);
        if asked && is_refuted(quick, &all, (limits, TOGETHER), shelves) {
            refuted.together.push(period);
        }
    }
    refuted
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
