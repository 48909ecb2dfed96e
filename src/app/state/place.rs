//! The places of a lesson, in the order of its life.

use eframe::egui::Key;

/// A place of a lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Place {
    /// Where the lesson is entered.
    SetUp,
    /// Its plan.
    #[default]
    Plan,
    /// What is needed, and what labels say of it.
    Ingredients,
    /// Its minutes, gone through before it is taught.
    Rehearse,
    /// Its day: what is told of groups while they are at work.
    Day,
    /// Its sheets, to be printed.
    Papers,
}

/// A place as it stands in the row of them.
#[derive(Debug, Clone, Copy)]
pub struct Stop {
    /// Which.
    pub place: Place,
    /// Its name.
    pub name: &'static str,
    /// Its key, with Ctrl.
    pub key: Key,
    /// Where its key leads and what is there.
    pub what: &'static str,
}

const fn stop(place: Place, name: &'static str, key: Key, what: &'static str) -> Stop {
    Stop { place, name, key, what }
}

/// All places that there are, in their order. A place keeps its key when others
/// come to stand before it.
pub const PLACES: &[Stop] = &[
    stop(Place::SetUp, "Set up", Key::Num1, "to Set up: what is baked, by whom, in which room"),
    stop(Place::Plan, "Plan", Key::Num2, "to Plan: when and where everything is done"),
    stop(
        Place::Ingredients,
        "Ingredients",
        Key::Num6,
        "to Ingredients: what is needed, what labels say, and who read them",
    ),
    stop(
        Place::Rehearse,
        "Rehearse",
        Key::Num4,
        "to Rehearse: what you say and do at each minute, and where you are not",
    ),
    stop(
        Place::Papers,
        "Papers",
        Key::Num3,
        "to Papers: sheets for the wall, pupils and technician",
    ),
    stop(
        Place::Day,
        "The day",
        Key::Num5,
        "to The day: what happens while the lesson is taught, and what can be done about it",
    ),
];

impl Place {
    /// Its name.
    pub fn name(self) -> &'static str {
        self.stop().map_or("", |stop| stop.name)
    }

    /// Where its key leads and what is there.
    pub fn what(self) -> &'static str {
        self.stop().map_or("", |stop| stop.what)
    }

    fn stop(self) -> Option<&'static Stop> {
        PLACES.iter().find(|stop| stop.place == self)
    }
}
