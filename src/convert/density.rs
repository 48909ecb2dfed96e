//! What a millilitre weighs.

use super::fault::ConvertError;
use crate::units::UnitError;

/// Nothing in a kitchen is lighter or heavier than this, g/ml.
const PLAUSIBLE: (f64, f64) = (0.05, 3.0);

/// Something whose density is known about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Substance {
    /// The name it is asked by.
    pub name: &'static str,
    /// Grams in a millilitre.
    pub density: f64,
    /// The range sources give, g/ml.
    pub range: (f64, f64),
}

/// Water, near enough for milk and juice, and the batters of the trade: sources
/// differ, so a range is given with each. A batter of one's own is better
/// weighed and measured.
pub const SUBSTANCES: [Substance; 5] = [
    Substance { name: "water", density: 1.0, range: (0.998, 1.0) },
    Substance { name: "whisked batter", density: 0.45, range: (0.4, 0.5) },
    Substance { name: "creamed batter", density: 0.75, range: (0.7, 0.8) },
    Substance { name: "dense batter", density: 0.85, range: (0.8, 0.9) },
    Substance { name: "melted batter", density: 1.05, range: (1.0, 1.1) },
];

/// What is to be taken for the density.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Density {
    /// Grams in a millilitre.
    pub grams_per_ml: f64,
    /// What it is, where that was named.
    pub of: Option<Substance>,
}

impl Density {
    /// From a figure in g/ml.
    ///
    /// # Errors
    /// If it is not plausible.
    pub fn new(grams_per_ml: f64) -> Result<Self, ConvertError> {
        let (low, high) = PLAUSIBLE;
        let (what, value) = ("a density in g/ml", grams_per_ml);
        if !value.is_finite() {
            return Err(UnitError::NotFinite { what, value }.into());
        }
        if !(low..=high).contains(&value) {
            return Err(UnitError::OutOfRange { what, value, low, high }.into());
        }
        Ok(Self { grams_per_ml, of: None })
    }

    /// Of something by its name, or its first word.
    ///
    /// # Errors
    /// If it is none of [`SUBSTANCES`].
    pub fn of(name: &str) -> Result<Self, ConvertError> {
        let name = name.trim().to_lowercase();
        let first = |s: &Substance| s.name.split(' ').next() == Some(name.as_str());
        let found = SUBSTANCES.into_iter().find(|s| s.name == name || first(s));
        let of = found.ok_or_else(|| ConvertError::NeedsDensity { substances: names() })?;
        Ok(Self { grams_per_ml: of.density, of: Some(of) })
    }
}

/// What may be named.
pub(super) fn names() -> String {
    SUBSTANCES.map(|s| s.name).join(", ")
}
