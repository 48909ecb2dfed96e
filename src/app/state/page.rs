//! The pages of setting up, and which place of the file is entered on which.

use super::Place;
use crate::finding::{Path, Segment};

/// A page of setting up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The few things a lesson needs.
    #[default]
    Start,
    /// Title, day, bells, steps of the class.
    Lesson,
    /// Adults and rules.
    Adults,
    /// A room: ovens, kit, units, tins in stock.
    Room(usize),
    /// A recipe: mixture, methods, tins.
    Recipe(usize),
    /// What is to be reviewed of a recipe that was read from elsewhere.
    Review(usize),
    /// Groups.
    Groups,
    /// Kinds of tins.
    Tins,
}

/// The place of the lesson at which a place of its file is entered.
pub fn place_of(path: &Path) -> Place {
    match path.0.first() {
        Some(Segment::Field(first)) if first == "teacher" => Place::Rehearse,
        Some(Segment::Field(first)) if first == "packets" => Place::Ingredients,
        _ => Place::SetUp,
    }
}

/// The page on which a place of the file is entered.
pub fn page_of(path: &Path) -> Page {
    let index = match path.0.get(1) {
        Some(Segment::Index(i)) => *i,
        _ => 0,
    };
    let Some(Segment::Field(first)) = path.0.first() else { return Page::Start };
    match first.as_str() {
        "room" | "shared_kit" => Page::Room(0),
        "other_rooms" => Page::Room(index + 1),
        "groups" | "locks" => Page::Groups,
        "tins" => Page::Tins,
        "adults" | "rules" | "changes" => Page::Adults,
        "recipes" if matches!(path.0.get(2), Some(Segment::Field(of)) if of == "review") => {
            Page::Review(index)
        }
        "recipes" if path.0.len() > 1 => Page::Recipe(index),
        "recipes" => Page::Start,
        _ => Page::Lesson,
    }
}
