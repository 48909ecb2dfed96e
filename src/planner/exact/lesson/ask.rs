//! Whether some groups can all be served: the one question of refutations and
//! of explanations.

use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind};

use super::super::engine::{Limits, SearchEnd};
use super::model::{Model, Question};
use super::ovens::Shelves;
use crate::graph::Problem;

/// What is said to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::planner) enum Said {
    /// The model has a plan for all of them, which may ask less than the
    /// rules do.
    Yes,
    /// There is none: proved.
    No,
    /// A limit came first.
    Open,
}

/// Whether all of some groups can be served.
#[derive(Debug, Clone, Copy)]
pub(in crate::planner) struct ServeQuestion<'a> {
    /// The groups, as positions in the problem; no other is served.
    pub groups: &'a [usize],
    /// The problem is a lesson at its quickest in half minutes.
    pub in_halves: bool,
    /// Shelves hold no more tins than have room.
    pub shelf_room: bool,
    /// Tries all ovens together first, which may refute it sooner.
    pub together_first: bool,
}

/// Asks it, with all ovens together and then each by itself. A fault of the
/// solver counts as a limit reached. The limit on conflicts is for each of the
/// two.
pub(in crate::planner) fn ask(
    problem: &Problem,
    asked: ServeQuestion<'_>,
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
) -> Said {
    let one = |each_oven| {
        let work = AssertUnwindSafe(|| search(problem, asked, each_oven, limits, shelves));
        catch_unwind(work).unwrap_or(SearchEnd::Stopped)
    };
    if asked.together_first && one(false) == SearchEnd::Refuted {
        return Said::No;
    }
    match one(true) {
        SearchEnd::Refuted => Said::No,
        SearchEnd::Solved => Said::Yes,
        SearchEnd::Stopped => Said::Open,
    }
}

fn search(
    problem: &Problem,
    asked: ServeQuestion<'_>,
    each_oven: bool,
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
) -> SearchEnd {
    if limits.over() {
        return SearchEnd::Stopped;
    }
    let options = |g: usize| {
        let all = 0..problem.groups[g].options.len();
        if asked.groups.contains(&g) { all.collect() } else { Vec::new() }
    };
    let question = Question {
        allowed: (0..problem.groups.len()).map(options).collect(),
        served: asked.groups.len(),
        departures: None,
        spare: 0,
        each_oven,
        in_halves: asked.in_halves,
        shelf_room: asked.shelf_room,
    };
    let mut model = Model::new(problem, &question, &[], &mut shelves.borrow_mut(), limits);
    model.search(limits)
}
