//! The user's own words in a week and its lessons, which are said as they are.

use super::model::Week;
use crate::file::own_words;

/// The user's own words: names of rooms, lessons, bells, kit, adults, classes and what rests.
pub fn own_words(week: &Week) -> Vec<String> {
    let of_rooms = week.rooms.iter().flat_map(own_words::of_room);
    let lessons = week.entries.iter().filter_map(|entry| entry.lesson());
    let of_lessons = lessons.flat_map(|taught| own_words::of_lesson(&taught.shapes));
    let bells = week.days.iter().flat_map(|d| d.bells.iter().map(|b| b.name.clone()));
    let moving = week.moves.iter().map(|m| m.name.clone());
    let adults = week.adults.iter().map(|a| a.name.clone());
    let entries = week.entries.iter().flat_map(|e| [e.class.clone(), e.title().to_owned()]);
    let rests = week.rests.iter().map(|rest| rest.what.clone());
    let all = of_rooms.chain(of_lessons).chain(bells).chain(moving).chain(adults);
    all.chain(entries).chain(rests).filter(|name| !name.is_empty()).collect()
}
