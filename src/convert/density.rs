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
    /// Where the figures come from.
    pub source: &'static str,
}

impl Substance {
    const fn new(
        name: &'static str,
        density: f64,
        range: (f64, f64),
        source: &'static str,
    ) -> Self {
        Self { name, density, range, source }
    }
}

const BATTERS: &str = "common practice of the trade";

/// Water, near enough for milk and juice, what is weighed most in a food room,
/// and the batters of the trade: sources differ, so a range is given with each.
/// A powder settles and a batter holds more or less air: weighing is better.
///
/// USDA is the United States Department of Agriculture, National Nutrient
/// Database for Standard Reference, now the legacy part of FoodData Central:
/// household weights, a cup of 236.6 ml. Its food's number stands beside each.
/// FAO is a list derived from the FAO/INFOODS density database, version 2.
pub const SUBSTANCES: [Substance; 14] = [
    Substance::new("water", 1.0, (0.998, 1.0), "from memory, 4 to 20 °C"),
    Substance::new("flour", 0.53, (0.53, 0.67), "USDA 20081: 125 g a cup; FAO to 0.67"),
    Substance::new(
        "caster sugar",
        0.9,
        (0.85, 0.95),
        "from memory: finer than granulated, about 225 g in 250 ml",
    ),
    Substance::new("granulated sugar", 0.85, (0.7, 0.9), "USDA 19335: 200 g a cup; FAO 0.7 to 0.9"),
    Substance::new(
        "icing sugar",
        0.51,
        (0.42, 0.51),
        "USDA 19336: 120 g a cup as it comes, 100 g sifted",
    ),
    Substance::new(
        "brown sugar",
        0.93,
        (0.61, 0.93),
        "USDA 19334: 220 g a cup pressed down, 145 g loose",
    ),
    Substance::new("butter", 0.96, (0.91, 0.96), "USDA 01145: 227 g a cup; from memory 0.91"),
    Substance::new("oats", 0.34, (0.34, 0.42), "USDA 08120: 81 g a cup; from memory to 0.42"),
    Substance::new(
        "golden syrup",
        1.43,
        (1.39, 1.44),
        "from memory, between the corn syrups of USDA 19349 and 19350: 328 and 341 g a cup",
    ),
    Substance::new(
        "cocoa",
        0.36,
        (0.34, 0.41),
        "USDA 19165: 86 g a cup; 19860: 5 to 6 g a tablespoon of 14.8 ml",
    ),
    Substance::new("whisked batter", 0.45, (0.4, 0.5), BATTERS),
    Substance::new("creamed batter", 0.75, (0.7, 0.8), BATTERS),
    Substance::new("dense batter", 0.85, (0.8, 0.9), BATTERS),
    Substance::new("melted batter", 1.05, (1.0, 1.1), BATTERS),
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

    /// Of something by its name, or by a word that only one such name has.
    ///
    /// # Errors
    /// If it is none of [`SUBSTANCES`], or may be several.
    pub fn of(name: &str) -> Result<Self, ConvertError> {
        let name = name.trim().to_lowercase();
        let whole = SUBSTANCES.into_iter().find(|s| s.name == name);
        let has_word = |s: &Substance| s.name.split(' ').any(|word| word == name);
        let mut by_word = SUBSTANCES.into_iter().filter(has_word);
        let only = by_word.next().filter(|_| by_word.next().is_none());
        let found = whole.or(only);
        let of = found.ok_or_else(|| ConvertError::NeedsDensity { substances: names() })?;
        Ok(Self { grams_per_ml: of.density, of: Some(of) })
    }
}

/// What may be named.
pub(super) fn names() -> String {
    SUBSTANCES.map(|s| s.name).join(", ")
}
