//! What a session is given to begin with.

use std::path::PathBuf;
use std::sync::Arc;

use chrono::{NaiveDate, NaiveTime, Timelike};

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
}

impl Clock {
    /// The day it is.
    pub fn today(&self) -> NaiveDate {
        self.day.unwrap_or_else(|| local_now().date_naive())
    }

    /// The minute of the day it is.
    pub fn now(&self) -> Option<ClockTime> {
        self.time.or_else(|| at(local_now().time()))
    }

    /// The computer's time of day, unless the day is another than its own.
    pub fn time_of_that_day(&self) -> Option<ClockTime> {
        if self.day.is_some() { None } else { at(local_now().time()) }
    }
}

fn at(time: NaiveTime) -> Option<ClockTime> {
    ClockTime::parse(&format!("{}:{}", time.hour(), time.minute())).ok()
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
}
