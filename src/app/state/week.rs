//! What is shown of a week: which of its places, what is selected, which day.

use chrono::NaiveDate;
use eframe::egui::Key;

use super::place::Stop;
use super::{Papers, Place};
use crate::view::week::Item;
use crate::week::ToldOf;

/// A place of a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WeekPlace {
    /// Where and when its lessons are, and what does not go well.
    #[default]
    Week,
    /// What all of them need, and what labels say.
    Ingredients,
    /// Their sheets, to be printed.
    Papers,
}

/// All places of a week, in their order; each has the key of the lesson's place of its
/// name.
pub const WEEK_PLACES: [Stop<WeekPlace>; 3] = [
    Stop::new(
        WeekPlace::Week,
        "Week",
        Key::Num7,
        "to the week: where and when its lessons are, and what does not go well",
    ),
    Stop::new(
        WeekPlace::Ingredients,
        "Ingredients",
        Key::Num6,
        "to Ingredients: what all its lessons need, and what labels say",
    ),
    Stop::new(
        WeekPlace::Papers,
        "Papers",
        Key::Num3,
        "to Papers: the technician's days, the order, sheets of all lessons",
    ),
];

impl WeekPlace {
    /// The place of a week that a lesson's place of the same name leads to while the
    /// week is on screen.
    pub const fn beside(place: Place) -> Option<Self> {
        match place {
            Place::Ingredients => Some(Self::Ingredients),
            Place::Papers => Some(Self::Papers),
            Place::SetUp | Place::Plan | Place::Rehearse | Place::Day => None,
        }
    }
}

/// What is shown of a week.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeekView {
    /// The place that is shown.
    pub place: WeekPlace,
    /// The ingredient that is looked at.
    pub ingredient: Option<String>,
    /// What is to be printed, and the page of it that is looked at.
    pub papers: Papers,
    /// What the card is about; the whole week if `None`.
    pub selected: Option<Item>,
    /// The one day that is shown of the picture; all of them if `None`.
    pub day: Option<NaiveDate>,
    /// Of what its needs and sheets are told.
    pub told_of: ToldOf,
    /// What has the keyboard when the picture does.
    pub current: Option<Item>,
    /// It must take the keyboard now.
    pub focus_now: bool,
}

impl Default for WeekView {
    fn default() -> Self {
        Self {
            place: WeekPlace::default(),
            ingredient: None,
            papers: Papers::of_week(),
            selected: None,
            day: None,
            told_of: ToldOf::default(),
            current: None,
            focus_now: false,
        }
    }
}

/// A choice of what is shown of a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeekChoice {
    /// Go to a place of it.
    Go(WeekPlace),
    /// Show the card of something, or of the whole week.
    Select(Option<Item>),
    /// Give something on the picture the keyboard.
    Focus(Item),
    /// Show one day, or all of them.
    Day(Option<NaiveDate>),
    /// Tell of the needs and sheets of these.
    TellOf(ToldOf),
}

impl WeekView {
    /// Takes a choice.
    pub fn choose(&mut self, choice: WeekChoice) {
        match choice {
            WeekChoice::Select(item) => {
                self.selected = item;
                self.current = item.or(self.current);
            }
            WeekChoice::Focus(item) => {
                self.current = Some(item);
                self.focus_now = true;
            }
            WeekChoice::Day(day) => self.day = day,
            WeekChoice::TellOf(of) => {
                self.told_of = of;
                self.papers.page = 0;
            }
            WeekChoice::Go(place) => self.place = place,
        }
    }
}
