//! *Cannot* beyond pencil and paper: the lesson at its quickest, in half
//! minutes, worked through by the solver.

use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind};

use super::super::engine::{Answer, Limits};
use super::model::{Model, Question};
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
    let work = AssertUnwindSafe(|| {
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
    });
    // A fault of the solver refutes nothing more.
    let _ = catch_unwind(work);
    refuted
}

fn is_refuted(
    quick: &Problem,
    groups: &[usize],
    (limits, conflicts): (Limits<'_>, u64),
    shelves: &RefCell<Shelves>,
) -> bool {
    let options = |g: usize| {
        let all = 0..quick.groups[g].options.len();
        if groups.contains(&g) { all.collect() } else { Vec::new() }
    };
    let most = limits.conflicts.map_or(conflicts, |most| most.min(conflicts));
    let limits = Limits { conflicts: Some(most), ..limits };
    [false, true].into_iter().any(|each_oven| {
        let question = Question {
            allowed: (0..quick.groups.len()).map(options).collect(),
            served: groups.len(),
            departures: None,
            spare: 0,
            each_oven,
            in_halves: true,
        };
        let mut model = Model::new(quick, &question, &[], &mut shelves.borrow_mut(), limits);
        model.search(limits) == Answer::Refuted
    })
}
