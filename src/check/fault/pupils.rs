//! What is wrong by the rule `pupils`.

use super::words::from_one;
use super::{StepOf, Words};
use crate::check::span::Span;

/// What is wrong with who does what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PupilsFault {
    /// One does two steps at once.
    Twice {
        /// Who, from 0.
        pupil: u32,
        /// One step, and when it is.
        first: (StepOf, Span),
        /// The other.
        second: (StepOf, Span),
    },
    /// A step names one that the group has not.
    Stranger {
        /// The step.
        step: StepOf,
        /// Who, from 0.
        pupil: u32,
        /// How many the group has.
        of: u32,
    },
    /// A step names one twice.
    NamedTwice {
        /// The step.
        step: StepOf,
    },
    /// A step before or after the period names some.
    OutsidePeriod {
        /// The step.
        step: StepOf,
    },
    /// A step names more or fewer than it takes.
    OtherNumber {
        /// The step.
        step: StepOf,
        /// How many it takes.
        takes: u32,
        /// How many it names.
        names: usize,
    },
}

impl PupilsFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::Twice { pupil, first, second } => format!(
                "{}: pupil {} does {} {} and {} {}",
                words.group(first.0.group),
                from_one(pupil),
                words.step(first.0),
                words.span(first.1),
                words.step(second.0),
                words.span(second.1)
            ),
            Self::Stranger { step, pupil, of } => {
                format!("{} names pupil {}, of {of}", words.step_of(step), from_one(pupil))
            }
            Self::NamedTwice { step } => format!("{} names a pupil twice", words.step_of(step)),
            Self::OutsidePeriod { step } => {
                format!("{} is done outside the period, so by no pupil", words.step_of(step))
            }
            Self::OtherNumber { step, takes, names } => {
                format!("{} takes {takes} pupils and names {names}", words.step_of(step))
            }
        }
    }
}
