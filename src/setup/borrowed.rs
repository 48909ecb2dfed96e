//! What is borrowed is borrowed for one lesson: it goes back, and neither a
//! room kept in the library nor the lesson taught again has it.

use crate::edit::one_of;
use crate::file::format::{Entries, KitCount, LessonFile, OvenShape, RoomShape};

/// The room with what is its own.
#[must_use]
pub fn own_room(room: &RoomShape) -> RoomShape {
    let mut room = room.clone();
    let gone = give_back(&mut room);
    room.out_of_order.retain(|name| !gone.iter().any(|oven| one_of(&oven.name, oven.count, name)));
    room
}

/// All that was borrowed goes back. What is locked to a borrowed oven is
/// locked no longer. Says what went back, a few words each.
pub fn give_back_all(file: &mut LessonFile) -> Vec<String> {
    let mut told = Vec::new();
    let mut gone: Vec<OvenShape> = Vec::new();
    give_back_kit(&mut file.shared_kit, &mut told);
    for room in file.rooms_mut() {
        for kit in std::iter::once(&mut room.kit).chain(room.units.iter_mut().map(|u| &mut u.kit)) {
            give_back_kit(kit, &mut told);
        }
        let ovens = give_back(room);
        room.out_of_order
            .retain(|name| !ovens.iter().any(|oven| one_of(&oven.name, oven.count, name)));
        gone.extend(ovens);
    }
    let names_gone = |name: &String| gone.iter().any(|oven| one_of(&oven.name, oven.count, name));
    file.locks.retain(|lock| !lock.oven.as_ref().is_some_and(names_gone));
    told.extend(gone.into_iter().map(|oven| oven.name));
    told
}

/// Ovens and kit of a room go back; the ovens that went.
fn give_back(room: &mut RoomShape) -> Vec<OvenShape> {
    let mut gone = Vec::new();
    let mut told = Vec::new();
    give_back_kit(&mut room.kit, &mut told);
    gone.extend(room.ovens.extract_if(.., |oven| oven.borrowed));
    for unit in &mut room.units {
        give_back_kit(&mut unit.kit, &mut told);
        gone.extend(unit.ovens.extract_if(.., |oven| oven.borrowed));
    }
    gone
}

fn give_back_kit(kit: &mut Entries<KitCount>, told: &mut Vec<String>) {
    for (name, count) in &mut kit.0 {
        if count.borrowed > 0 {
            told.push(format!("{name} ({})", count.borrowed));
            count.borrowed = 0;
            count.out_of_order = count.out_of_order.min(count.count);
        }
    }
}
