//! What the school has to see to beside the plan: who switches ovens on, and how
//! many pupils are in a room. None of it is a rule that plans keep.

use super::words::{clock_in, list, number};
use crate::check::CheckedPlan;
use crate::model::{Lesson, Origin, OvenId, Period, PeriodId, RoomId};
use crate::plan::OvenSetting;
use crate::play::{Task, jobs};
use crate::units::Minute;

/// A sentence for each.
pub fn remarks(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    let apart = nothing_to_keep_apart(lesson);
    ovens_on(lesson, plan).into_iter().chain(class_size(lesson)).chain(apart).collect()
}

/// Groups are kept apart, and no kit is counted that this could be about.
pub fn nothing_to_keep_apart(lesson: &Lesson) -> Option<String> {
    let apart: Vec<String> = lesson
        .attending()
        .map(|g| lesson.group(g))
        .filter(|g| g.keep_apart)
        .map(|g| g.name.clone())
        .collect();
    if apart.is_empty() || lesson.kit_kinds.iter().any(|kind| kind.touches_food) {
        return None;
    }
    let are = if apart.len() == 1 { "is" } else { "are" };
    Some(format!(
        "{} {are} kept apart, and the lesson counts no kit that touches food, as bowls or whisks: \
         what they use of it is yours to see to.",
        list(&apart)
    ))
}

/// Who switches the ovens on before the bell, period by period.
pub fn ovens_on(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    let firsts = first_settings(lesson, plan);
    let several = lesson.periods.len() > 1;
    let of_period = |(p, period): (usize, &Period)| {
        let before = firsts.iter().filter(|s| lesson.bell_after(s.set_at) == Some(PeriodId(p)));
        let at = before.map(|s| s.set_at).min()?;
        let when = clock_in(lesson, PeriodId(p), at);
        let of = if several { format!(" for {}", period.name) } else { String::new() };
        Some(match period.ovens_on_by.map(|by| &lesson.adults[by.0]) {
            None => match assumed_of(lesson, plan, at) {
                None => {
                    format!("Ovens go on at {when}{of}, before the bell: nobody is named for it.")
                }
                Some(name) => format!(
                    "Ovens go on at {when}{of}, before the bell, by the {name}, as nobody is named \
                     for it."
                ),
            },
            Some(adult) if adult.is_there(at) => {
                format!("Ovens go on at {when}{of}, before the bell, by the {}.", adult.name)
            }
            Some(adult) => format!(
                "Ovens go on at {when}{of}, before the bell: the {} is named for it and is not \
                 there then.",
                adult.name
            ),
        })
    };
    lesson.periods.iter().enumerate().filter_map(of_period).collect()
}

/// Whose an oven's setting at a minute is taken to be, as on the technician's day: the
/// name of the post.
fn assumed_of<'a>(lesson: &'a Lesson, plan: &CheckedPlan, at: Minute) -> Option<&'a str> {
    let mut jobs = jobs(lesson, plan).jobs.into_iter();
    let job = jobs.find(|job| matches!(job.task, Task::Set(_)) && job.start_by == at)?;
    Some(&lesson.adults[job.adult?.0].name)
}

/// Who switches an oven on before the bell; `None` if it goes on later, or not
/// at all.
pub fn switched_on_by(lesson: &Lesson, plan: &CheckedPlan, oven: OvenId) -> Option<String> {
    let all = plan.plan().settings.iter().filter(|s| s.oven == oven);
    let at = all.map(|s| s.set_at).min()?;
    let period = lesson.bell_after(at)?;
    let named = lesson.periods[period.0].ovens_on_by.map(|by| lesson.adults[by.0].name.clone());
    Some(match (named, assumed_of(lesson, plan, at)) {
        (Some(named), _) => named,
        (None, Some(name)) => format!("{name}, as nobody is named for it"),
        (None, None) => "nobody is named for it".to_owned(),
    })
}

/// The first setting of each oven.
fn first_settings<'a>(lesson: &Lesson, plan: &'a CheckedPlan) -> Vec<&'a OvenSetting> {
    let all = &plan.plan().settings;
    let first = |oven: usize| all.iter().filter(move |s| s.oven.0 == oven).min_by_key(|s| s.set_at);
    (0..lesson.ovens.len()).filter_map(first).collect()
}

/// Rooms with more pupils at a time than the class limit.
pub fn class_size(lesson: &Lesson) -> Option<String> {
    let limit = lesson.rules.class_limit;
    let pupils_in = |room: usize, period: usize| -> u32 {
        let here = lesson.attending().map(|g| lesson.group(g));
        here.filter(|g| g.room == RoomId(room) && g.period == PeriodId(period))
            .map(|g| g.pupils)
            .sum()
    };
    let all = (0..lesson.rooms.len())
        .flat_map(|r| (0..lesson.periods.len()).map(move |p| (r, p)))
        .map(|(r, p)| (r, pupils_in(r, p)))
        .filter(|&(_, pupils)| pupils > limit.value);
    let over: Vec<(usize, u32)> = all.collect();
    let one_room = lesson.rooms.len() == 1;
    let (first, _) = over.first()?;
    let most = over.iter().map(|&(_, pupils)| pupils).max()?;
    let mut names: Vec<String> = over.iter().map(|&(r, _)| lesson.rooms[r].name.clone()).collect();
    names.dedup();
    let named = match names.len() {
        _ if one_room => String::new(),
        1 => format!(" in {}", lesson.rooms[*first].name),
        _ => format!(" at most in {}", list(&names)),
    };
    let of = number(usize::try_from(limit.value).unwrap_or(usize::MAX));
    Some(match limit.origin {
        Origin::Assumed => format!(
            "There are {most} pupils{named}: more than the {of} that rules or guidance of the UK \
             name for a practical class; Irish grant rules name 24. The limit is the school's to \
             set (from memory)."
        ),
        _ => {
            format!("There are {most} pupils{named}: more than this lesson's class limit of {of}.")
        }
    })
}
