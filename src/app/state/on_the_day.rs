//! What is looked at while the lesson is taught.

use crate::model::{GroupId, OvenId};

/// What can be gone to and pressed at the day, one after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DayStop {
    /// A group's tile: what is to be told of it next.
    Group(GroupId),
    /// An oven's tile: the same for all of it.
    Oven(OvenId),
    /// Something that can be done about who will not be out.
    Response(usize),
    /// It is kept.
    Keep,
    /// Nothing is done.
    Leave,
}

/// What is looked at.
#[derive(Debug, Clone, Default)]
pub struct OnTheDay {
    /// What must take the keyboard now.
    pub focus_now: Option<DayStop>,
    /// What may happen is shown, though there is a question.
    pub slips: bool,
    /// Units and ovens are shown, though the lesson is over.
    pub units: bool,
    /// The questions of a day that is gone are shown, though nothing was told of it.
    pub afterwards: bool,
    /// The response that is looked at, by its number.
    pub response: usize,
    /// The number typed last, and when.
    pub typed: Option<(usize, f64)>,
}

/// A choice of what is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayChoice {
    /// Give this the keyboard.
    Choose(DayStop),
    /// Look at a response, by its number.
    Response(usize),
    /// Show what may happen, or the question.
    Slips(bool),
    /// Once the lesson is over, show units and ovens, or its questions.
    Units(bool),
}

impl OnTheDay {
    /// Digits typed within so many seconds are one number.
    const TOGETHER: f64 = 1.2;

    /// A digit is typed; the number that it makes with the one before, if there are so
    /// many.
    pub fn digit(&mut self, digit: usize, now: f64, of: usize) -> usize {
        let before = self.typed.filter(|(_, at)| now - at < Self::TOGETHER);
        let number = before.map(|(number, _)| 10 * number + digit).filter(|n| *n <= of);
        let number = number.unwrap_or(digit);
        self.typed = Some((number, now));
        number
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_typed_together_are_one_number_where_there_are_so_many() {
        let mut day = OnTheDay::default();
        assert_eq!(day.digit(1, 0.0, 12), 1);
        assert_eq!(day.digit(2, 0.5, 12), 12);
        assert_eq!(day.digit(3, 0.9, 12), 3);
        assert_eq!(day.digit(1, 5.0, 12), 1);
        assert_eq!(day.digit(1, 9.0, 12), 1);
    }
}
