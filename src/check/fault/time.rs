//! What is wrong by the rules `order`, `period` and `bell`.

use super::{StepOf, Words};
use crate::check::span::Span;
use crate::units::{Minute, Minutes};

/// What is to lie between two steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gap {
    /// Nothing: they are a bake, and one follows the other at once.
    Nothing,
    /// Whatever there is, but the second comes after the first.
    Any,
    /// So much at least.
    AtLeast(Minutes),
    /// So much at most.
    AtMost(Minutes),
}

/// Two steps are too near, too far, or the wrong way round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderFault {
    /// The first step, and when it ends.
    pub first: (StepOf, Minute),
    /// The second step, and when it starts.
    pub second: (StepOf, Minute),
    /// What is to lie between them.
    pub gap: Gap,
}

impl OrderFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let gap = match self.gap {
            Gap::Nothing => "they follow one another without a gap".to_owned(),
            Gap::Any => "it comes after it".to_owned(),
            Gap::AtLeast(least) => format!("at least {least} lie between them"),
            Gap::AtMost(most) => format!("at most {most} lie between them"),
        };
        format!(
            "{} ends at {} and {} starts at {}; {gap}",
            words.step_of(self.first.0),
            words.at(self.first.1),
            words.step(self.second.0),
            words.bare(self.second.1)
        )
    }
}

/// A bell or step of the class that bounds a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// It is done beforehand, so before the start bell.
    StartBell(Minute),
    /// It is collected, so after the end bell.
    EndBell(Minute),
    /// It comes after the opening steps, which last until then.
    Opening(Minute),
    /// It comes before the closing steps, which begin then.
    Closing(Minute),
}

/// A step is on the wrong side of a bell, the opening or the closing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PeriodFault {
    /// The step.
    pub step: StepOf,
    /// When it is.
    pub span: Span,
    /// What bounds it.
    pub bound: Bound,
}

impl PeriodFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let bound = match self.bound {
            Bound::StartBell(at) => {
                format!("it is to be done before the start bell at {}", words.at(at))
            }
            Bound::EndBell(at) => {
                format!("it is to be done after the end bell at {}", words.at(at))
            }
            Bound::Opening(until) => format!("the opening steps last until {}", words.at(until)),
            Bound::Closing(from) => format!("the closing steps begin at {}", words.at(from)),
        };
        format!("{} is {}; {bound}", words.step_of(self.step), words.span(self.span))
    }
}

/// A group is not ready when the closing steps begin.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BellFault {
    /// Its last step.
    pub step: StepOf,
    /// When that ends.
    pub ready: Minute,
    /// When the closing steps begin.
    pub closing: Minute,
    /// How much later it is.
    pub late: Minutes,
}

impl BellFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        format!(
            "{} is ready at {}, with the end of {}; the closing steps begin at {}: {} late",
            words.group(self.step.group),
            words.at(self.ready),
            words.step(self.step),
            words.at(self.closing),
            self.late
        )
    }
}
