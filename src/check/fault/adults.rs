//! What is wrong by the rule `adults`.

use super::{StepOf, Words};
use crate::check::span::Span;
use crate::model::{AdultId, ClassStepId, OvenId};
use crate::units::Minute;

/// What keeps an adult busy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duty {
    /// A step that asks for an adult with it.
    Step(StepOf),
    /// A step of the class.
    Class(ClassStepId),
    /// An open oven door.
    Door(OvenId),
}

/// What is wrong with adults.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AdultFault {
    /// One is wanted in two places at once.
    Twice {
        /// Who.
        adult: AdultId,
        /// By what, and when.
        first: (Duty, Span),
        /// By what else, and when.
        second: (Duty, Span),
    },
    /// A step asks for one with it and names none.
    Unnamed {
        /// The step.
        step: StepOf,
        /// When it is.
        span: Span,
    },
    /// A step names one and asks for none.
    NotAskedFor {
        /// The step.
        step: StepOf,
        /// When it is.
        span: Span,
        /// Who.
        adult: AdultId,
    },
    /// A step names one who may not serve its group.
    CannotServe {
        /// The step.
        step: StepOf,
        /// When it is.
        span: Span,
        /// Who.
        adult: AdultId,
    },
    /// A step names one who is not there.
    Away {
        /// The step.
        step: StepOf,
        /// When it is.
        span: Span,
        /// Who.
        adult: AdultId,
        /// The first minute without them.
        minute: Minute,
    },
    /// A step wants one near, and none is.
    NobodyNear {
        /// The step.
        step: StepOf,
        /// When it is.
        span: Span,
        /// The first minute without one.
        minute: Minute,
    },
    /// A step of the class takes one who is not there.
    AwayFromClass {
        /// The step.
        step: ClassStepId,
        /// When it is.
        span: Span,
        /// Who.
        adult: AdultId,
        /// The first minute without them.
        minute: Minute,
    },
}

impl AdultFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let of = |step, span| format!("{} {}", words.step_of(step), words.span(span));
        match *self {
            Self::Twice { adult, first, second } => format!(
                "{} is wanted {} {} and {} {}",
                words.adult(adult),
                duty(words, first.0),
                words.span(first.1),
                duty(words, second.0),
                words.span(second.1)
            ),
            Self::Unnamed { step, span } => {
                format!("{} asks for an adult with it and names none", of(step, span))
            }
            Self::NotAskedFor { step, span, adult } => {
                format!("{} names {}, whom it does not ask for", of(step, span), words.adult(adult))
            }
            Self::CannotServe { step, span, adult } => {
                format!("{} names {}, who cannot serve it", of(step, span), words.adult(adult))
            }
            Self::Away { step, span, adult, minute } => format!(
                "{} names {}, who is not there at {}",
                of(step, span),
                words.adult(adult),
                words.at(minute)
            ),
            Self::NobodyNear { step, span, minute } => format!(
                "{} wants an adult near; none is in the room at {}",
                of(step, span),
                words.at(minute)
            ),
            Self::AwayFromClass { step, span, adult, minute } => format!(
                "{} {} takes {}, who is not there at {}",
                words.class_step(step),
                words.span(span),
                words.adult(adult),
                words.at(minute)
            ),
        }
    }
}

fn duty(words: &Words<'_>, duty: Duty) -> String {
    match duty {
        Duty::Step(step) => format!("by {} for {}", words.group(step.group), words.step(step)),
        Duty::Class(step) => format!("for {}", words.class_step(step)),
        Duty::Door(oven) => format!("at the door of {}", words.oven(oven)),
    }
}
