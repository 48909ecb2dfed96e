//! What cannot be converted, and why.

use thiserror::Error;

use super::unit::Kind;
use crate::units::UnitError;

/// What may be asked, as it is told to a person.
pub const UNDERSTOOD: &str = "a figure and a measure, such as \"gas 4\", \"180 C\", \"350 F\", \
\"160 fan\", \"2 cups\", \"1 1/2 tbsp\", \"½ tsp\", \"8 oz\", \"1 lb\", \"250 g\", \"1 kg\", \
\"100 ml\", \"1 l\", \"4 fl oz\", \"4 uk fl oz\", \"1 metric cup\", \"9 in\", \"23 cm\", \
\"230 mm\", \"3 eggs\", \"3 eggs M\"";

/// A question without an answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ConvertError {
    /// No figure and measure.
    #[error("\"{0}\" is not understood; write {UNDERSTOOD}")]
    NotUnderstood(String),
    /// No measure.
    #[error(
        "\"{0}\" is no measure that is understood; those are C, F, gas, fan; g, kg, oz, lb; ml, \
         l, cups, tbsp, tsp, fl oz, uk fl oz, metric cups, metric tbsp, metric tsp; mm, cm, in; \
         eggs, eggs S, eggs M, eggs L, eggs XL"
    )]
    NoMeasure(String),
    /// A weight is no temperature.
    #[error("{from} does not become {to}")]
    DifferentKinds {
        /// What was given.
        from: Kind,
        /// What was wanted.
        to: Kind,
    },
    /// Weight and volume, but of what?
    #[error(
        "a volume weighs what its mixture weighs: give a density with --density (g/ml), or what \
         it is with --of ({substances})"
    )]
    NeedsDensity {
        /// What may be named.
        substances: String,
    },
    /// Nothing at all.
    #[error("an amount must be more than 0")]
    Nothing,
    /// Not on the table of gas marks.
    #[error("gas marks are ½ and 1 to 9, not {0}")]
    NotAMark(f64),
    /// Too cold or too hot for gas.
    #[error("no gas mark stands for {0:.0} °C; they run from ½ (130 °C) to 9 (240 °C)")]
    NoMark(f64),
    /// No plausible figure.
    #[error(transparent)]
    Unit(#[from] UnitError),
}
