//! A lesson without some of its rules. What could be done with a rule can be
//! done without it: each change here only ever asks for less.

use crate::graph::Problem;
use crate::graph::problem::{Choice, PeriodTask, Pool, PoolOf, WhenDone};
use crate::graph::windows::Windows;
use crate::model::Lesson;
use crate::plan::why::Family;

/// More than any lesson asks for, and far enough from the ends of the numbers
/// to be added up.
const PLENTY: i32 = i32::MAX / 1024;
/// Long before any lesson.
const LONG_AGO: i32 = -100_000;

/// How much longer a lesson may take where the bell is lifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Longer {
    /// As long again: soon worked through, and a plan in it is a plan.
    Twice,
    /// Long enough for all groups one after the other.
    OneByOne,
}

/// Lifts a family of rules. (`Shelf` is lifted by what is asked, `Locked` by
/// expanding the lesson without its locks.)
pub fn lift(
    lesson: &Lesson,
    problem: &mut Problem,
    groups: &[usize],
    family: Family,
    longer: Longer,
) {
    match family {
        Family::Locked | Family::Shelf => {}
        Family::KeepApart => problem.groups.iter_mut().for_each(|g| g.keep_apart = false),
        Family::ClassStep => {
            problem.fixed.clear();
            problem.floating.clear();
        }
        Family::DoorHands => {
            problem.tins_per_opening = PLENTY;
            problem.adult_at_doors = false;
        }
        Family::Door => {
            problem.change_options(|_, o| o.bake.iter_mut().for_each(|b| b.shut = None));
        }
        Family::Temperature => one_heat(problem),
        Family::Adults => no_adults(problem),
        Family::Tin(tin) => plenty(problem, |p| matches!(p.of, PoolOf::Tin(t, _) if t == tin)),
        Family::Kit(kit) => plenty(
            problem,
            |p| matches!(p.of, PoolOf::Kit(pool) if lesson.kit_pools[pool.0].kit == kit),
        ),
        Family::Pupils => problem.groups.iter_mut().for_each(|g| g.pupils = PLENTY),
        Family::Order => {
            problem.change_options(|_, option| {
                for task in &mut option.tasks {
                    task.before.clear();
                    task.after.clear();
                }
            });
        }
        Family::Bell => no_bell(problem, groups, longer),
    }
}

fn plenty(problem: &mut Problem, of: impl Fn(&Pool) -> bool) {
    problem.pools.iter_mut().filter(|p| of(p)).for_each(|p| p.count = PLENTY);
}

fn one_heat(problem: &mut Problem) {
    problem.heats.truncate(1);
    for oven in &mut problem.ovens {
        oven.changes = vec![vec![0]; 2];
        oven.on_from = LONG_AGO;
    }
    problem.change_options(|_, o| o.bake.iter_mut().for_each(|b| b.heat = 0));
}

fn no_adults(problem: &mut Problem) {
    problem.adult_at_doors = false;
    for pool in problem.pools.iter_mut().filter(|p| matches!(p.of, PoolOf::Adult(_))) {
        pool.count = PLENTY;
        pool.taken.iter_mut().for_each(|t| *t = false);
    }
    problem.change_options(|_, option| {
        for task in &mut option.tasks {
            task.with_adult = false;
            task.adult_near = false;
        }
    });
}

/// Lets lessons go on far beyond their closing steps, with the adults still
/// there. What is held until the bell, or done after it, goes by it as before.
fn no_bell(problem: &mut Problem, groups: &[usize], longer: Longer) {
    let periods = &problem.periods;
    problem.fixed.retain(|step| step.earliest < periods[step.period].closing_start);
    let more = match longer {
        Longer::Twice => problem.horizon,
        Longer::OneByOne => one_by_one(problem, groups),
    };
    for period in &mut problem.periods {
        period.closing_start += more;
    }
    problem.horizon = problem.horizon.saturating_add(more);
    let minutes = usize::try_from(problem.horizon).unwrap_or(0);
    for pool in &mut problem.pools {
        pool.taken.resize(minutes, false);
    }
    for room in &mut problem.adult_near {
        room.resize(minutes, true);
    }
}

/// Minutes for all of some groups one after the other, each step by itself and
/// every oven brought to another temperature for each.
fn one_by_one(problem: &Problem, groups: &[usize]) -> i32 {
    let change = problem.ovens.iter().flat_map(|o| &o.changes).flatten().max().copied();
    let of = |&g: &usize| {
        let options = problem.groups[g].options.iter().map(|option| {
            let steps = option.tasks.iter().map(|t| {
                t.minutes + t.before.iter().map(|gap| gap.least).max().unwrap_or(0).max(0)
            });
            steps.fold(0, i32::saturating_add)
        });
        options.max().unwrap_or(0).saturating_add(change.unwrap_or(0))
    };
    groups.iter().map(of).fold(0, i32::saturating_add).min(PLENTY)
}

/// Works out again what hangs on links and bells.
pub fn anew(problem: &mut Problem) {
    let periods = problem.periods.clone();
    problem.change_options(|(_, period), option| windows(option, &periods[period]));
}

/// The windows of a choice, after its links, locks or bells were changed.
pub fn windows(option: &mut Choice, period: &PeriodTask) {
    let bake = option.bake.as_ref().map(|b| [b.load, b.bake, b.out]);
    option.windows = Windows::new(&option.tasks, bake, period);
    let mut starts = vec![i32::MIN; option.tasks.len()];
    option.beforehand.clear();
    for i in (0..option.tasks.len()).rev() {
        if option.tasks[i].when == WhenDone::Beforehand {
            let (earliest, latest) = option.windows.of(i, &starts, i32::MIN);
            if earliest <= latest {
                starts[i] = latest;
                option.beforehand.push((i, latest, latest + option.tasks[i].minutes));
            }
        }
    }
    let tasks = &option.tasks;
    let free = |&i: &usize| tasks[i].locked.is_none();
    option.ancestors.sort_by_key(free);
    option.rest.sort_by_key(free);
}
