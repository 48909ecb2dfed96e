//! Things of a week by name: an oven, kit of a room, what goes from room to room.

use super::model::{Out, Place, RoomNo, Week};
use crate::file::format::RoomShape;
use crate::file::{did_you_mean, oven_names};

/// The thing of a name: "Room 1/Oven 4", "Room 1/sink", "electric whisk".
///
/// # Errors
/// That there is none, and what was probably meant.
pub fn place_called(week: &Week, name: &str) -> Result<Place, (String, String)> {
    let short = |name: &str| crate::finding::shortened(name, 60);
    let Some((room, thing)) = name.split_once('/') else {
        let names = week.moves.iter().map(|m| m.name.as_str());
        return match week.moves.iter().position(|m| m.name == name) {
            Some(moving) => Ok(Place::Moving(moving)),
            None => Err((
                format!("nothing that goes from room to room is called \"{}\"", short(name)),
                format!(
                    "of a room it is written like \"Room 1/Oven 4\"; {}",
                    did_you_mean(name, names)
                ),
            )),
        };
    };
    let (room, thing) = (room.trim(), thing.trim());
    let Some(number) = week.rooms.iter().position(|r| r.name() == room) else {
        let hint = did_you_mean(room, week.rooms.iter().map(RoomShape::name));
        return Err((format!("there is no room \"{}\"", short(room)), hint));
    };
    let ovens = oven_names(&week.rooms[number]);
    if ovens.iter().any(|oven| oven == thing) {
        return Ok(Place::Oven(RoomNo(number), thing.to_owned()));
    }
    let kit = kit_names(&week.rooms[number]);
    if kit.contains(&thing) {
        return Ok(Place::Kit(RoomNo(number), thing.to_owned()));
    }
    let hint = did_you_mean(thing, ovens.iter().map(String::as_str).chain(kit));
    Err((format!("{} has no \"{}\"", short(room), short(thing)), hint))
}

/// The names of a room's ovens, in their order.
pub fn ovens_of(week: &Week, room: RoomNo) -> Vec<String> {
    week.rooms.get(room.0).map(oven_names).unwrap_or_default()
}

/// Kinds of kit that a room has.
fn kit_names(room: &RoomShape) -> Vec<&str> {
    let units = room.units.iter().flat_map(|unit| &unit.kit.0);
    room.kit.0.iter().chain(units).map(|(name, _)| name.as_str()).collect()
}

/// What a thing is called.
pub fn name_of(week: &Week, what: &Place) -> String {
    match what {
        Place::Oven(room, name) | Place::Kit(room, name) => {
            format!("{}/{name}", week.room_name(*room))
        }
        Place::Moving(moving) => {
            week.moves.get(*moving).map_or_else(String::new, |m| m.name.clone())
        }
    }
}

/// Reads "Room 1/Oven 4=2026-11-23..2026-11-25": something out of order from one
/// day to another, or on one day.
///
/// # Errors
/// What is wrong with it.
pub fn out_of_order(week: &Week, text: &str) -> Result<Out, String> {
    let (what, days) = text
        .rsplit_once('=')
        .ok_or_else(|| format!("\"{text}\": write what and when, as \"Room 1/Oven 4=mon..wed\""))?;
    let (from, until) = days.split_once("..").unwrap_or((days, days));
    let (from, until) = (week.day_called(from.trim())?, week.day_called(until.trim())?);
    if until < from {
        return Err(format!("\"{text}\": {until} comes before {from}"));
    }
    let what = place_called(week, what.trim()).map_err(|(message, hint)| {
        if hint.is_empty() { message } else { format!("{message}; {hint}") }
    })?;
    Ok(Out { what, count: 1, from, until })
}
