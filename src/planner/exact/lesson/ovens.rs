//! Ovens all together: how many tins stand in them at a time, when the first
//! can be hot, how many tins go through their doors. Which oven a tin stands
//! in is not asked here.

use std::collections::HashMap;

use pumpkin_core::predicate;

use super::super::engine::Limits;
use super::super::profile::Use;
use super::kit::moves;
use super::model::Model;
use super::modes::Mode;
use crate::graph::Problem;
use crate::graph::footprint::{Footprint, pattern};
use crate::graph::mixed::{Mixed, Staircase, sums, together};
use crate::graph::packing::Space;
use crate::graph::problem::{BakeTask, GroupTask, OvenTask};

/// Posts what holds for all ovens together.
pub(super) fn post(model: &mut Model<'_>, shelves: &mut Shelves) {
    let problem = model.problem;
    for mode in &model.modes {
        warm_up(problem, mode, &mut model.engine);
    }
    let mut sets: Vec<Vec<usize>> =
        model.modes.iter().filter_map(|m| ovens_of(problem, m)).collect();
    let mut every: Vec<usize> = sets.iter().flatten().copied().collect();
    every.sort_unstable();
    every.dedup();
    sets.push(every);
    sets.sort_unstable();
    sets.dedup();
    for set in sets {
        places(model, &set, shelves);
    }
}

fn ovens_of(problem: &Problem, mode: &Mode<'_>) -> Option<Vec<usize>> {
    mode.choice.bake.as_ref()?;
    let mut ovens = problem.groups[mode.group].ovens.clone();
    ovens.sort_unstable();
    Some(ovens)
}

/// Least minutes from one temperature (the last row: cold) to another, by way
/// of others if that is less.
pub(super) fn changes(oven: &OvenTask) -> Vec<Vec<i32>> {
    let mut least = oven.changes.clone();
    let heats = least.first().map_or(0, Vec::len);
    for via in 0..heats {
        for from in 0..least.len() {
            for to in 0..heats {
                least[from][to] = least[from][to].min(least[from][via] + least[via][to]);
            }
        }
    }
    least
}

/// When the first oven a group may use can be hot for a bake; `None` if it may
/// use none.
pub(super) fn hot_from(problem: &Problem, group: &GroupTask, bake: &BakeTask) -> Option<i32> {
    let hot = group.ovens.iter().map(|&o| {
        let oven = &problem.ovens[o];
        let cold = changes(oven).pop().unwrap_or_default();
        oven.on_from + cold.get(bake.heat).copied().unwrap_or(0)
    });
    hot.min()
}

/// No oven it may use is hot before it was switched on and warmed up.
fn warm_up(problem: &Problem, mode: &Mode<'_>, engine: &mut super::super::engine::Engine) {
    let Some(bake) = &mode.choice.bake else { return };
    let Some(load) = mode.starts[bake.load] else { return };
    match hot_from(problem, &problem.groups[mode.group], bake) {
        Some(hot) => mode.clause(engine, [predicate![load >= hot]]),
        None => mode.clause(engine, []),
    }
}

/// A footprint that tins may contain, and a height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Rim {
    footprint: Footprint,
    height: i32,
}

impl Rim {
    fn of(bake: &BakeTask) -> Self {
        Self { footprint: bake.footprint.lying(), height: bake.height }
    }

    /// Whether a tin contains it and is as high.
    pub(super) fn is_in(self, bake: &BakeTask) -> bool {
        self.footprint.is_in(bake.footprint) && bake.height >= self.height
    }
}

/// The rims of bakes, and the one all of them contain.
pub(super) fn rims<'b>(bakes: impl Iterator<Item = &'b BakeTask>) -> Vec<Rim> {
    let mut rims: Vec<Rim> = bakes.map(Rim::of).collect();
    let least = Footprint::in_all(rims.iter().map(|r| r.footprint));
    if let (Some(footprint), Some(height)) = (least, rims.iter().map(|r| r.height).min()) {
        rims.push(Rim { footprint, height });
    }
    rims.sort_unstable();
    rims.dedup();
    rims
}

/// How many places of a rim there are, worked out once.
#[derive(Debug, Default)]
pub(in crate::planner) struct Shelves {
    known: HashMap<(Footprint, Space), usize>,
    mixed: Mixed,
}

impl Shelves {
    /// In one oven.
    pub(super) fn places(&mut self, problem: &Problem, oven: usize, rim: Rim) -> i32 {
        let shelves = problem.ovens[oven].shelves.iter().filter(|s| s.clear >= rim.height);
        let most: usize = shelves
            .map(|s| {
                let places = || pattern(rim.footprint, s.space).at_most;
                *self.known.entry((rim.footprint, s.space)).or_insert_with(places)
            })
            .sum();
        i32::try_from(most).unwrap_or(i32::MAX)
    }
}

impl Shelves {
    /// Sums `a × first + b × second ≤ c` that hold for the tins of two rims
    /// that stand in some ovens.
    pub(super) fn mixed(
        &mut self,
        problem: &Problem,
        set: &[usize],
        first: Rim,
        second: Rim,
    ) -> Vec<(i32, i32, i32)> {
        let mut stairs: Staircase = vec![0];
        for shelf in set.iter().flat_map(|&o| &problem.ovens[o].shelves) {
            let fits = |rim: Rim| rim.height <= shelf.clear;
            let here = self.mixed.on_shelf(first.footprint, second.footprint, shelf.space);
            let here: Staircase = match (fits(first), fits(second)) {
                (true, true) => here.clone(),
                (true, false) => vec![0; here.len()],
                (false, true) => here.iter().copied().take(1).collect(),
                (false, false) => vec![0],
            };
            stairs = together(&stairs, &here);
        }
        sums(&stairs)
    }
}

/// What a tin counts in a sum of two rims: it stands for whichever of them it
/// contains that counts more.
pub(super) fn weight(bake: &BakeTask, first: (Rim, i32), second: (Rim, i32)) -> i32 {
    let counts = |(rim, count): (Rim, i32)| if rim.is_in(bake) { count } else { 0 };
    counts(first).max(counts(second))
}

/// Pairs of rims, each tin's own.
pub(super) fn pairs<'b>(bakes: impl Iterator<Item = &'b BakeTask>) -> Vec<(Rim, Rim)> {
    let mut own: Vec<Rim> = bakes.map(Rim::of).collect();
    own.sort_unstable();
    own.dedup();
    let later = |i: usize| own[i + 1..].iter().copied();
    (0..own.len()).flat_map(|i| later(i).map(move |b| (i, b))).map(|(i, b)| (own[i], b)).collect()
}

/// For some ovens and all groups that may use no other: for each footprint,
/// every tin that contains it takes a place of it. And all tins together take
/// no more than the area there is.
fn places(model: &mut Model<'_>, set: &[usize], shelves: &mut Shelves) {
    let (problem, limits) = (model.problem, model.limits());
    let inside: Vec<(&Mode<'_>, &BakeTask)> = model
        .modes
        .iter()
        .filter(|m| ovens_of(problem, m).is_some_and(|o| o.iter().all(|o| set.contains(o))))
        .filter_map(|m| m.choice.bake.as_ref().map(|b| (m, b)))
        .collect();
    let cap = i32::try_from(set.len()).unwrap_or(0).saturating_mul(problem.tins_per_opening);
    let through = inside.iter().flat_map(|(m, _)| moves(m)).collect();
    let mut posts: Vec<(Vec<Use>, i32)> = vec![(through, cap)];
    if model.shelf_room {
        posts.extend(room(problem, &inside, set, (shelves, limits)));
    }
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    for (uses, capacity) in posts {
        model.profile(uses, vec![capacity; minutes]);
    }
}

/// What stands in some ovens at one time, by rims, pairs of rims and area.
fn room(
    problem: &Problem,
    inside: &[(&Mode<'_>, &BakeTask)],
    set: &[usize],
    (shelves, limits): (&mut Shelves, Limits<'_>),
) -> Vec<(Vec<Use>, i32)> {
    let mut posts: Vec<(Vec<Use>, i32)> = Vec::new();
    for rim in rims(inside.iter().map(|(_, b)| *b)) {
        let of_oven: Vec<(usize, i32)> =
            set.iter().map(|&o| (o, shelves.places(problem, o, rim))).collect();
        let all = of_oven.iter().map(|p| p.1).fold(0, i32::saturating_add);
        let uses = inside.iter().filter(|(_, b)| rim.is_in(b)).filter_map(|(m, b)| {
            let group = &problem.groups[m.group];
            // A group kept apart has at least one oven for itself.
            let alone = of_oven.iter().filter(|(o, _)| group.ovens.contains(o));
            let whole = alone.map(|p| p.1).min().filter(|_| group.keep_apart).unwrap_or(0);
            m.stay(b.tins.max(whole))
        });
        posts.push((uses.collect(), all));
    }
    for (first, second) in pairs(inside.iter().map(|(_, b)| *b)) {
        if limits.over() {
            break;
        }
        for (a, b, c) in shelves.mixed(problem, set, first, second) {
            let counts = |bake| weight(bake, (first, a), (second, b));
            let uses = inside
                .iter()
                .filter_map(|(m, bake)| m.stay(counts(bake).saturating_mul(bake.tins)));
            posts.push((uses.filter(|u| u.count > 0).collect(), c));
        }
    }
    let (tin_area, there) = areas(problem, set, inside.iter().map(|(_, b)| *b));
    let uses = inside.iter().filter_map(|(m, b)| m.stay(tin_area(b).saturating_mul(b.tins)));
    posts.push((uses.filter(|u| u.count > 0).collect(), there));
    posts
}

/// Of some ovens, the area of a tin with its air and that of all shelves, in
/// square centimetres, tins rounded down and shelves up. Beside round tins
/// other tins take less air at their corners.
pub(super) fn areas<'b>(
    problem: &Problem,
    set: &[usize],
    mut bakes: impl Iterator<Item = &'b BakeTask>,
) -> (impl Fn(&BakeTask) -> i32, i32) {
    let beside_round = bakes.any(|b| b.footprint.is_circle());
    let shelves = || set.iter().flat_map(|&o| &problem.ovens[o].shelves);
    let gap = shelves().map(|s| s.space.gap).min().unwrap_or(0);
    let there: i64 = shelves()
        .map(|s| {
            let (w, d) = (s.space.width + s.space.gap, s.space.depth + s.space.gap);
            (i64::from(w) * i64::from(d) + 99) / 100
        })
        .sum();
    let tin = move |bake: &BakeTask| {
        let area = bake.footprint.area_with_air(gap, beside_round) / 100;
        i32::try_from(area.max(0)).unwrap_or(0)
    };
    (tin, i32::try_from(there).unwrap_or(i32::MAX))
}
