//! Figures that know where they come from, and minutes of three kinds.

use std::fmt;

use thiserror::Error;

use crate::units::{ExactMinutes, UnitError, plain_number};

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Origin {
    /// Typed in by the teacher for this lesson.
    Entered,
    /// Stated by the recipe.
    Recipe,
    /// Copied from the library that comes with the program.
    Library,
    /// Worked out by the bake or cooling model.
    Computed,
    /// Learned from what earlier lessons really took; the number of bakes.
    Learned(u32),
    /// Filled in because nobody said otherwise.
    Assumed,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Origin::Entered => f.write_str("entered"),
            Origin::Recipe => f.write_str("from the recipe"),
            Origin::Library => f.write_str("from the library"),
            Origin::Computed => f.write_str("computed"),
            Origin::Learned(1) => f.write_str("learned from 1 bake"),
            Origin::Learned(n) => write!(f, "learned from {n} bakes"),
            Origin::Assumed => f.write_str("assumed"),
        }
    }
}

/// A value and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
}

impl<T> Figure<T> {
    /// A figure someone stated.
    pub fn entered(value: T) -> Self {
        Self { value, origin: Origin::Entered }
    }

    /// A figure nobody stated.
    pub fn assumed(value: T) -> Self {
        Self { value, origin: Origin::Assumed }
    }
}

/// Minutes that cannot be those of a step.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MinutesError {
    /// Not a plausible length of time at all.
    #[error(transparent)]
    Unit(#[from] UnitError),
    /// The usual minutes are nought: such a step takes no place in a plan.
    #[error("a step takes some time; its usual minutes cannot be 0")]
    Zero,
    /// Quick, usual and slow are not in order.
    #[error(
        "quick ({quick}), usual ({usual}) and slow ({slow}) minutes must not decrease",
        quick = plain_number(*quick), usual = plain_number(*usual), slow = plain_number(*slow)
    )]
    OutOfOrder {
        /// Quick minutes.
        quick: f64,
        /// Usual minutes.
        usual: f64,
        /// Slow minutes.
        slow: f64,
    },
}

/// How long a step takes: quick, usual, slow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreePoint {
    quick: ExactMinutes,
    usual: ExactMinutes,
    slow: ExactMinutes,
    /// Where the usual minutes come from.
    pub origin: Origin,
    /// Where the quick and slow minutes come from.
    pub spread: Origin,
}

impl ThreePoint {
    /// Share of the usual minutes taken as quick where only usual is given
    /// (a rule of the project, marked assumed).
    pub const QUICK_SHARE: f64 = 0.75;
    /// Share of the usual minutes taken as slow, likewise.
    pub const SLOW_SHARE: f64 = 1.5;
    /// A single step of a school lesson longer than this is a slip.
    pub const LONGEST_STEP: f64 = 600.0;

    /// Minutes stated in full.
    ///
    /// # Errors
    /// If a figure is not finite, negative or over ten hours, if usual is 0,
    /// or if they decrease.
    pub fn new(quick: f64, usual: f64, slow: f64, origin: Origin) -> Result<Self, MinutesError> {
        for minutes in [quick, usual, slow] {
            ExactMinutes::new(minutes)?;
            if minutes > Self::LONGEST_STEP {
                Err(UnitError::OutOfRange {
                    what: "the minutes of a step",
                    value: minutes,
                    low: 0.0,
                    high: Self::LONGEST_STEP,
                })?;
            }
        }
        if usual <= 0.0 {
            return Err(MinutesError::Zero);
        }
        if quick > usual || usual > slow {
            return Err(MinutesError::OutOfOrder { quick, usual, slow });
        }
        Ok(Self {
            quick: ExactMinutes::new(quick)?,
            usual: ExactMinutes::new(usual)?,
            slow: ExactMinutes::new(slow)?,
            origin,
            spread: origin,
        })
    }

    /// Usual minutes only; quick ¾ and slow 1½ of them, marked assumed.
    ///
    /// # Errors
    /// As [`ThreePoint::new`].
    pub fn usual_only(usual: f64, origin: Origin) -> Result<Self, MinutesError> {
        let slow = (usual * Self::SLOW_SHARE).min(Self::LONGEST_STEP.max(usual));
        let mut minutes = Self::new(usual * Self::QUICK_SHARE, usual, slow, origin)?;
        minutes.spread = Origin::Assumed;
        Ok(minutes)
    }

    /// Quick minutes, unrounded.
    pub fn quick(&self) -> ExactMinutes {
        self.quick
    }

    /// Usual minutes, unrounded.
    pub fn usual(&self) -> ExactMinutes {
        self.usual
    }

    /// Slow minutes, unrounded.
    pub fn slow(&self) -> ExactMinutes {
        self.slow
    }

    /// The minutes to plan with, unrounded: `caution` 0 is usual, 1 is slow.
    pub fn with_caution(&self, caution: f64) -> ExactMinutes {
        self.usual.towards(self.slow, caution.clamp(0.0, 1.0))
    }

    /// The same with those minutes as the usual ones.
    #[must_use]
    pub fn planned_with(self, caution: f64) -> Self {
        Self { usual: self.with_caution(caution), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_figure_spreads_by_the_rule_and_says_it_is_assumed() -> Result<(), MinutesError> {
        let minutes = ThreePoint::usual_only(8.0, Origin::Entered)?;
        assert_eq!(minutes.quick().get(), 6.0);
        assert_eq!(minutes.slow().get(), 12.0);
        assert_eq!(minutes.spread, Origin::Assumed);
        assert_eq!(minutes.with_caution(0.5).get(), 10.0);
        Ok(())
    }

    #[test]
    fn nonsense_is_refused() {
        let three = |q, u, s| ThreePoint::new(q, u, s, Origin::Entered);
        assert_eq!(three(0.0, 0.0, 0.0), Err(MinutesError::Zero));
        assert!(matches!(three(5.0, 4.0, 6.0), Err(MinutesError::OutOfOrder { .. })));
        assert!(three(-1.0, 4.0, 6.0).is_err());
        assert!(three(1.0, f64::NAN, 6.0).is_err());
        assert!(three(1.0, 2.0, 9999.0).is_err());
    }
}
