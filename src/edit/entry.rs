//! Entries of a lesson's file, found by number or by the name of one of the
//! things they stand for.

use crate::file::format::{GroupShape, LessonFile, OvenShape, PeriodShape, RoomShape};

/// The periods, `period` the first.
pub fn periods(file: &LessonFile) -> impl Iterator<Item = &PeriodShape> + Clone {
    std::iter::once(&file.period).chain(&file.other_periods)
}

/// The same, to be changed.
pub fn periods_mut(file: &mut LessonFile) -> impl Iterator<Item = &mut PeriodShape> {
    std::iter::once(&mut file.period).chain(&mut file.other_periods)
}

/// A period by its number, 0 being `period`.
pub fn period(file: &LessonFile, number: usize) -> Option<&PeriodShape> {
    periods(file).nth(number)
}

/// The same, to be changed.
pub fn period_mut(file: &mut LessonFile, number: usize) -> Option<&mut PeriodShape> {
    periods_mut(file).nth(number)
}

/// The rooms, `room` the first.
pub fn rooms(file: &LessonFile) -> impl Iterator<Item = &RoomShape> + Clone {
    std::iter::once(&file.room).chain(&file.other_rooms)
}

/// The same, to be changed.
pub fn rooms_mut(file: &mut LessonFile) -> impl Iterator<Item = &mut RoomShape> {
    std::iter::once(&mut file.room).chain(&mut file.other_rooms)
}

/// A room by its number, 0 being `room`.
pub fn room(file: &LessonFile, number: usize) -> Option<&RoomShape> {
    rooms(file).nth(number)
}

/// The same, to be changed.
pub fn room_mut(file: &mut LessonFile, number: usize) -> Option<&mut RoomShape> {
    rooms_mut(file).nth(number)
}

/// The position of a group's own entry; an entry that stands for several
/// groups is written out first.
pub fn own_group(file: &mut LessonFile, name: &str) -> Option<usize> {
    let stands_for = |g: &GroupShape| one_of(&g.name, g.count, name);
    let index = file.groups.iter().position(stands_for)?;
    if let Some(count) = file.groups[index].count {
        let shape = file.groups.remove(index);
        for i in (1..=count).rev() {
            let name = format!("{} {i}", shape.name);
            file.groups.insert(index, GroupShape { name, count: None, ..shape.clone() });
        }
        return file.groups.iter().position(|g| g.count.is_none() && g.name == name);
    }
    Some(index)
}

/// Marks an oven as out of order, or as working again; `false` if no room has
/// it.
pub fn set_oven_out(file: &mut LessonFile, oven: &str, out: bool) -> bool {
    for room in rooms_mut(file) {
        let named = |o: &OvenShape| one_of(&o.name, o.count, oven);
        let units = room.units.iter().flat_map(|u| &u.ovens);
        if room.ovens.iter().chain(units).any(named) {
            room.out_of_order.retain(|name| name != oven);
            if out {
                room.out_of_order.push(oven.to_owned());
            }
            return true;
        }
    }
    false
}

/// Whether a name is that of an entry, or of one of those it stands for.
fn one_of(entry: &str, count: Option<i64>, name: &str) -> bool {
    match count {
        None => entry == name,
        Some(n) => name
            .strip_prefix(entry)
            .and_then(|rest| rest.strip_prefix(' '))
            .and_then(|i| i.parse::<i64>().ok())
            .is_some_and(|i| 1 <= i && i <= n && format!("{entry} {i}") == name),
    }
}
