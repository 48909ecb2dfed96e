//! What is wrong by the rule `class-step`.

use super::{StepOf, Words};
use crate::check::span::Span;
use crate::model::ClassStepId;
use crate::units::{Minute, Minutes};

/// Where a step of the class ought to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClassStepPlace {
    /// Anywhere for so long.
    Lasting(Minutes),
    /// In its turn.
    Turn(Span),
    /// At that minute.
    At(Minute),
    /// Within that time.
    Within(Span),
}

/// What is wrong with steps of the class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ClassStepFault {
    /// One is placed more than once.
    PlacedTwice {
        /// Which.
        step: ClassStepId,
    },
    /// One is not placed.
    NotPlaced {
        /// Which.
        step: ClassStepId,
    },
    /// One is not where it ought to be.
    Elsewhere {
        /// Which.
        step: ClassStepId,
        /// When it is.
        span: Span,
        /// Where it ought to be.
        ought: ClassStepPlace,
    },
    /// Two are at once.
    Together {
        /// One, and when it is.
        first: (ClassStepId, Span),
        /// The other.
        second: (ClassStepId, Span),
    },
    /// A group works meanwhile.
    GroupAtWork {
        /// At which step.
        step: StepOf,
        /// When.
        span: Span,
        /// The step of the class, and when it is.
        class: (ClassStepId, Span),
    },
}

impl ClassStepFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let is = |(step, span)| format!("{} is {}", words.class_step(step), words.span(span));
        match *self {
            Self::PlacedTwice { step } => {
                format!("{} is placed more than once", words.class_step(step))
            }
            Self::NotPlaced { step } => format!("{} is not placed", words.class_step(step)),
            Self::Elsewhere { step, span, ought } => {
                let ought = match ought {
                    ClassStepPlace::Lasting(minutes) => format!("it takes {minutes}"),
                    ClassStepPlace::Turn(turn) => format!("its turn is {}", words.span(turn)),
                    ClassStepPlace::At(at) => format!("it is fixed at {}", words.at(at)),
                    ClassStepPlace::Within(time) => format!("it is to lie {}", words.span(time)),
                };
                format!("{}; {ought}", is((step, span)))
            }
            Self::Together { first, second } => {
                format!("{} and {}; the class can only be at one of them", is(first), is(second))
            }
            Self::GroupAtWork { step, span, class: (class, meanwhile) } => format!(
                "{} is {} while the whole class is at {} {}",
                words.step_of(step),
                words.span(span),
                words.class_step(class),
                words.span(meanwhile)
            ),
        }
    }
}
