//! Entries of a lesson's file, found by the name of one of the things they
//! stand for.

use crate::file::format::{GroupShape, LessonFile, OvenShape};

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
    for room in file.rooms_mut() {
        let named = |o: &OvenShape| one_of(&o.name, o.count, oven);
        if room.all_ovens().any(named) {
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
pub fn one_of(entry: &str, count: Option<i64>, name: &str) -> bool {
    match count {
        None => entry == name,
        Some(n) => name
            .strip_prefix(entry)
            .and_then(|rest| rest.strip_prefix(' '))
            .and_then(|i| i.parse::<i64>().ok())
            .is_some_and(|i| 1 <= i && i <= n && format!("{entry} {i}") == name),
    }
}
