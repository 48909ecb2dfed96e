//! Lessons that share something joined as one with several rooms and periods, never
//! in a file. All rules hold across them, and what goes from room to room is there
//! once.
//!
//! Some of what holds of several lessons one lesson cannot say: some rules that differ,
//! tins that go from room to room, a booking for part of the time. They are then
//! joined twice, once so that less is asked than should be, once more. What no plan
//! can do where less is asked, none can; a plan where more is asked does.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::alone::Alone;
use super::model::{Entry, Week, What};
use super::shift::Shift;
use crate::model::{
    AtOvens, Hold, KitId, KitKind, KitPool, Lesson, LessonParts, MethodId, RecipeId, Rules,
    ThreePoint, TinId,
};

/// Which way what one lesson cannot say is bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asks {
    /// As little as any of the lessons does: bounds hold.
    Least,
    /// As much as any does: plans hold.
    Most,
}

/// A lesson where it is joined with others.
pub(super) struct Part<'a> {
    pub entry: &'a Entry,
    pub alone: Arc<Alone>,
    pub shift: Shift,
}

/// Lessons joined as one.
pub(super) struct Joined<'a> {
    pub lesson: Lesson,
    pub parts: Vec<Part<'a>>,
}

/// Joins lessons of one day, the earliest first, with the bookings they meet. `None` if
/// two of them are in one room.
pub(super) fn join<'a>(
    week: &Week,
    lessons: &[(&'a Entry, Arc<Alone>)],
    bookings: &[&Entry],
    asks: Asks,
) -> Option<Joined<'a>> {
    let apart =
        |i: usize| lessons[..i].iter().all(|(e, _)| !e.slot.shares_room(&lessons[i].0.slot));
    if !(1..lessons.len()).all(apart) {
        return None;
    }
    let (entry, first) = lessons.first()?;
    let (date, begins) = (entry.slot.date, first.lesson.periods.first()?.start_clock);
    let adults = shared_adults(week, lessons);
    let caution = first.lesson.rules.caution;
    let is_same = lessons.iter().all(|(_, of)| of.lesson.rules.caution == caution);
    let mut all = nothing_of(&first.lesson);
    all.rules.caution = if is_same { caution } else { 0.0 };
    let mut parts = Vec::new();
    for (entry, alone) in lessons {
        let later = alone.lesson.periods.first()?.start_clock.minutes_since(begins);
        let lesson = by_own_rules(&alone.lesson, is_same)?;
        let shift = Shift::add(&mut all, &lesson, (week, &adults), later);
        all.rules = bent(&all.rules, &alone.lesson.rules, asks);
        parts.push(Part { entry, alone: Arc::clone(alone), shift });
    }
    for (number, moving) in week.moves.iter().enumerate() {
        if all.tins.iter().any(|tin| tin.name == moving.name) {
            let there = week.there(number, date);
            let kind = KitKind { name: moving.name.clone(), touches_food: false };
            hold_tins(&mut all, kind, there, asks);
        }
        if asks == Asks::Most {
            take_away(&mut all, &moving.name, booked(bookings, number));
        }
    }
    Some(Joined { lesson: Lesson::new(all).ok()?, parts })
}

/// Adults of the week who are in several of the lessons.
fn shared_adults<'a>(week: &'a Week, lessons: &[(&Entry, Arc<Alone>)]) -> BTreeSet<&'a str> {
    let names = week.adults.iter().map(|adult| adult.name.as_str());
    let of = |name: &&str| {
        let has = |alone: &Alone| alone.lesson.adults.iter().any(|adult| adult.name == *name);
        lessons.iter().filter(|(_, alone)| has(alone)).count()
    };
    names.filter(|name| of(name) > 1).collect()
}

/// A lesson in which its own rules are said by its rooms, its ovens and its minutes, as
/// far as they can be.
fn by_own_rules(lesson: &Lesson, is_caution_same: bool) -> Option<Lesson> {
    let mut parts = lesson.clone().into_parts();
    let caution = parts.rules.caution;
    for room in &mut parts.rooms {
        room.sharing = parts.rules.sharing.unwrap_or(room.sharing);
    }
    let on_from = parts.periods.iter().map(|period| period.ovens_on_from).min();
    parts.ovens.iter_mut().for_each(|oven| oven.on_from = on_from);
    if !is_caution_same {
        let planned = |minutes: &mut ThreePoint| *minutes = minutes.planned_with(caution);
        parts.class_steps.iter_mut().for_each(|step| planned(&mut step.minutes));
        for recipe in &mut parts.recipes {
            let steps = recipe.methods.iter_mut().flat_map(|method| &mut method.steps);
            steps.filter_map(|step| step.minutes.as_mut()).for_each(planned);
            for tin in &mut recipe.tins {
                tin.minutes.as_mut().into_iter().for_each(planned);
                tin.elsewhere.iter_mut().for_each(|(_, minutes)| planned(minutes));
                tin.step_minutes.iter_mut().for_each(|(_, minutes)| planned(minutes));
            }
        }
    }
    Lesson::new(parts).ok()
}

/// A lesson's parts without anything in them, to be filled.
fn nothing_of(lesson: &Lesson) -> LessonParts {
    let mut parts = lesson.clone().into_parts();
    parts.periods.clear();
    parts.class_steps.clear();
    parts.rooms.clear();
    parts.units.clear();
    parts.ovens.clear();
    parts.kit_kinds.clear();
    parts.kit_pools.clear();
    parts.tins.clear();
    parts.tin_pools.clear();
    parts.adults.clear();
    parts.recipes.clear();
    parts.groups.clear();
    parts.locks.clear();
    // Told of single lessons only.
    parts.assumed.clear();
    parts.teacher_notes.clear();
    parts.packets.clear();
    parts.today = None;
    parts.begun = None;
    // Each room has its own.
    parts.rules.sharing = None;
    parts
}

/// The rules of two lessons, bent to what asks less or more.
fn bent(one: &Rules, other: &Rules, asks: Asks) -> Rules {
    let asks_more = |of: AtOvens| AtOvens::ALL.iter().position(|at| *at == of);
    // Within a longer call more tins may join a bake, in one opening more may be moved.
    let mut bent = one.clone();
    let is_less = |of: bool| of == (asks == Asks::Least);
    if one.call.value != other.call.value && is_less(other.call.value > one.call.value) {
        bent.call = other.call;
    }
    let (tins, others) = (one.tins_per_opening.value, other.tins_per_opening.value);
    if tins != others && is_less(others > tins) {
        bent.tins_per_opening = other.tins_per_opening;
    }
    if one.at_ovens != other.at_ovens
        && is_less(asks_more(other.at_ovens) < asks_more(one.at_ovens))
    {
        bent.at_ovens = other.at_ovens;
    }
    bent.washed_is_unused = match asks {
        Asks::Least => one.washed_is_unused || other.washed_is_unused,
        Asks::Most => one.washed_is_unused && other.washed_is_unused,
    };
    bent
}

/// Tins that go from room to room, which a lesson counts room by room, held as kit
/// that the rooms share. That says the same where every tin a recipe may be baked in
/// is such a one, and as many of it.
fn hold_tins(parts: &mut LessonParts, kind: KitKind, there: u32, asks: Asks) {
    let kit = KitId(parts.kit_kinds.len());
    let mut held = false;
    for recipe in 0..parts.recipes.len() {
        for method in 0..parts.recipes[recipe].methods.len() {
            let counts = counts(parts, (RecipeId(recipe), MethodId(method)), &kind.name);
            let (least, most) = (counts.iter().min(), counts.iter().max());
            let count = if asks == Asks::Least { least } else { most };
            let method = &mut parts.recipes[recipe].methods[method];
            if let (Some(&count), Some((from, to))) = (count, method.tin_held)
                && count > 0
            {
                method.holds.push(Hold { kit, count, from, to });
                held = true;
            }
        }
    }
    if held {
        parts.kit_kinds.push(kind);
        parts.kit_pools.push(KitPool { kit, room: None, unit: None, count: there });
    }
}

/// How many tins of a name each of the tins comes to that a method may be baked in.
fn counts(parts: &LessonParts, (of, method): (RecipeId, MethodId), name: &str) -> Vec<u32> {
    let groups = parts.groups.iter().filter(|group| group.recipe == of);
    let may: Vec<_> = groups.flat_map(|group| &group.tins).collect();
    let recipe = &parts.recipes[of.0];
    let is_called = |tin: TinId| parts.tins[tin.0].name == name;
    let choices = recipe.tins.iter().enumerate();
    let choices = choices.filter(|(i, _)| may.iter().any(|tin| tin.0 == *i));
    let choices = choices.filter(|(_, choice)| choice.goes_with(method));
    choices.map(|(_, choice)| if is_called(choice.tin) { choice.count } else { 0 }).collect()
}

/// How many of something bookings take, as if all were at once.
fn booked(bookings: &[&Entry], moving: usize) -> u32 {
    let takes = bookings.iter().flat_map(|entry| match &entry.what {
        What::Booking { takes, .. } => takes.as_slice(),
        What::Lesson(_) | What::Unplanned(_) => &[],
    });
    takes.filter(|(of, _)| *of == moving).map(|(_, count)| *count).sum()
}

/// So many fewer of what the rooms share.
fn take_away(parts: &mut LessonParts, name: &str, count: u32) {
    let kinds = &parts.kit_kinds;
    let shared = |pool: &&mut KitPool| pool.room.is_none() && kinds[pool.kit.0].name == name;
    for pool in parts.kit_pools.iter_mut().filter(shared) {
        pool.count = pool.count.saturating_sub(count);
    }
}
