//! What is wrong by the rule `whole-group`.

use super::{StepOf, Words};
use crate::check::span::Span;
use crate::model::{GroupId, StepId};
use crate::units::Minutes;

/// What keeps a group from being served whole, or reported as not served.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WholeGroupFault {
    /// It takes part and is reported as left out.
    TakesPart {
        /// Which.
        group: GroupId,
    },
    /// It is left out and reported as refused.
    LeftOutRefused {
        /// Which.
        group: GroupId,
    },
    /// It is left out and served.
    LeftOutServed {
        /// Which.
        group: GroupId,
    },
    /// It is neither served nor reported.
    Forgotten {
        /// Which.
        group: GroupId,
    },
    /// It is reported more than once.
    Reported {
        /// Which.
        group: GroupId,
        /// How often.
        times: usize,
    },
    /// It has several choices.
    Choices {
        /// Which.
        group: GroupId,
        /// How many.
        choices: usize,
    },
    /// It is both served and reported.
    Both {
        /// Which.
        group: GroupId,
    },
    /// It is not served, and some of it is placed.
    PlacedUnserved {
        /// Which.
        group: GroupId,
        /// How many steps.
        steps: usize,
        /// How many tins in ovens.
        tins: usize,
        /// How many uses of kit.
        uses: usize,
    },
    /// Its method has no such step.
    NoSuchStep {
        /// Which.
        group: GroupId,
        /// The step.
        step: StepId,
    },
    /// A step is placed more than once.
    PlacedTwice {
        /// The step.
        step: StepOf,
    },
    /// A step is not placed.
    NotPlaced {
        /// The step.
        step: StepOf,
    },
    /// A step does not last its minutes.
    Lasts {
        /// The step.
        step: StepOf,
        /// What the plan gives it.
        given: Minutes,
        /// When that is.
        span: Span,
        /// What it takes.
        takes: Minutes,
    },
}

impl WholeGroupFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::TakesPart { group } => format!(
                "{} is reported as left out by the teacher, but takes part",
                words.group(group)
            ),
            Self::LeftOutRefused { group } => format!(
                "{} is left out by the teacher, but reported as refused",
                words.group(group)
            ),
            Self::LeftOutServed { group } => {
                format!("{} is left out by the teacher, but served", words.group(group))
            }
            Self::Forgotten { group } => {
                format!("{} is neither served nor reported as not served", words.group(group))
            }
            Self::Reported { group, times } => {
                format!("{} is reported as not served {times} times", words.group(group))
            }
            Self::Choices { group, choices } => format!(
                "{} has {choices} choices of method and tin instead of one",
                words.group(group)
            ),
            Self::Both { group } => {
                format!("{} is both served and reported as not served", words.group(group))
            }
            Self::PlacedUnserved { group, steps, tins, uses } => format!(
                "{} is not served, yet the plan places {steps} of its steps, {tins} of its tins \
                 and {uses} uses of kit",
                words.group(group)
            ),
            Self::NoSuchStep { group, step } => format!(
                "{} has a step number {}, which its method has not",
                words.group(group),
                step.0.saturating_add(1)
            ),
            Self::PlacedTwice { step } => {
                format!("{} is placed more than once", words.step_of(step))
            }
            Self::NotPlaced { step } => format!("{} is not placed", words.step_of(step)),
            Self::Lasts { step, given, span, takes } => format!(
                "{} is given {given} {}; it takes {takes}",
                words.step_of(step),
                words.span(span)
            ),
        }
    }
}
