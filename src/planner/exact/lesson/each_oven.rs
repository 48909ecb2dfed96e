//! Each oven by itself: which tins stand in it, how hot it is, when its door
//! must stay shut, how many tins go through it. Of tins of several kinds on
//! one shelf only footprints they contain and areas are counted.

use pumpkin_constraints as constraints;
use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::variables::{DomainId, TransformableVariable};

use super::super::engine::Limits;
use super::super::profile::Use;
use super::model::Model;
use super::modes::Mode;
use super::ovens::{Shelves, changes};
use crate::graph::Problem;
use crate::graph::problem::{BakeTask, GroupTask};

/// Tins of a mode in an oven.
pub(super) struct TinsInOven {
    pub(super) mode: usize,
    pub(super) oven: usize,
    pub(super) tins: DomainId,
    most: i32,
}

/// Posts the rules of each oven.
pub(super) fn post(model: &mut Model<'_>, shelves: &mut Shelves) {
    let standing = stand(model);
    same_ovens_in_order(model, &standing);
    for oven in 0..model.problem.ovens.len() {
        if model.is_cut_short() {
            return;
        }
        let here: Vec<&TinsInOven> = standing.iter().filter(|s| s.oven == oven).collect();
        inside(model, oven, &here, shelves);
    }
    pairs(model, &standing);
    super::watched::post(model, &standing);
    model.standing = standing;
}

/// How many tins of each mode stand in each oven it may use; all of them
/// somewhere, if the group is served so.
fn stand(model: &mut Model<'_>) -> Vec<TinsInOven> {
    let problem = model.problem;
    let mut standing = Vec::new();
    for (m, mode) in model.modes.iter().enumerate() {
        let Some(bake) = &mode.choice.bake else { continue };
        let group = &problem.groups[mode.group];
        let mut of_mode: Vec<DomainId> = Vec::new();
        for &oven in &group.ovens {
            let room = if model.shelf_room { room_for(bake, group, oven) } else { bake.tins };
            let most = room.min(bake.tins);
            if most > 0 {
                let tins = model.engine.variable(0, most);
                standing.push(TinsInOven { mode: m, oven, tins, most });
                of_mode.push(tins);
            }
        }
        let mut terms: Vec<_> = of_mode.iter().map(|t| t.scaled(1)).collect();
        let all = match mode.taken {
            Some(taken) => {
                terms.push(taken.scaled(-bake.tins));
                0
            }
            None => bake.tins,
        };
        if terms.is_empty() {
            model.engine.clause([]);
        } else {
            model.engine.post(|tag| constraints::equals(terms, all, tag));
        }
    }
    standing
}

/// Tins of a bake that an empty oven holds for a group.
fn room_for(bake: &BakeTask, group: &GroupTask, oven: usize) -> i32 {
    let shelves = bake.at_most[oven].iter().enumerate();
    let usable = shelves.filter(|(s, _)| group.shelf.is_none_or(|only| only == *s));
    i32::try_from(usable.map(|(_, &n)| n).sum::<usize>()).unwrap_or(i32::MAX)
}

/// Of ovens that differ in nothing but their names, the first to be used is
/// used by an earlier group: every plan has its like where that is so.
fn same_ovens_in_order(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let problem = model.problem;
    for oven in 1..problem.ovens.len() {
        if model.is_cut_short() {
            return;
        }
        let Some(before) = (0..oven).rev().find(|&b| alike(problem, b, oven)) else { continue };
        for here in standing.iter().filter(|s| s.oven == oven) {
            let earlier = standing.iter().filter(|s| s.oven == before && s.mode <= here.mode);
            let mut any: Vec<Predicate> = earlier
                .map(|s| {
                    let tins = s.tins;
                    predicate![tins >= 1]
                })
                .collect();
            let tins = here.tins;
            any.push(predicate![tins <= 0]);
            model.engine.clause(any);
        }
    }
}

fn alike(problem: &Problem, a: usize, b: usize) -> bool {
    let (x, y) = (&problem.ovens[a], &problem.ovens[b]);
    x.changes == y.changes
        && x.on_from == y.on_from
        && x.shelves == y.shelves
        && problem.groups.iter().all(|g| g.ovens.contains(&a) == g.ovens.contains(&b))
}

/// Places, area and doors of one oven, and when it can be hot.
fn inside(model: &mut Model<'_>, oven: usize, here: &[&TinsInOven], shelves: &mut Shelves) {
    let (problem, limits) = (model.problem, model.limits());
    let of = &problem.ovens[oven];
    let cold = changes(of).pop().unwrap_or_default();
    let mut bakes: Vec<(&TinsInOven, &Mode<'_>, &BakeTask)> = Vec::new();
    for s in here {
        let mode = &model.modes[s.mode];
        let Some(bake) = &mode.choice.bake else { continue };
        let Some(load) = mode.starts[bake.load] else { continue };
        let hot = of.on_from + cold.get(bake.heat).copied().unwrap_or(0);
        let tins = s.tins;
        model.engine.clause([predicate![tins <= 0], predicate![load >= hot]]);
        bakes.push((s, mode, bake));
    }
    let through = bakes.iter().flat_map(|(s, mode, bake)| doors(s, mode, bake));
    let mut posts: Vec<(Vec<Use>, i32)> = vec![(through.collect(), problem.tins_per_opening)];
    if model.shelf_room {
        posts.extend(room(problem, oven, &bakes, (shelves, limits)));
    }
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    for (uses, capacity) in posts {
        model.profile(uses, vec![capacity; minutes]);
    }
}

/// What stands in one oven at one time, by rims, pairs of rims and area.
fn room(
    problem: &Problem,
    oven: usize,
    bakes: &[(&TinsInOven, &Mode<'_>, &BakeTask)],
    (shelves, limits): (&mut Shelves, Limits<'_>),
) -> Vec<(Vec<Use>, i32)> {
    let each = |s: &TinsInOven, mode: &Mode<'_>, count: i32| -> Vec<Use> {
        let tins = s.tins;
        let stay = |j| mode.stay(count).map(|u| Use { present: Some(predicate![tins >= j]), ..u });
        (1..=s.most).filter_map(stay).collect()
    };
    let mut posts: Vec<(Vec<Use>, i32)> = Vec::new();
    for rim in super::ovens::rims(bakes.iter().map(|b| b.2)) {
        let uses = bakes.iter().filter(|b| rim.is_in(b.2)).flat_map(|b| each(b.0, b.1, 1));
        posts.push((uses.collect(), shelves.places(problem, oven, rim)));
    }
    let only = [oven];
    for (first, second) in super::ovens::pairs(bakes.iter().map(|b| b.2)) {
        if limits.over() {
            break;
        }
        for (a, b, c) in shelves.mixed(problem, &only, first, second) {
            let uses = bakes.iter().flat_map(|of| {
                each(of.0, of.1, super::ovens::weight(of.2, (first, a), (second, b)))
            });
            posts.push((uses.filter(|u| u.count > 0).collect(), c));
        }
    }
    let (tin_area, there) = super::ovens::areas(problem, &only, bakes.iter().map(|b| b.2));
    let uses = bakes.iter().flat_map(|b| each(b.0, b.1, tin_area(b.2)));
    posts.push((uses.filter(|u| u.count > 0).collect(), there));
    posts
}

/// Tins through the door in each minute of loading and of taking out: one more
/// whenever the minutes no longer do with one fewer.
fn doors(s: &TinsInOven, mode: &Mode<'_>, bake: &BakeTask) -> Vec<Use> {
    let tins = s.tins;
    let mut uses = Vec::new();
    for task in [bake.load, bake.out] {
        let minutes = mode.choice.tasks[task].minutes.max(1);
        for j in (1..=s.most).step_by(usize::try_from(minutes).unwrap_or(1)) {
            let present = Some(predicate![tins >= j]);
            uses.extend(mode.use_of(task, 1).map(|u| Use { present, ..u }));
        }
    }
    uses
}

/// When a bake's door moves and when it must not, from the start of its load.
pub(super) struct Doors {
    loaded: i32,
    taken_out: i32,
    end: i32,
    shut: Option<(i32, i32)>,
}

impl Doors {
    pub(super) fn of(problem: &Problem, mode: &Mode<'_>, bake: &BakeTask) -> Self {
        let minutes = |t: usize| mode.choice.tasks[t].minutes;
        let loaded = minutes(bake.load);
        let taken_out = loaded + minutes(bake.bake);
        let shut = bake.shut.map(|s| (problem.call.max(loaded), loaded + s));
        Self {
            loaded,
            taken_out,
            end: taken_out + minutes(bake.out),
            shut: shut.filter(|(from, until)| from < until),
        }
    }

    /// From when until when it is open, from the start of its load.
    pub(super) fn openings(&self) -> impl Iterator<Item = (i32, i32)> {
        let all = [(0, self.loaded), (self.taken_out, self.end)];
        all.into_iter().filter(|(opens, closes)| opens < closes)
    }

    /// By how many minutes another may not load later than this one, each
    /// between two bounds that are allowed, lest both doors are open.
    pub(super) fn meets(&self, other: &Doors) -> Vec<(i32, i32)> {
        let mine = self.openings();
        mine.flat_map(|(p, q)| other.openings().map(move |(r, s)| (p - s, q - r))).collect()
    }

    /// As [`Doors::meets`], lest the other's openings fall into the time this
    /// one's door is shut.
    fn forbids(&self, other: &Doors) -> Vec<(i32, i32)> {
        let Some((from, until)) = self.shut else { return Vec::new() };
        other.openings().map(|(opens, closes)| (from - closes, until - opens)).collect()
    }
}

/// Rules between two groups in one oven.
fn pairs(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let problem = model.problem;
    let all_changes: Vec<Vec<Vec<i32>>> = problem.ovens.iter().map(changes).collect();
    let mut of_mode: Vec<Vec<&TinsInOven>> = vec![Vec::new(); model.modes.len()];
    for s in standing {
        of_mode[s.mode].push(s);
    }
    for (m, second) in (0..model.modes.len()).flat_map(|m| (0..m).map(move |n| (n, m))) {
        if model.modes[m].group == model.modes[second].group {
            continue;
        }
        if model.is_cut_short() {
            return;
        }
        let common: Vec<(DomainId, DomainId, usize)> = of_mode[m]
            .iter()
            .flat_map(|s| {
                let others = of_mode[second].iter().filter(|t| t.oven == s.oven);
                others.map(|t| (s.tins, t.tins, s.oven))
            })
            .collect();
        // Ovens may change at different speeds: the quickest binds them all.
        let ovens: Vec<usize> = common.iter().map(|c| c.2).collect();
        let of_ovens: Vec<&Vec<Vec<i32>>> = ovens.iter().map(|&o| &all_changes[o]).collect();
        let gaps = forbidden(problem, &model.modes[m], &model.modes[second], &of_ovens);
        if common.is_empty() || gaps.is_empty() {
            continue;
        }
        let same = model.engine.literal();
        let holds = same.get_true_predicate();
        for (a, b, _) in common {
            model.engine.clause([predicate![a <= 0], predicate![b <= 0], holds]);
        }
        keep_distance(model, (m, second), gaps, &[!holds]);
    }
}

/// The second does not load later than the first by minutes strictly between
/// two bounds, unless one of `unless` holds.
pub(super) fn keep_distance(
    model: &mut Model<'_>,
    (first, second): (usize, usize),
    mut gaps: Vec<(i32, i32)>,
    unless: &[Predicate],
) {
    let load = |mode: &Mode<'_>| mode.choice.bake.as_ref().and_then(|b| mode.starts[b.load]);
    let (Some(x), Some(y)) = (load(&model.modes[first]), load(&model.modes[second])) else {
        return;
    };
    gaps.retain(|(low, high)| high - low > 1);
    for (low, high) in merge(gaps) {
        // y - x ≤ low, or y - x ≥ high.
        let (early, late) = (model.engine.literal(), model.engine.literal());
        let either = [early.get_true_predicate(), late.get_true_predicate()];
        model.engine.clause(either.into_iter().chain(unless.iter().copied()));
        let terms = [y.scaled(1), x.scaled(-1)];
        model.engine.post_if(early, |tag| constraints::less_than_or_equals(terms, low, tag));
        let terms = [x.scaled(1), y.scaled(-1)];
        model.engine.post_if(late, |tag| constraints::less_than_or_equals(terms, -high, tag));
    }
}

/// By how many minutes the second may not load later than the first in one of
/// these ovens: strictly between each two bounds.
fn forbidden(
    problem: &Problem,
    first: &Mode<'_>,
    second: &Mode<'_>,
    ovens: &[&Vec<Vec<i32>>],
) -> Vec<(i32, i32)> {
    let (Some(a), Some(b)) = (&first.choice.bake, &second.choice.bake) else { return Vec::new() };
    let (x, y) = (Doors::of(problem, first, a), Doors::of(problem, second, b));
    let apart = |m: &Mode<'_>| problem.groups[m.group].keep_apart;
    let mut gaps = Vec::new();
    if a.heat != b.heat || apart(first) || apart(second) {
        let change = |from: usize, to: usize| {
            let of = |o: &&Vec<Vec<i32>>| o.get(from).and_then(|row| row.get(to)).copied();
            if from == to { 0 } else { ovens.iter().filter_map(of).min().unwrap_or(0) }
        };
        gaps.push((-(y.end + change(b.heat, a.heat)), x.end + change(a.heat, b.heat)));
    }
    gaps.extend(x.forbids(&y));
    gaps.extend(y.forbids(&x).into_iter().map(|(low, high)| (-high, -low)));
    gaps
}

/// Gaps that overlap put together.
fn merge(mut gaps: Vec<(i32, i32)>) -> Vec<(i32, i32)> {
    gaps.sort_unstable();
    let mut merged: Vec<(i32, i32)> = Vec::new();
    for (low, high) in gaps {
        match merged.last_mut() {
            // Both bounds of a gap are allowed: one that begins at the end of
            // another leaves that minute free.
            Some(last) if low < last.1 => last.1 = last.1.max(high),
            _ => merged.push((low, high)),
        }
    }
    merged
}
