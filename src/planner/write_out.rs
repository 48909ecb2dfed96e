//! From the constructor's schedule to a plan that names every item.

use super::construct::{Constructor, GroupSchedule};
use super::kit_book::Block;
use super::oven_book::change;
use crate::graph::Problem;
use crate::graph::footprint::{FINE, Footprint, Spot};
use crate::graph::problem::{Choice as GroupChoice, GroupTask, OvenTask, PoolOf};
use crate::model::{AdultId, ShelfId};
use crate::plan::{
    Choice, ClassPlacement, DoorWatch, KitUse, Load, OvenSetting, Place, Plan, StepPlacement, Stock,
};
use crate::units::{FineMillimetres, Minute};

/// The plan of what was built last, without reasons and bounds.
pub fn write_out(problem: &Problem, built: &Constructor<'_>) -> Plan {
    let mut plan = Plan::default();
    for (group, schedule) in problem.groups.iter().zip(&built.schedule) {
        let Some(choice) = schedule.option.map(|o| &group.options[o]) else { continue };
        plan.choices.push(Choice { group: group.group, method: choice.method, tin: choice.tin });
        plan.steps.extend(steps(problem, group, choice, schedule));
        plan.loads.extend(loads(problem, group, choice, schedule));
        plan.door_watches.extend(schedule.watches.iter().filter_map(|&(oven, minute, pool)| {
            let adult = adult_of(problem, pool)?;
            Some(DoorWatch { oven: problem.ovens[oven].oven, minute: Minute::new(minute), adult })
        }));
    }
    plan.uses = uses(problem, built);
    plan.class_steps = class_steps(problem, built);
    plan.settings = settings(problem, built);
    plan
}

fn adult_of(problem: &Problem, pool: usize) -> Option<AdultId> {
    match problem.pools[pool].of {
        PoolOf::Adult(adult) => Some(AdultId(adult)),
        _ => None,
    }
}

fn steps(
    problem: &Problem,
    group: &GroupTask,
    choice: &GroupChoice,
    schedule: &GroupSchedule,
) -> Vec<StepPlacement> {
    let mut order: Vec<usize> = (0..choice.tasks.len()).collect();
    order.sort_by_key(|&t| schedule.starts[t]);
    let mut free_from = vec![i32::MIN; usize::try_from(group.pupils).unwrap_or(0)];
    let mut placed = Vec::new();
    for task in order {
        let of = &choice.tasks[task];
        let (start, end) = (schedule.starts[task], schedule.starts[task] + of.minutes);
        let mut pupils = Vec::new();
        for (pupil, free) in free_from.iter_mut().enumerate() {
            let wanted = usize::try_from(of.pupils).unwrap_or(0);
            if pupils.len() < wanted && *free <= start {
                *free = end;
                pupils.push(u32::try_from(pupil).unwrap_or(u32::MAX));
            }
        }
        let adult = schedule.adults.iter().find(|(t, _)| *t == task);
        placed.push(StepPlacement {
            group: group.group,
            step: of.step,
            start: Minute::new(start),
            end: Minute::new(end),
            pupils,
            adult: adult.and_then(|&(_, pool)| adult_of(problem, pool)),
        });
    }
    placed
}

fn loads(
    problem: &Problem,
    group: &GroupTask,
    choice: &GroupChoice,
    schedule: &GroupSchedule,
) -> Vec<Load> {
    let Some(bake) = &choice.bake else { return Vec::new() };
    let start = schedule.starts[bake.load];
    let end = schedule.starts[bake.out] + choice.tasks[bake.out].minutes;
    let number = |i: usize| u32::try_from(i).unwrap_or(u32::MAX);
    let celsius = problem.heats[bake.heat];
    let standing = schedule.standing.iter().enumerate();
    standing
        .map(|(i, tin)| Load {
            group: group.group,
            number: number(i),
            oven: problem.ovens[tin.oven].oven,
            shelf: ShelfId(tin.shelf),
            start: Minute::new(start),
            end: Minute::new(end),
            celsius,
            place: place(bake.footprint, tin.spot),
        })
        .collect()
}

/// A round tin by its middle, any other by its corner.
fn place(footprint: Footprint, spot: Spot) -> Place {
    let at = FineMillimetres::hundredths;
    match footprint {
        Footprint::Circle { across } => {
            let half = across * FINE / 2;
            Place::Centre { x: at(spot.x + half), y: at(spot.y + half) }
        }
        Footprint::Rect { .. } => {
            Place::Corner { x: at(spot.x), y: at(spot.y), turned: spot.turned }
        }
    }
}

/// Names items: blocks by their start, each the lowest items that are free.
fn uses(problem: &Problem, built: &Constructor<'_>) -> Vec<KitUse> {
    let mut blocks: Vec<(usize, &Block)> = Vec::new();
    for (g, schedule) in built.schedule.iter().enumerate() {
        if schedule.option.is_some() {
            blocks.extend(schedule.kit.blocks.iter().map(|b| (g, b)));
        }
    }
    blocks.sort_by_key(|(g, b)| (b.pool, b.from, b.until, *g));
    let mut free_from: Vec<Vec<i32>> = problem
        .pools
        .iter()
        .map(|p| vec![i32::MIN; usize::try_from(p.count.clamp(0, 10_000)).unwrap_or(0)])
        .collect();
    let mut uses = Vec::new();
    for (g, block) in blocks {
        let of = match problem.pools[block.pool].of {
            PoolOf::Kit(pool) => Stock::Kit(pool),
            PoolOf::Tin(tin, _) => Stock::Tin(tin),
            PoolOf::Adult(_) => continue,
        };
        let mut items = Vec::new();
        for (item, free) in free_from[block.pool].iter_mut().enumerate() {
            if items.len() < usize::try_from(block.count).unwrap_or(0) && *free <= block.from {
                *free = block.until;
                items.push(u32::try_from(item).unwrap_or(u32::MAX));
            }
        }
        for &(from, until, count) in &block.spans {
            uses.push(KitUse {
                group: problem.groups[g].group,
                of,
                items: items.iter().copied().take(usize::try_from(count).unwrap_or(0)).collect(),
                start: Minute::new(from),
                end: Minute::new(until),
            });
        }
    }
    uses.sort_by_key(|u| (u.group, u.start, u.of, u.end));
    uses
}

fn class_steps(problem: &Problem, built: &Constructor<'_>) -> Vec<ClassPlacement> {
    let fixed = problem.fixed.iter().map(|step| (step, step.earliest));
    let floating = problem.floating.iter().zip(built.floats.iter().copied());
    let mut all: Vec<ClassPlacement> = fixed
        .chain(floating)
        .map(|(step, start)| ClassPlacement {
            step: step.step,
            start: Minute::new(start),
            end: Minute::new(start + step.minutes),
        })
        .collect();
    all.sort_by_key(|c| (c.start, c.step));
    all
}

/// Each oven is on before the bell, as early as it may be and needs to be hot
/// at the bell, and kept so to the last bake at that temperature; it is set
/// anew so that it is hot just when the next tins go in.
fn settings(problem: &Problem, built: &Constructor<'_>) -> Vec<OvenSetting> {
    let mut settings = Vec::new();
    for (i, oven) in problem.ovens.iter().enumerate() {
        let mut stays: Vec<(i32, i32, usize)> =
            built.ovens().stays(i).iter().map(|s| (s.start, s.end, s.heat)).collect();
        stays.sort_unstable();
        let mut runs: Vec<(i32, i32, usize)> = Vec::new();
        for (start, end, heat) in stays {
            match runs.last_mut() {
                Some(run) if run.2 == heat => run.1 = run.1.max(end),
                _ => runs.push((start, end, heat)),
            }
        }
        let mut before = None;
        for (start, end, heat) in runs {
            let takes = change(oven, before, heat);
            let set_at = match (before, bell_of(problem, built, i)) {
                (None, Some(bell)) => switched_on(problem, oven, bell, (start, takes)),
                _ => start - takes,
            };
            settings.push(OvenSetting {
                oven: oven.oven,
                celsius: problem.heats[heat],
                set_at: Minute::new(set_at),
                hot_from: Minute::new(set_at + takes),
                until: Minute::new(end),
            });
            before = Some(heat);
        }
    }
    settings
}

/// The start bell of the period in which an oven is first used.
fn bell_of(problem: &Problem, built: &Constructor<'_>, oven: usize) -> Option<i32> {
    let first = built.ovens().stays(oven).iter().min_by_key(|s| s.start)?;
    Some(problem.periods[problem.groups[first.group].period].start)
}

/// When an oven is switched on whose first tins go in at `start` and which
/// `takes` so long to be hot. What has to be on by now on a day that has begun
/// was on before the bell; another oven was perhaps not.
fn switched_on(problem: &Problem, oven: &OvenTask, bell: i32, (start, takes): (i32, i32)) -> i32 {
    let at_last = start - takes;
    if oven.begun.is_some_and(|begun| begun.set.is_none() && begun.by <= at_last) {
        return at_last;
    }
    if problem.happened.is_some_and(|now| at_last > now) {
        return at_last;
    }
    at_last.min((bell - takes).max(oven.on_from))
}

/// Positions of the groups that are not served.
pub fn not_served(built: &Constructor<'_>) -> Vec<usize> {
    (0..built.schedule.len()).filter(|&g| built.schedule[g].option.is_none()).collect()
}
