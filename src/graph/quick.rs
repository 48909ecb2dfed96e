//! A lesson at its quickest, in half minutes: less than any plan asks for, so
//! that what cannot be done in it cannot be done at all.
//!
//! Moments and lengths are cut to half minutes below. What follows something
//! else still does, and things in use together were so before, since whatever
//! was apart stays apart. Left out altogether: longest gaps, for a step that
//! takes longer stretches them; class steps between opening and closing; doors;
//! an adult near. Baking need not follow loading at once.

use super::problem::{OvenTask, Pool, PoolOf, Problem};
use super::windows::Windows;
use crate::model::{Lesson, PeriodId, Phase};
use crate::units::Minute;

#[allow(clippy::cast_possible_truncation)] // minutes of a day
fn halves(minutes: f64) -> i32 {
    (2.0 * minutes + 1e-6).floor() as i32
}

/// The lesson of `problem` at its quickest, in half minutes.
pub fn quick(lesson: &Lesson, problem: &Problem) -> Problem {
    let mut quick = problem.clone();
    quick.horizon = 2 * problem.horizon;
    quick.fixed.clear();
    quick.floating.clear();
    quick.call = 2 * problem.call;
    quick.tins_per_opening = i32::MAX / 1024;
    quick.adult_at_doors = false;
    quick.wanted_spare = 0;
    for room in &mut quick.adult_near {
        *room = vec![true; room.len() * 2];
    }
    for (i, period) in quick.periods.iter_mut().enumerate() {
        let class = |phase| -> f64 {
            let steps = lesson.class_steps_in(PeriodId(i), phase);
            steps.map(|(_, step)| step.minutes.quick().get()).sum()
        };
        period.start *= 2;
        period.end *= 2;
        period.opening_end = period.start + halves(class(Phase::Opening));
        period.closing_start = period.end - halves(class(Phase::Closing));
    }
    for pool in &mut quick.pools {
        pool.taken = taken(lesson, pool, problem.horizon);
    }
    for oven in &mut quick.ovens {
        changes(lesson, problem, oven);
    }
    let periods = quick.periods.clone();
    quick.change_options(|(id, period), choice| {
        let method = lesson.method_of(id, choice.method);
        for (t, task) in choice.tasks.iter_mut().enumerate() {
            task.minutes = halves(task.quick);
            task.locked = task.locked.map(|at| 2 * at);
            task.adult_near = false;
            let least = |from: usize, to: usize| {
                let links = method.links.iter();
                let of = links.filter(|l| l.from.0 == from && l.to.0 == to);
                halves(of.map(|l| l.least.get()).fold(0.0, f64::max))
            };
            for gap in &mut task.before {
                gap.least = least(gap.task, t);
                gap.longest = None;
            }
            for gap in &mut task.after {
                gap.least = least(t, gap.task);
                gap.longest = None;
            }
        }
        if let Some(bake) = &mut choice.bake {
            bake.shut = None;
        }
        choice.windows = Windows::new(&choice.tasks, None, &periods[period]);
        choice.beforehand.clear();
    });
    quick
}

/// Half minutes in which an adult is not there.
fn taken(lesson: &Lesson, pool: &Pool, horizon: i32) -> Vec<bool> {
    let there = |minute: i32| match pool.of {
        PoolOf::Adult(adult) => lesson.adults[adult].is_there(Minute::new(minute)),
        _ => true,
    };
    (0..2 * horizon).map(|half| !there(half / 2)).collect()
}

fn changes(lesson: &Lesson, problem: &Problem, oven: &mut OvenTask) {
    oven.on_from *= 2;
    let of = &lesson.ovens[oven.oven.0];
    let heats = &problem.heats;
    for (row, from) in oven.changes.iter_mut().zip(heats.iter().map(Some).chain([None])) {
        for (minutes, &to) in row.iter_mut().zip(heats) {
            *minutes = halves(of.change_minutes(from.copied(), to).get());
        }
    }
}
