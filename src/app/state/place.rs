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

/// A place, of a lesson if nothing else is said, as it stands in the row of them.
#[derive(Debug, Clone, Copy)]
pub struct Stop<Of = Place> {
    /// Which.
    pub place: Of,
    /// Its name.
    pub name: &'static str,
    /// Its key, with Ctrl.
    pub key: Key,
    /// Where its key leads and what is there.
    pub what: &'static str,
}

impl<Of> Stop<Of> {
    /// A place with its name, its key and where that leads.
    pub(super) const fn new(place: Of, name: &'static str, key: Key, what: &'static str) -> Self {
        Self { place, name, key, what }
    }
}

/// All places that there are, in their order. A place keeps its key when others
/// come to stand before it.
pub const PLACES: &[Stop] = &[
    Stop::new(
        Place::SetUp,
        "Set up",
        Key::Num1,
        "to Set up: what is baked, by whom, in which room",
    ),
    Stop::new(Place::Plan, "Plan", Key::Num2, "to Plan: when and where everything is done"),
    Stop::new(
        Place::Ingredients,
        "Ingredients",
        Key::Num6,
        "to Ingredients: what is needed, what labels say, and who read them",
    ),
    Stop::new(
        Place::Rehearse,
        "Rehearse",
        Key::Num4,
        "to Rehearse: what you say and do at each minute, and where you are not",
    ),
    Stop::new(
        Place::Papers,
        "Papers",
        Key::Num3,
        "to Papers: sheets for the wall, pupils and technician",
    ),
    Stop::new(
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
