//! Adults at the doors of ovens. With one adult two doors are never open in one
//! minute; with several, each open door of each minute wants one of them.

use std::collections::BTreeMap;

use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::variables::DomainId;

use super::super::profile::{Moment, Use};
use super::each_oven::{Doors, TinsInOven, keep_distance};
use super::kit::{self, Wanted};
use super::model::Model;
use crate::graph::Problem;
use crate::graph::problem::PoolOf;

/// Posts it, if the lesson wants an adult at doors.
pub(super) fn post(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let problem = model.problem;
    if !problem.adult_at_doors {
        return;
    }
    match problem.pools.iter().filter(|p| matches!(p.of, PoolOf::Adult(_))).count() {
        1 => by_one(model, standing),
        _ => by_several(model, standing),
    }
}

/// Each open door of each minute wants one of the adults who may stand at it whoever opens
/// it, or one who is there for a group alone, while that moves tins there.
fn by_several(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let moves: Vec<Moves> = standing.iter().flat_map(|here| moves(model, here)).collect();
    let for_all: Vec<Vec<usize>> =
        (0..model.problem.ovens.len()).map(|oven| for_all(model.problem, oven)).collect();
    let mut doors: Vec<Wanted> = Vec::new();
    let mut watched: BTreeMap<(usize, i32), Vec<DomainId>> = BTreeMap::new();
    for of in &moves {
        if model.is_cut_short() {
            return;
        }
        let adults = &model.problem.groups[of.group].adults;
        let own: Vec<usize> =
            adults.iter().copied().filter(|a| !for_all[of.oven].contains(a)).collect();
        let by_all = watched.entry((of.oven, of.minute)).or_insert_with(|| {
            let by = model.engine.variable(0, 1);
            doors.push(at_door(model.zero, &for_all[of.oven], of.minute, by));
            vec![by]
        });
        if !own.is_empty() {
            let by = model.engine.variable(0, 1);
            doors.push(at_door(model.zero, &own, of.minute, by));
            by_all.push(by);
            for holds in of.hold() {
                model.engine.clause([predicate![by <= 0], holds]);
            }
        }
    }
    for of in &moves {
        if model.is_cut_short() {
            return;
        }
        let by = watched.get(&(of.oven, of.minute)).into_iter().flatten();
        let any = by.map(|&by| predicate![by >= 1]);
        model.engine.clause(of.hold().map(|holds| !holds).into_iter().chain(any));
    }
    kit::at_doors(model, doors);
}

fn at_door(zero: DomainId, adults: &[usize], minute: i32, by: DomainId) -> Wanted {
    let moment = |plus| Moment { variable: zero, plus };
    let (from, until) = (moment(minute), moment(minute + 1));
    kit::wanted(adults, Use { from, until, count: 1, present: Some(predicate![by >= 1]) })
}

/// Adults who may serve whoever may bake in an oven.
fn for_all(problem: &Problem, oven: usize) -> Vec<usize> {
    let mut groups = problem.groups.iter().filter(|g| g.ovens.contains(&oven));
    let first = groups.next().map_or(&[][..], |g| &g.adults);
    let mut all = first.to_vec();
    for group in groups {
        all.retain(|adult| group.adults.contains(adult));
    }
    all
}

/// Tins of a mode may go through an oven's door in a minute: they do if it loads between
/// two minutes.
struct Moves {
    group: usize,
    oven: usize,
    minute: i32,
    tins: DomainId,
    load: DomainId,
    loads: (i32, i32),
}

impl Moves {
    /// What holds where they do.
    fn hold(&self) -> [Predicate; 3] {
        let Self { tins, load, loads: (first, last), .. } = *self;
        [predicate![tins >= 1], predicate![load >= first], predicate![load <= last]]
    }
}

fn moves(model: &Model<'_>, here: &TinsInOven) -> Vec<Moves> {
    let mode = &model.modes[here.mode];
    let Some(bake) = &mode.choice.bake else { return Vec::new() };
    let Some(load) = mode.starts[bake.load] else { return Vec::new() };
    let (earliest, latest) = mode.window(bake.load);
    let (group, oven, tins) = (mode.group, here.oven, here.tins);
    let mut all = Vec::new();
    for (opens, closes) in Doors::of(model.problem, mode, bake).openings() {
        all.extend((earliest + opens..latest + closes).map(|minute| {
            let loads = (minute - closes + 1, minute - opens);
            Moves { group, oven, minute, tins, load, loads }
        }));
    }
    all
}

/// Its one adult's doors: no two of different groups are open at a time.
fn by_one(model: &mut Model<'_>, standing: &[TinsInOven]) {
    let problem = model.problem;
    one_oven_each(model, standing);
    for (first, second) in pairs(model) {
        if model.is_cut_short() {
            return;
        }
        let (Some(a), Some(b)) =
            (&model.modes[first].choice.bake, &model.modes[second].choice.bake)
        else {
            continue;
        };
        let a = Doors::of(problem, &model.modes[first], a);
        let b = Doors::of(problem, &model.modes[second], b);
        let together = together(model, standing, first, second);
        let mut unless: Vec<Predicate> = vec![together];
        unless.extend(model.modes[first].present().map(|p| !p));
        unless.extend(model.modes[second].present().map(|p| !p));
        keep_distance(model, (first, second), a.meets(&b), &unless);
    }
}

/// Modes of different groups.
fn pairs(model: &Model<'_>) -> Vec<(usize, usize)> {
    let group = |m: usize| model.modes[m].group;
    (0..model.modes.len())
        .flat_map(|second| (0..second).map(move |first| (first, second)))
        .filter(|&(first, second)| group(first) != group(second))
        .collect()
}

/// All tins of a group in one oven: it opens all its doors at once.
fn one_oven_each(model: &mut Model<'_>, standing: &[TinsInOven]) {
    for (i, a) in standing.iter().enumerate() {
        for b in standing[..i].iter().filter(|b| b.mode == a.mode) {
            let (x, y) = (a.tins, b.tins);
            model.engine.clause([predicate![x <= 0], predicate![y <= 0]]);
        }
    }
}

/// Holds only if two modes stand in the same oven.
fn together(model: &mut Model<'_>, standing: &[TinsInOven], a: usize, b: usize) -> Predicate {
    let literal = model.engine.literal();
    let holds = literal.get_true_predicate();
    let of = |m: usize| standing.iter().filter(move |s| s.mode == m);
    for (one, other) in [(a, b), (b, a)] {
        for here in of(one) {
            let tins = here.tins;
            let mut any = vec![!holds, predicate![tins <= 0]];
            any.extend(of(other).filter(|s| s.oven == here.oven).map(|s| {
                let tins = s.tins;
                predicate![tins >= 1]
            }));
            model.engine.clause(any);
        }
    }
    holds
}
