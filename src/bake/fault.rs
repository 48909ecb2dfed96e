//! What cannot be worked out, and why.

use thiserror::Error;

use crate::units::UnitError;

/// A question the model has no answer to. It never answers with a number that
/// is none.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BakeError {
    /// A figure that no unit accepts, or minutes longer than a day.
    #[error(transparent)]
    Unit(#[from] UnitError),
    /// A figure that must be more than nought and finite.
    #[error("{what} must be a number above 0, not {value}")]
    NotPositive {
        /// What the figure is.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// The mixture has no depth: no volume in the tin.
    #[error("there is no mixture in the tin, so it has no depth")]
    NoDepth,
    /// The mixture stands deeper than any tin is high.
    #[error("the mixture would stand {centimetres:.0} cm deep: volume or tin is mistyped")]
    TooDeep {
        /// Its depth.
        centimetres: f64,
    },
    /// Nobody knows how much mixture there is.
    #[error("neither the volume of the mixture nor its ingredients' weights are known")]
    NoMixture,
    /// Nobody knows what a tin looks like inside.
    #[error("its shape and inner size are not stated")]
    NoForm,
    /// There is no bake to set the model right by.
    #[error(
        "the recipe states bake minutes for no tin whose size and mixture are known, so there is \
         nothing to work them out from"
    )]
    NoAnchor,
    /// A flat sheet does not give the mixture a shape.
    #[error("a flat sheet does not hold a mixture; its depth is not known")]
    NoShape,
    /// The oven never brings the middle to the temperature wanted.
    #[error("an oven of {oven:.0} °C never brings the middle to {end:.0} °C")]
    OvenTooCold {
        /// Oven temperature, °C.
        oven: f64,
        /// Temperature wanted in the middle, °C.
        end: f64,
    },
    /// Mixture and end temperature are out of order.
    #[error("the mixture starts at {start:.0} °C, no colder than the {end:.0} °C it bakes to")]
    StartsBaked {
        /// Temperature of the raw mixture, °C.
        start: f64,
        /// Temperature wanted in the middle, °C.
        end: f64,
    },
    /// It never cools below the air around it.
    #[error("in air of {air:.0} °C nothing cools to {wanted:.0} °C")]
    AirTooWarm {
        /// Air temperature, °C.
        air: f64,
        /// Temperature wanted, °C.
        wanted: f64,
    },
    /// A Biot number outside what the series is checked for.
    #[error("a Biot number must lie between 0.0001 and 10 000, not {0}")]
    Biot(f64),
    /// The element is too weak for this temperature.
    #[error("this oven reaches {reach:.0} °C at most, not {wanted:.0} °C")]
    Unreachable {
        /// The temperature at which losses eat all power, °C.
        reach: f64,
        /// Temperature wanted, °C.
        wanted: f64,
    },
    /// No temperature suits both bakes.
    #[error("no oven temperature suits both: {first} and {second}")]
    NoCompromise {
        /// What the first accepts.
        first: String,
        /// What the second accepts.
        second: String,
    },
}

/// Passes on a finite figure above nought.
pub(crate) fn positive(what: &'static str, value: f64) -> Result<f64, BakeError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(BakeError::NotPositive { what, value })
    }
}
