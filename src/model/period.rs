//! Periods between two bells, and the class's own steps.

use super::figure::ThreePoint;
use super::ids::{AdultId, PeriodId};
use crate::units::{ClockTime, Minute, Minutes};

/// A period.
#[derive(Debug, Clone, PartialEq)]
pub struct Period {
    /// Its name, unique in the lesson.
    pub name: String,
    /// The start bell by the clock.
    pub start_clock: ClockTime,
    /// The start bell in minutes from the first period's start bell.
    pub start: Minute,
    /// The end bell, likewise.
    pub end: Minute,
    /// The earliest minute an oven may be switched on for this period.
    pub ovens_on_from: Minute,
    /// The adult named to switch them on.
    pub ovens_on_by: Option<AdultId>,
}

impl Period {
    /// From bell to bell.
    pub fn length(&self) -> Minutes {
        self.end - self.start
    }
}

/// Where in the period a step of the class belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// Follows on from the start bell.
    Opening,
    /// In the course of the lesson, at its [`Timing`].
    During,
    /// Leads up to the end bell.
    Closing,
}

/// When a step in the course of the lesson is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Timing {
    /// By its place in the opening or the closing.
    InTurn,
    /// Starts at this minute.
    At(Minute),
    /// Starts no earlier than the first and ends no later than the second.
    Between(Minute, Minute),
}

/// A step the whole class takes together: register, demo, plenary.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassStep {
    /// Its name, unique in its period.
    pub name: String,
    /// Its period.
    pub period: PeriodId,
    /// Opening, during or closing. In `Lesson::class_steps` the steps of one
    /// period and phase stand in the order in which they are taken.
    pub phase: Phase,
    /// Its place in time.
    pub timing: Timing,
    /// How long.
    pub minutes: ThreePoint,
    /// The adults it takes.
    pub adults: Vec<AdultId>,
    /// A closing step that can be dropped when time runs out.
    pub may_be_dropped: bool,
}
