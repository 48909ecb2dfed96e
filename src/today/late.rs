//! A lesson that starts late.

use super::happens::{Day, refused};
use crate::edit::retain_that_fix;
use crate::file::format::{ClassStepShape, LockShape, PeriodShape, StatedMinutes};
use crate::finding::Finding;
use crate::model::{ClassStep, Lesson, LockedTo, PeriodId, Phase};
use crate::units::Minute;
use crate::words::{list, minutes as in_words};

/// The class's own step that a late start is written as, so that minutes and
/// clock stay.
pub(super) const LATE_START: &str = "late start";

/// Puts a late start before all other steps of a period, or lengthens it.
pub(super) fn late_start(
    day: &mut Day<'_>,
    minutes: i32,
    period: Option<&str>,
) -> Result<(), Finding> {
    if minutes < 1 {
        return Err(refused("A late start is late by a minute or more.", ""));
    }
    let lesson = day.lesson;
    let id = match period {
        None => 0,
        Some(name) => lesson.periods.iter().position(|p| p.name == name).ok_or_else(|| {
            let all: Vec<String> = lesson.periods.iter().map(|p| p.name.clone()).collect();
            refused(format!("There is no period \"{name}\"."), format!("there are: {}", list(&all)))
        })?,
    };
    let length = lesson.periods[id].length().get();
    let opening = opening(lesson, PeriodId(id)).saturating_add(minutes);
    let closing: i32 = planned_in(lesson, PeriodId(id), Phase::Closing).sum();
    if opening.saturating_add(closing) >= length {
        let message = format!(
            "{} late, no time is left to bake: the class's own steps take the rest of the lesson.",
            in_words(minutes)
        );
        return Err(refused(message, "keep the mixtures for the next lesson"));
    }
    let Some(shape) = day.file.period_mut(id) else {
        return Err(refused("There is no such period.", ""));
    };
    let in_all = lengthened(shape, minutes);
    let (moved, locks) =
        (pushed(shape, lesson, PeriodId(id), opening), overtaken(lesson, PeriodId(id), opening));
    let of = period.map_or_else(|| "The lesson".to_owned(), str::to_owned);
    if in_all > f64::from(minutes) {
        day.tell(format!("{of} starts {} later still.", in_words(minutes)));
    } else {
        day.tell(format!("{of} starts {} late.", in_words(minutes)));
    }
    if !moved.is_empty() {
        day.tell(format!("Put off: {}.", list(&moved)));
    }
    let freed = free_starts(&mut day.file.locks, &locks);
    if !freed.is_empty() {
        day.tell(format!("Starts that were fixed for {} are let go.", list(&freed)));
    }
    Ok(())
}

/// Planned minutes of a step of the class.
fn planned(lesson: &Lesson, step: &ClassStep) -> i32 {
    step.minutes.with_caution(lesson.rules.caution).rounded_up().get()
}

fn planned_in(lesson: &Lesson, period: PeriodId, phase: Phase) -> impl Iterator<Item = i32> {
    lesson.class_steps_in(period, phase).map(|(_, step)| planned(lesson, step))
}

/// Planned minutes of the opening steps.
fn opening(lesson: &Lesson, period: PeriodId) -> i32 {
    planned_in(lesson, period, Phase::Opening).sum()
}

/// Adds minutes to the late start; how many it has then.
fn lengthened(period: &mut PeriodShape, minutes: i32) -> f64 {
    let more = f64::from(minutes);
    let exactly = |m: f64| StatedMinutes::Three(m, m, m);
    match period.opening.first_mut().filter(|s| s.name == LATE_START) {
        Some(late) => {
            let so_far = match late.minutes {
                StatedMinutes::Usual(usual) | StatedMinutes::Three(_, usual, _) => usual,
                StatedMinutes::ByBand(bands) => bands[1].1,
            };
            late.minutes = exactly(so_far + more);
            so_far + more
        }
        None => {
            let late = ClassStepShape {
                name: LATE_START.to_owned(),
                minutes: exactly(more),
                adults: Vec::new(),
                at: None,
                between: None,
                before_closing: None,
                may_be_dropped: None,
            };
            period.opening.insert(0, late);
            more
        }
    }
}

/// Puts off steps in the course of the lesson that the opening now runs into;
/// their names.
fn pushed(period: &mut PeriodShape, lesson: &Lesson, id: PeriodId, opening: i32) -> Vec<String> {
    let length = |name: &str| {
        let mut steps = lesson.class_steps_in(id, Phase::During);
        steps.find(|(_, s)| s.name == name).map_or(1, |(_, s)| planned(lesson, s))
    };
    let mut during: Vec<&mut ClassStepShape> = period.during.iter_mut().collect();
    during.sort_by_key(|s| s.at.or(s.between.map(|(from, _)| from)));
    let mut free_from = opening;
    let mut moved = Vec::new();
    for step in during {
        let minutes = length(&step.name);
        if let Some(at) = &mut step.at {
            if *at < free_from {
                *at = free_from;
                moved.push(step.name.clone());
            }
            free_from = at.saturating_add(minutes);
        } else if let Some((from, until)) = &mut step.between
            && *until < free_from.saturating_add(minutes)
        {
            *from = (*from).max(free_from);
            *until = free_from.saturating_add(minutes);
            free_from = *until;
            moved.push(step.name.clone());
        }
    }
    moved
}

/// Fixed starts of hand work in the minutes the opening now takes: group, step,
/// minute.
fn overtaken(lesson: &Lesson, period: PeriodId, opening: i32) -> Vec<(String, String, Minute)> {
    let until = lesson.periods[period.0].start + crate::units::Minutes::new(opening);
    let of = |lock: &crate::model::Lock| {
        let LockedTo::Start(step, at) = &lock.to else { return None };
        let group = lesson.group(lock.group);
        let method = group.methods.iter().map(|&m| lesson.method_of(lock.group, m));
        let mut found = method.filter_map(|m| m.step_named(step).map(|s| &m.steps[s.0]));
        let hand = found.any(|s| s.kind.is_hand());
        let inside = group.period == period && *at < until && !group.beforehand.contains(step);
        (inside && hand).then(|| (group.name.clone(), step.clone(), *at))
    };
    lesson.locks.iter().filter_map(of).collect()
}

/// Lets go of those starts; the groups whose they were.
fn free_starts(locks: &mut Vec<LockShape>, starts: &[(String, String, Minute)]) -> Vec<String> {
    let mut freed = Vec::new();
    for lock in locks.iter_mut() {
        // A start of the bake is written under the name of the whole bake.
        let same = |(group, _, at): &&(String, String, Minute)| {
            *group == lock.group && Some(at.get()) == lock.at
        };
        if lock.step.is_some() && starts.iter().any(|s| same(&s)) {
            (lock.step, lock.at) = (None, None);
            if !freed.contains(&lock.group) {
                freed.push(lock.group.clone());
            }
        }
    }
    retain_that_fix(locks);
    freed
}
