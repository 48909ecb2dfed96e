//! A few groups of a lesson without all others.

use std::sync::atomic::AtomicBool;
use std::time::Duration;

use crate::graph::problem::{BakeTask, GroupTask};
use crate::graph::{Problem, expand};
use crate::model::{Attendance, GroupId, Lesson};
use crate::plan::why::{By, Pace};
use crate::plan::{NotServed, Plan, Refusal};
pub(super) use crate::planner::explain::only;
use crate::planner::explain::{ExplainLimits, families, holds_together};
use crate::planner::serve_all;

/// Plans built before longer proofs are tried, and in all.
const FIRST: u64 = 300;
const ALL: u64 = 4_000;
/// Limits of the longer proof.
const PROOF: Duration = Duration::from_millis(400);
const CONFLICTS: u64 = 2_000;

/// What is known of some groups without all others.
#[derive(Debug, Clone)]
pub(super) enum Alone {
    /// A plan that serves them all.
    Served(Box<Plan>),
    /// There is none: proved.
    Cannot,
    /// None was found.
    NotFound,
}

/// Whether bells, links, locks and the size of shelves leave each group of a
/// problem a way at all.
pub(super) fn possible(problem: &Problem) -> bool {
    problem.groups.iter().all(has_way)
}

/// The same for one group.
pub(super) fn has_way(group: &GroupTask) -> bool {
    let place = |bake: &BakeTask| {
        let on = |&oven: &usize| {
            let shelves = bake.at_most[oven].iter().enumerate();
            let meant = shelves.filter(|(s, _)| group.shelf.is_none_or(|only| only == *s));
            meant.map(|(_, places)| *places).sum::<usize>()
        };
        group.ovens.iter().map(on).sum::<usize>() >= usize::try_from(bake.tins).unwrap_or(0)
    };
    group.options.iter().any(|o| o.windows.possible() && o.bake.as_ref().is_none_or(place))
}

/// Whether some groups can be served without all others.
pub(super) fn alone(lesson: &Lesson, groups: &[GroupId], stop: &AtomicBool) -> Alone {
    let Some(only) = only(lesson, groups) else { return Alone::NotFound };
    let problem = expand(&only);
    if !possible(&problem) {
        return Alone::Cannot;
    }
    if let Some(plan) = serve_all(&problem, (FIRST, 1), stop) {
        return Alone::Served(Box::new(plan));
    }
    let of = families(&only, groups, Pace::Planned);
    let limits = ExplainLimits { within: PROOF, conflicts: CONFLICTS, stop: Some(stop) };
    if holds_together(&only, groups, &of, Pace::Planned, limits) == Some(false) {
        return Alone::Cannot;
    }
    match serve_all(&problem, (ALL, 2), stop) {
        Some(plan) => Alone::Served(Box::new(plan)),
        None => Alone::NotFound,
    }
}

/// A plan of some groups told for the whole lesson: all others are left out.
pub(super) fn told_of_all(lesson: &Lesson, mut plan: Plan) -> Plan {
    let told = |g: GroupId| {
        let left_out = lesson.group(g).attendance == Attendance::LeftOut;
        NotServed {
            group: g,
            refusal: if left_out { Refusal::LeftOut } else { Refusal::NotFound },
            by: By::Nothing,
            rules: Vec::new(),
            reason: "Not looked at here.".to_owned(),
        }
    };
    let all = (0..lesson.groups.len()).map(GroupId);
    let missing = all.filter(|&g| plan.choice(g).is_none());
    plan.not_served = missing.map(told).collect();
    plan
}
