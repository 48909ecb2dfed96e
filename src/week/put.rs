//! A lesson put where the week has it: its bells, its room with what is in it,
//! what goes from room to room, the department's adults. What a lesson knows of
//! its recipe, its groups and its own steps stays as its file has it; the file
//! itself is never written.

use super::model::{Moving, Place, RoomNo, Slot, Week, of_day};
use crate::file::format::{Entries, KitCount, LessonFile, RoomShape};
use crate::file::oven_names;

/// The hours of an adult who is not there at all that day: a minute of the day
/// before, as no hours at all mean that they are always there.
const NOT_THERE: (i32, i32) = (-1440, -1439);

/// The shapes of a lesson in a slot.
///
/// # Errors
/// If it has more periods or rooms than the slot, in words.
pub fn put(week: &Week, lesson: &LessonFile, slot: &Slot) -> Result<LessonFile, String> {
    let mut file = lesson.clone();
    file.date = Some(slot.date.to_string());
    file.today = None;
    file.told = None;
    bells(&mut file, slot)?;
    rooms(&mut file, week, slot)?;
    for number in 0..week.moves.len() {
        moving(&mut file, week, (number, slot));
    }
    hours(&mut file, week, slot);
    Ok(file)
}

/// One period takes all of the slot, as a double one does; several take a bell each.
fn bells(file: &mut LessonFile, slot: &Slot) -> Result<(), String> {
    let own = file.periods().count();
    if own == 1 {
        file.period.start = slot.start().to_string();
        file.period.end = slot.end().to_string();
        return Ok(());
    }
    if own != slot.bells.len() {
        return Err(format!(
            "the lesson has {own} periods, the week gives it {}",
            slot.bells.len()
        ));
    }
    for (period, bell) in file.periods_mut().zip(&slot.bells) {
        period.start = bell.start.to_string();
        period.end = bell.end.to_string();
    }
    Ok(())
}

fn rooms(file: &mut LessonFile, week: &Week, slot: &Slot) -> Result<(), String> {
    let own = file.rooms().count();
    if own != slot.rooms.len() {
        return Err(format!("the lesson has {own} rooms, the week gives it {}", slot.rooms.len()));
    }
    let tins: Vec<String> = file.tins.iter().map(|t| t.name.clone()).collect();
    let mut names = Vec::new();
    for (shape, &room) in file.rooms_mut().zip(&slot.rooms) {
        let Some(there) = week.rooms.get(room.0) else { continue };
        names.push((shape.name().to_owned(), there.name().to_owned()));
        furnish(shape, there, &tins);
        out_of_order(shape, week, (room, slot));
    }
    let new = |name: &mut String| {
        if let Some((_, new)) = names.iter().find(|(old, _)| old == name) {
            name.clone_from(new);
        }
    };
    file.groups.iter_mut().filter_map(|g| g.room.as_mut()).for_each(new);
    file.adults.iter_mut().filter_map(|a| a.room.as_mut()).for_each(new);
    Ok(())
}

/// What the week says of a room stands before what the lesson says of it.
fn furnish(shape: &mut RoomShape, there: &RoomShape, tins: &[String]) {
    shape.name = there.name().to_owned();
    if there.all_ovens().next().is_some() {
        shape.ovens.clone_from(&there.ovens);
        shape.units.iter_mut().for_each(|unit| unit.ovens.clear());
        shape.out_of_order.clear();
    }
    if !there.units.is_empty() {
        shape.units.clone_from(&there.units);
    }
    shape.out_of_order.extend(there.out_of_order.iter().cloned());
    if there.sharing.is_some() {
        shape.sharing = there.sharing;
    }
    for (name, count) in &there.kit.0 {
        remove_kit(shape, name, there.units.is_empty());
        shape.kit.0.push((name.clone(), *count));
    }
    // Tins that the lesson does not know are none of its business.
    for (name, count) in there.tins.0.iter().filter(|(name, _)| tins.contains(name)) {
        set(&mut shape.tins, name, *count);
    }
}

/// Takes kit of a name out of a room, and out of its units too.
fn remove_kit(shape: &mut RoomShape, name: &str, of_units: bool) {
    shape.kit.0.retain(|(known, _)| known != name);
    if of_units {
        shape.units.iter_mut().for_each(|unit| unit.kit.0.retain(|(known, _)| known != name));
    }
}

fn set<T>(entries: &mut Entries<T>, name: &str, value: T) {
    entries.0.retain(|(known, _)| known != name);
    entries.0.push((name.to_owned(), value));
}

/// Ovens and kit of a room that do not work that day, or are lent.
fn out_of_order(shape: &mut RoomShape, week: &Week, (room, slot): (RoomNo, &Slot)) {
    for out in week.out.iter().filter(|out| out.is_on(slot.date)) {
        match &out.what {
            Place::Oven(of, name) if *of == room => {
                if !shape.out_of_order.contains(name) && oven_names(shape).contains(name) {
                    shape.out_of_order.push(name.clone());
                }
            }
            Place::Kit(of, name) if *of == room => fewer(shape, name, out.count),
            Place::Oven(..) | Place::Kit(..) | Place::Moving(_) => {}
        }
    }
    for lent in week.lent.iter().filter(|lent| lent.by == room && lent.on == slot.date) {
        let name = week.moves.get(lent.moving).map(|m| m.name.clone());
        name.into_iter().for_each(|name| fewer(shape, &name, lent.count));
    }
}

/// So many fewer of some kit of a room: of its own first, then of its units'.
fn fewer(shape: &mut RoomShape, name: &str, mut count: u32) {
    let of_units = shape.units.iter_mut().flat_map(|unit| unit.kit.0.iter_mut());
    for (_, kit) in shape.kit.0.iter_mut().chain(of_units).filter(|(known, _)| known == name) {
        let all = kit.count.saturating_add(kit.borrowed);
        let working = all.saturating_sub(kit.out_of_order).max(0);
        let taken = working.min(i64::from(count));
        kit.out_of_order = kit.out_of_order.saturating_add(taken);
        count -= u32::try_from(taken).unwrap_or(count);
    }
}

/// All of what moves is there for a lesson that is alone: kit beside the room's
/// own, which the week names too, tins in each of its rooms.
fn moving(file: &mut LessonFile, week: &Week, (number, slot): (usize, &Slot)) {
    let Some(Moving { name, count }) = week.moves.get(number) else { return };
    let there = i64::from(week.there(number, slot.date));
    if file.tins.iter().any(|tin| tin.name == *name) {
        file.rooms_mut().for_each(|room| set(&mut room.tins, name, there));
        return;
    }
    for (shape, room) in file.rooms_mut().zip(&slot.rooms) {
        let own = week.rooms.get(room.0);
        if !own.is_some_and(|own| own.kit.0.iter().any(|(known, _)| known == name)) {
            let units_of_week = own.is_some_and(|own| !own.units.is_empty());
            remove_kit(shape, name, !units_of_week);
        }
    }
    let count = KitCount { touches_food: count.touches_food, ..KitCount::of(there) };
    set(&mut file.shared_kit, name, count);
}

/// The department's adults are there when the week says so.
fn hours(file: &mut LessonFile, week: &Week, slot: &Slot) {
    let start = file.periods().filter_map(|p| crate::units::ClockTime::parse(&p.start).ok()).min();
    let Some(start) = start else { return };
    let minute = |time| (of_day(time) - of_day(start)).get();
    for adult in &week.adults {
        for shape in file.adults.iter_mut().filter(|shape| shape.name == adult.name) {
            shape.hours = adult.on(slot.date).map(|(a, b)| (minute(a), minute(b))).collect();
            if shape.hours.is_empty() {
                shape.hours.push(NOT_THERE);
            }
        }
    }
}
