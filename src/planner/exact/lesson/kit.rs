//! Counted things: kit, tins, adults. Where several pools may serve one need,
//! all that can only be served by some set of pools is counted against them
//! together; which pool serves whom is not decided. `keep-apart` is not asked
//! of kit.

use pumpkin_core::variables::DomainId;

use super::super::engine::Engine;
use super::super::profile::{Moment, Use};
use super::model::Model;
use super::modes::Mode;
use crate::graph::Problem;
use crate::graph::problem::{HoldTask, PoolOf, WhenDone};

/// A use and the pools that may serve it, sorted.
pub(super) struct Wanted {
    pools: Vec<usize>,
    what: Use,
}

pub(super) fn wanted(pools: &[usize], what: Use) -> Wanted {
    let mut pools = pools.to_vec();
    pools.sort_unstable();
    pools.dedup();
    Wanted { pools, what }
}

/// Posts all counted things.
pub(super) fn post(model: &mut Model<'_>) {
    count(model, &things(model));
    if model.problem.adult_at_doors {
        doors(model);
    }
}

/// Posts what is wanted at doors, each by one adult, beside all else that occupies
/// adults.
pub(super) fn at_doors(model: &mut Model<'_>, doors: Vec<Wanted>) {
    let problem = model.problem;
    let mut all = things(model);
    all.retain(|w| w.pools.iter().all(|&p| is_adult(problem, p)));
    all.extend(doors);
    count(model, &all);
}

fn is_adult(problem: &Problem, pool: usize) -> bool {
    matches!(problem.pools[pool].of, PoolOf::Adult(_))
}

/// All that is wanted of any pool but at doors.
fn things(model: &Model<'_>) -> Vec<Wanted> {
    let problem = model.problem;
    let mut all: Vec<Wanted> = Vec::new();
    for mode in &model.modes {
        for (t, task) in mode.choice.tasks.iter().enumerate() {
            for need in &task.needs {
                all.extend(mode.use_of(t, need.count).map(|u| wanted(&need.pools, u)));
            }
            if task.with_adult {
                let adults = &problem.groups[mode.group].adults;
                all.extend(mode.use_of(t, 1).map(|u| wanted(adults, u)));
            }
        }
        for hold in &mode.choice.holds {
            let what = held(mode, hold, model.zero);
            all.extend(what.map(|u| wanted(&hold.need.pools, u)));
        }
    }
    for (step, &variable) in problem.floating.iter().zip(&model.floats) {
        for &adult in &step.adults {
            let moment = |plus| Moment { variable, plus };
            let (from, until) = (moment(0), moment(step.minutes));
            all.push(wanted(&[adult], Use { from, until, count: 1, present: None }));
        }
    }
    all
}

/// No set of pools is asked for more than it has.
fn count(model: &mut Model<'_>, all: &[Wanted]) {
    let problem = model.problem;
    for set in sets(problem, all) {
        let within = all.iter().filter(|w| w.pools.iter().all(|p| set.contains(p)));
        model.profile(within.map(|w| w.what).collect(), capacity(problem, &set));
    }
}

/// What a hold occupies, bounded by the bells where an end of it is done
/// beforehand or collected. One that begins with a collected step is not
/// counted.
fn held(mode: &Mode<'_>, hold: &HoldTask, zero: DomainId) -> Option<Use> {
    let fixed = |minute: i32| Moment { variable: zero, plus: minute };
    let when = |t: usize| mode.choice.tasks[t].when;
    let from = match when(hold.from) {
        WhenDone::Beforehand => fixed(mode.period.start),
        WhenDone::Collected => return None,
        WhenDone::InLesson => Moment { variable: mode.starts[hold.from]?, plus: 0 },
    };
    let until = match when(hold.to) {
        WhenDone::Beforehand => return None,
        WhenDone::Collected => fixed(mode.period.end),
        WhenDone::InLesson => {
            Moment { variable: mode.starts[hold.to]?, plus: mode.choice.tasks[hold.to].minutes }
        }
    };
    (hold.need.count > 0).then(|| Use {
        from,
        until,
        count: hold.need.count,
        present: mode.present(),
    })
}

/// The sets of pools to count against: every need's own, and all pools that
/// hang together by needs.
fn sets(problem: &Problem, all: &[Wanted]) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = all.iter().map(|w| w.pools.clone()).collect();
    let mut root: Vec<usize> = (0..problem.pools.len()).collect();
    fn find(root: &mut [usize], mut i: usize) -> usize {
        while root[i] != i {
            root[i] = root[root[i]];
            i = root[i];
        }
        i
    }
    for w in all {
        for pair in w.pools.windows(2) {
            let (a, b) = (find(&mut root, pair[0]), find(&mut root, pair[1]));
            root[a.max(b)] = a.min(b);
        }
    }
    for w in all {
        let Some(&first) = w.pools.first() else { continue };
        let top = find(&mut root, first);
        sets.push((0..problem.pools.len()).filter(|&p| find(&mut root, p) == top).collect());
    }
    sets.sort_unstable();
    sets.dedup();
    sets
}

/// What a set of pools has in each minute.
fn capacity(problem: &Problem, set: &[usize]) -> Vec<i32> {
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    let left = |pool: usize, minute: usize| {
        let of = &problem.pools[pool];
        of.count.saturating_sub(i32::from(of.taken.get(minute) == Some(&true))).max(0)
    };
    (0..minutes)
        .map(|minute| set.iter().map(|&p| left(p, minute)).fold(0, i32::saturating_add))
        .collect()
}

/// Where an adult stands at every open door: one adult is at one door at a
/// time and sees no more than so many tins through it in a minute; an adult
/// busy with a step, none. At which oven is not asked here (see `watched`).
fn doors(model: &mut Model<'_>) {
    let problem = model.problem;
    let cap = problem.tins_per_opening;
    let adults: Vec<usize> = (0..problem.pools.len()).filter(|&p| is_adult(problem, p)).collect();
    let mut uses: Vec<Use> = Vec::new();
    for mode in &model.modes {
        for (t, task) in mode.choice.tasks.iter().enumerate() {
            if task.with_adult {
                uses.extend(mode.use_of(t, cap));
            }
        }
        uses.extend(moves(mode));
    }
    for (step, &variable) in problem.floating.iter().zip(&model.floats) {
        let count = i32::try_from(step.adults.len()).unwrap_or(0).saturating_mul(cap);
        let moment = |plus| Moment { variable, plus };
        uses.push(Use { from: moment(0), until: moment(step.minutes), count, present: None });
    }
    let there = capacity(problem, &adults).into_iter().map(|n| n.saturating_mul(cap)).collect();
    model.profile(uses, there);
}

/// Tins through a door in each minute of loading and of taking out.
pub(super) fn moves(mode: &Mode<'_>) -> Vec<Use> {
    let Some(bake) = &mode.choice.bake else { return Vec::new() };
    let through = |t: usize| {
        let minutes = mode.choice.tasks[t].minutes.max(1);
        mode.use_of(t, (bake.tins + minutes - 1) / minutes)
    };
    [bake.load, bake.out].into_iter().filter_map(through).collect()
}

/// Posts a profile if it can ever be full.
impl Engine {
    pub(super) fn profile(&mut self, uses: Vec<Use>, capacity: Vec<i32>) {
        let all = uses.iter().map(|u| u.count).fold(0, i32::saturating_add);
        if uses.is_empty() || capacity.iter().all(|&c| c >= all) {
            return;
        }
        self.post(|tag| super::super::profile::ProfileConstructor { uses, capacity, tag });
    }
}
