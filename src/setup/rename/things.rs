//! Rooms, units, periods, people, ovens and kit.

use super::{follow, free, notes};
use crate::file::format::{KitCount, LessonFile, OvenShape, PeriodShape, RoomShape};
use crate::file::touches_food_by_name;
use crate::setup::makers::expand;

const GONE: &str = "it is not there any more";

pub(super) fn room(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let names: Vec<String> = file.rooms().map(|r| r.name().to_owned()).collect();
    free("room", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    let first = names.iter().position(|n| n == old) == Some(at);
    let room = file.room_mut(at).ok_or(GONE)?;
    room.name = if to == RoomShape::UNNAMED { String::new() } else { to.to_owned() };
    if first {
        let of_adults = file.adults.iter_mut().map(|a| &mut a.room);
        let of_groups = file.groups.iter_mut().map(|g| &mut g.room);
        of_adults.chain(of_groups).flatten().for_each(|name| follow(name, old, to));
    }
    Ok(())
}

pub(super) fn unit(
    file: &mut LessonFile,
    room: usize,
    unit: usize,
    to: &str,
) -> Result<(), String> {
    let all: Vec<String> = file.rooms().map(|r| r.name().to_owned()).collect();
    let of = file.room_mut(room).ok_or(GONE)?;
    let names: Vec<String> = of.units.iter().map(|u| u.name.clone()).collect();
    free("unit", to, others(&names, unit))?;
    let old = names.get(unit).ok_or(GONE)?;
    to.clone_into(&mut of.units.get_mut(unit).ok_or(GONE)?.name);
    if names.iter().position(|n| n == old) == Some(unit) {
        for group in &mut file.groups {
            // A room that is not known is taken for the first.
            let named = |name: &String| all.iter().position(|n| n == name);
            let in_room = group.room.as_ref().and_then(named).unwrap_or(0);
            if in_room == room {
                group.unit.iter_mut().for_each(|name| follow(name, old, to));
            }
        }
    }
    Ok(())
}

pub(super) fn period(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let names: Vec<String> = file.periods().map(|p| p.name().to_owned()).collect();
    free("period", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    let period = file.period_mut(at).ok_or(GONE)?;
    period.name = if to == PeriodShape::UNNAMED { String::new() } else { to.to_owned() };
    if names.iter().position(|n| n == old) == Some(at) {
        let of_groups = file.groups.iter_mut().filter_map(|g| g.period.as_mut());
        of_groups.for_each(|name| follow(name, old, to));
        notes::period(file, old, to);
    }
    Ok(())
}

pub(super) fn adult(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let names: Vec<String> = file.adults.iter().map(|a| a.name.clone()).collect();
    free("adult", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    to.clone_into(&mut file.adults.get_mut(at).ok_or(GONE)?.name);
    if names.iter().position(|n| n == old) == Some(at) {
        let steps = file.periods_mut().flat_map(PeriodShape::class_steps_mut);
        steps.flat_map(|s| &mut s.adults).for_each(|name| follow(name, old, to));
        let of_ovens = file.periods_mut().filter_map(|p| p.ovens_on_by.as_mut());
        of_ovens.for_each(|name| follow(name, old, to));
    }
    Ok(())
}

pub(super) fn group(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let entries: Vec<Vec<String>> = file.groups.iter().map(|g| expand(&g.name, g.count)).collect();
    let entry = file.groups.get_mut(at).ok_or(GONE)?;
    let new = expand(to, entry.count);
    to.clone_into(&mut entry.name);
    let changed = moved("group", &entries, at, &new)?;
    let of_locks = file.locks.iter_mut().map(|l| &mut l.group);
    let of_adults = file.adults.iter_mut().filter_map(|a| a.only_for.as_mut());
    of_locks.chain(of_adults).for_each(|name| follow_all(name, &changed));
    if let Some(today) = &mut file.today {
        let joined = today.joined.0.iter_mut().flat_map(|(who, with)| [who, with]);
        let told = today.happened.iter_mut().filter_map(|h| h.who.as_mut());
        joined.chain(told).for_each(|name| follow_all(name, &changed));
    }
    notes::groups(file, &changed);
    Ok(())
}

pub(super) fn oven(
    file: &mut LessonFile,
    (room, unit, oven): (usize, Option<usize>, usize),
    to: &str,
) -> Result<(), String> {
    // In the order in which a lesson numbers them.
    fn ovens(room: &mut RoomShape) -> impl Iterator<Item = (Option<usize>, usize, &mut OvenShape)> {
        let units = room.units.iter_mut().enumerate().flat_map(|(u, unit)| {
            unit.ovens.iter_mut().enumerate().map(move |(i, oven)| (Some(u), i, oven))
        });
        room.ovens.iter_mut().enumerate().map(|(i, oven)| (None, i, oven)).chain(units)
    }
    let mut entries = Vec::new();
    let mut found = None;
    for (number, of) in file.rooms_mut().enumerate() {
        for (of_unit, at, shape) in ovens(of) {
            if (number, of_unit, at) == (room, unit, oven) {
                found = Some((entries.len(), expand(to, shape.count)));
            }
            entries.push(expand(&shape.name, shape.count));
            if (number, of_unit, at) == (room, unit, oven) {
                to.clone_into(&mut shape.name);
            }
        }
    }
    let (at, new) = found.ok_or(GONE)?;
    let changed = moved("oven", &entries, at, &new)?;
    for room in file.rooms_mut() {
        room.out_of_order.iter_mut().for_each(|name| follow_all(name, &changed));
    }
    let of_locks = file.locks.iter_mut().filter_map(|l| l.oven.as_mut());
    let of_day = file.today.iter_mut().flat_map(|t| &mut t.out_from.0).map(|(oven, _)| oven);
    of_locks.chain(of_day).for_each(|name| follow_all(name, &changed));
    notes::ovens(file, &changed);
    Ok(())
}

pub(super) fn kit(file: &mut LessonFile, old: &str, to: &str) -> Result<(), String> {
    let mut pools: Vec<&mut (String, KitCount)> = file.shared_kit.0.iter_mut().collect();
    for room in std::iter::once(&mut file.room).chain(&mut file.other_rooms) {
        pools.extend(room.kit.0.iter_mut());
        pools.extend(room.units.iter_mut().flat_map(|u| &mut u.kit.0));
    }
    free("kind of kit", to, pools.iter().map(|(n, _)| n.as_str()))?;
    let mut of: Vec<&mut (String, KitCount)> =
        pools.into_iter().filter(|(n, _)| n == old).collect();
    keep_touch(&mut of, old, to);
    of.into_iter().for_each(|(name, _)| follow(name, old, to));
    for method in file.recipes.iter_mut().flat_map(|r| &mut r.methods) {
        let of_steps = method.steps.iter_mut().flat_map(|s| &mut s.kit.0).map(|(n, _)| n);
        let of_holds = method.holds.iter_mut().map(|h| &mut h.kit);
        of_steps.chain(of_holds).for_each(|name| follow(name, old, to));
    }
    Ok(())
}

/// Where nobody says whether food touches some kit its name decides: what the
/// old one decided is written out if the new one would decide otherwise.
fn keep_touch(pools: &mut [&mut (String, KitCount)], old: &str, to: &str) {
    let (before, after) = (touches_food_by_name(old), touches_food_by_name(to));
    if before == after {
        return;
    }
    match pools.iter().rev().find_map(|(_, count)| count.touches_food) {
        None => {
            if let Some((_, count)) = pools.first_mut() {
                count.touches_food = Some(before);
            }
        }
        Some(stated) if stated == after => {
            pools.iter_mut().for_each(|(_, count)| count.touches_food = None);
        }
        Some(_) => {}
    }
}

/// All names but one.
pub(super) fn others(names: &[String], but: usize) -> impl Iterator<Item = &str> {
    names.iter().enumerate().filter(move |(i, _)| *i != but).map(|(_, n)| n.as_str())
}

/// Names of an entry that references mean, with the ones that take their place.
fn moved(
    what: &str,
    entries: &[Vec<String>],
    at: usize,
    new: &[String],
) -> Result<Vec<(String, String)>, String> {
    let others = || entries.iter().enumerate().filter(|(i, _)| *i != at).flat_map(|(_, e)| e);
    for name in new {
        free(what, name, others().map(String::as_str))?;
    }
    let before: Vec<&String> = entries.iter().take(at).flatten().collect();
    let old = entries.get(at).ok_or(GONE)?;
    let pairs = old.iter().zip(new).filter(|(name, _)| !before.contains(name));
    Ok(pairs.map(|(old, new)| (old.clone(), new.clone())).collect())
}

fn follow_all(name: &mut String, changed: &[(String, String)]) {
    if let Some((_, to)) = changed.iter().find(|(old, _)| old == name) {
        name.clone_from(to);
    }
}
