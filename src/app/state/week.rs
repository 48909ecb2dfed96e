//! What is shown of a week: what is selected, which day.

use chrono::NaiveDate;

use crate::view::week::Item;

/// What is shown of a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct WeekView {
    /// What the card is about; the whole week if `None`.
    pub selected: Option<Item>,
    /// The one day that is shown; all of them if `None`.
    pub day: Option<NaiveDate>,
    /// What has the keyboard when the picture does.
    pub current: Option<Item>,
    /// It must take the keyboard now.
    pub focus_now: bool,
}

/// A choice of what is shown of a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeekChoice {
    /// Show the card of something, or of the whole week.
    Select(Option<Item>),
    /// Give something on the picture the keyboard.
    Focus(Item),
    /// Show one day, or all of them.
    Day(Option<NaiveDate>),
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
        }
    }
}
