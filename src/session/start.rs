//! What a session is given to begin with.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use chrono::{NaiveDate, NaiveTime, TimeDelta, Timelike};

use super::study::Wake;
use crate::file::Disk;
use crate::units::{ClockTime, local_now};

/// The clock a session goes by: the computer's, unless it has one of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Clock {
    /// The day it is and stays; the computer's if `None`.
    pub day: Option<NaiveDate>,
    /// The time of day it is and stays; the computer's if `None`.
    pub time: Option<ClockTime>,
    /// By so many seconds the school's bell is ahead of that time.
    pub ahead: i32,
}

impl Clock {
    /// The day it is.
    pub fn today(&self) -> NaiveDate {
        self.day.unwrap_or_else(|| local_now().date_naive())
    }

    /// The minute of the day it is by the school's bell.
    pub fn now(&self) -> Option<ClockTime> {
        let exact = self.exact();
        ClockTime::parse(&format!("{}:{}", exact.hour(), exact.minute())).ok()
    }

    /// The same to the second.
    pub fn exact(&self) -> NaiveTime {
        let own = self.time.and_then(|time| {
            let minutes = time.minutes_since(ClockTime::MIDNIGHT).get();
            NaiveTime::from_num_seconds_from_midnight_opt(u32::try_from(minutes * 60).ok()?, 0)
        });
        let time = own.unwrap_or_else(|| local_now().time());
        time.overflowing_add_signed(TimeDelta::seconds(i64::from(self.ahead))).0
    }

    /// The time of that day, unless the day is its own and the time is not.
    pub fn time_of_that_day(&self) -> Option<ClockTime> {
        if self.day.is_some() && self.time.is_none() { None } else { self.now() }
    }

    /// How long it is until just after its minute changes; `None` where it stands
    /// still.
    pub fn to_the_next_minute(&self) -> Option<Duration> {
        self.time.is_none().then(|| to_the_next_minute(self.exact()))
    }
}

fn to_the_next_minute(now: NaiveTime) -> Duration {
    let gone = now.second() * 1000 + (now.nanosecond() / 1_000_000).min(999);
    Duration::from_millis(u64::from(60_050 - gone))
}

/// What a session is given to begin with.
pub struct SessionStart {
    /// Called whenever there is something to listen to.
    pub wake: Wake,
    /// The way to the system's files.
    pub disk: Arc<dyn Disk>,
    /// The clock it goes by.
    pub clock: Clock,
    /// The table of bakes noted so far; none is kept if `None`.
    pub outcomes: Option<PathBuf>,
    /// The folder of the user's own library and of lessons not saved yet; none
    /// is kept if `None`.
    pub data: Option<PathBuf>,
    /// The folder in which lessons are saved first.
    pub documents: Option<PathBuf>,
    /// How often a plan is played for its odds; as often as usual if `None`.
    pub runs: Option<u32>,
    /// How many plans of a lesson are built where one is looked for, however long that
    /// takes; as many and as long as usual if `None`.
    pub decodings: Option<u64>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_wakes_just_after_the_minute_has_changed() {
        let at = |h, m, s, ms| NaiveTime::from_hms_milli_opt(h, m, s, ms).unwrap_or_default();
        assert_eq!(to_the_next_minute(at(10, 5, 0, 0)), Duration::from_millis(60_050));
        assert_eq!(to_the_next_minute(at(10, 5, 59, 900)), Duration::from_millis(150));
        // A leap second is told as a second of 60.
        assert_eq!(to_the_next_minute(at(23, 59, 59, 1_500)), Duration::from_millis(51));
    }

    #[test]
    fn the_bell_may_be_ahead_of_the_computer_and_midnight_is_gone_round() {
        let at = |text: &str| ClockTime::parse(text).ok();
        let clock = |time, ahead| Clock { day: None, time: at(time), ahead };
        assert_eq!(clock("10:05", -120).now(), at("10:03"));
        assert_eq!(clock("10:05", 59).now(), at("10:05"));
        assert_eq!(clock("23:59", 60).now(), at("00:00"));
        assert_eq!(clock("10:05", 0).to_the_next_minute(), None);
    }
}
