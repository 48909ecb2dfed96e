//! From a lesson to whole-minute tasks: periods, the class's own steps, and
//! the counted things of the room.

use super::problem::{ClassTask, PeriodTask, Pool, PoolOf};
use crate::model::{ClassStep, ClassStepId, Lesson, PeriodId, Phase, PoolId, RoomId, Timing};
use crate::units::Minute;

fn planned(lesson: &Lesson, step: &ClassStep) -> i32 {
    step.minutes.with_caution(lesson.rules.caution).rounded_up().get()
}

pub(super) fn period_task(lesson: &Lesson, id: PeriodId) -> PeriodTask {
    let period = &lesson.periods[id.0];
    let total = |phase| -> i32 {
        lesson.class_steps_in(id, phase).map(|(_, step)| planned(lesson, step)).sum()
    };
    PeriodTask {
        start: period.start.get(),
        end: period.end.get(),
        opening_end: period.start.get() + total(Phase::Opening),
        closing_start: period.end.get() - total(Phase::Closing),
    }
}

pub(super) fn pools(lesson: &Lesson, horizon: i32) -> Vec<Pool> {
    let count = |n: u32| i32::try_from(n).unwrap_or(i32::MAX);
    let always = || vec![false; usize::try_from(horizon).unwrap_or(0)];
    let kit = lesson.kit_pools.iter().enumerate().map(|(i, p)| Pool {
        of: PoolOf::Kit(PoolId(i)),
        count: count(p.count),
        taken: always(),
    });
    let tins = lesson.tin_pools.iter().map(|p| Pool {
        of: PoolOf::Tin(p.tin, p.room),
        count: count(p.count),
        taken: always(),
    });
    let adults = lesson.adults.iter().enumerate().map(|(i, a)| Pool {
        of: PoolOf::Adult(i),
        count: 1,
        taken: (0..horizon).map(|m| !a.is_there(Minute::new(m))).collect(),
    });
    let mut pools: Vec<Pool> = kit.chain(tins).chain(adults).collect();
    // Fixed steps of the class take their adults from the start.
    for (id, step) in lesson.class_steps.iter().enumerate() {
        if let Some(start) = fixed_start(lesson, ClassStepId(id)) {
            for adult in &step.adults {
                let pool = adult_pool(&pools, adult.0);
                for minute in start..start + planned(lesson, step) {
                    if let Some(taken) =
                        usize::try_from(minute).ok().and_then(|m| pools[pool].taken.get_mut(m))
                    {
                        *taken = true;
                    }
                }
            }
        }
    }
    pools
}

pub(super) fn adult_pool(pools: &[Pool], adult: usize) -> usize {
    pools.iter().position(|p| p.of == PoolOf::Adult(adult)).unwrap_or(0)
}

/// The start of a class step that has no choice about it.
fn fixed_start(lesson: &Lesson, id: ClassStepId) -> Option<i32> {
    let step = &lesson.class_steps[id.0];
    let period = &lesson.periods[step.period.0];
    match (step.phase, step.timing) {
        (Phase::Opening, _) => {
            let before = lesson
                .class_steps_in(step.period, Phase::Opening)
                .take_while(|(i, _)| *i != id)
                .map(|(_, s)| planned(lesson, s));
            Some(period.start.get() + before.sum::<i32>())
        }
        (Phase::Closing, _) => {
            let from_here = lesson
                .class_steps_in(step.period, Phase::Closing)
                .skip_while(|(i, _)| *i != id)
                .map(|(_, s)| planned(lesson, s));
            Some(period.end.get() - from_here.sum::<i32>())
        }
        (Phase::During, Timing::At(minute)) => Some(minute.get()),
        (Phase::During, _) => None,
    }
}

pub(super) fn class_tasks(
    lesson: &Lesson,
    periods: &[PeriodTask],
    pools: &[Pool],
) -> (Vec<ClassTask>, Vec<ClassTask>) {
    let (mut fixed, mut floating) = (Vec::new(), Vec::new());
    let by = lesson.begun.as_ref().map_or(i32::MIN, |begun| begun.by.get());
    for (i, step) in lesson.class_steps.iter().enumerate() {
        let minutes = planned(lesson, step);
        let period = &periods[step.period.0];
        let at = fixed_start(lesson, ClassStepId(i));
        let (earliest, latest) = match (at, step.timing) {
            (Some(start), _) => (start, start),
            (None, Timing::Between(from, until)) => (
                from.get().max(period.opening_end).max(by),
                until.get().min(period.closing_start) - minutes,
            ),
            (None, _) => (period.opening_end.max(by), period.closing_start - minutes),
        };
        let adults = step.adults.iter().map(|a| adult_pool(pools, a.0)).collect();
        let period = step.period.0;
        let step = ClassStepId(i);
        let task = ClassTask { step, period, minutes, earliest, latest, adults };
        if at.is_some() { fixed.push(task) } else { floating.push(task) }
    }
    (fixed, floating)
}

pub(super) fn near(lesson: &Lesson, room: RoomId, horizon: i32) -> Vec<bool> {
    let there = |m: i32| {
        lesson.adults.iter().any(|a| a.room.is_none_or(|r| r == room) && a.is_there(Minute::new(m)))
    };
    (0..horizon).map(there).collect()
}
