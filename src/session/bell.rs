//! The clock of the day set to the school's bell.

use chrono::Timelike;

use super::{Event, Session};
use crate::model::Lesson;
use crate::units::{ClockTime, Minute};

/// A bell further off than this, in seconds, is not the one that goes.
const NEAR: i32 = 15 * 60;
const OF_A_DAY: i32 = 24 * 60 * 60;

impl Session {
    /// A bell goes at this moment: the clock is set to the one of the lesson that is
    /// nearest.
    pub(super) fn bell_now(&mut self) {
        let Some(planned) = &self.planned else { return };
        let now = i32::try_from(self.clock.exact().num_seconds_from_midnight()).unwrap_or(0);
        let off = bells(&planned.lesson).map(|bell| {
            let by = (bell - now).rem_euclid(OF_A_DAY);
            if by > OF_A_DAY / 2 { by - OF_A_DAY } else { by }
        });
        match off.min_by_key(|by| by.abs()).filter(|by| by.abs() <= NEAR) {
            Some(by) => {
                self.clock.ahead += by;
                self.events.push(Event::BellAhead(self.clock.ahead));
            }
            None => self.tell("No bell of this lesson is near: the clock is as it was."),
        }
    }

    /// The clock is the computer's again.
    pub(super) fn bell_as_computer(&mut self) {
        self.clock.ahead = 0;
        self.events.push(Event::BellAhead(0));
    }
}

/// The bells of a lesson, in seconds of the day.
fn bells(lesson: &Lesson) -> impl Iterator<Item = i32> {
    let start = lesson.periods[0].start_clock;
    let of = move |minute: Minute| {
        let clock = start.after(minute - Minute::BELL);
        clock.minutes_since(ClockTime::MIDNIGHT).get() * 60
    };
    lesson.periods.iter().flat_map(move |p| [of(p.start), of(p.end)])
}
