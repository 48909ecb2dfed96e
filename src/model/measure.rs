//! Kitchen measures and gas marks.

use std::fmt;

use super::eggs::MEDIUM_EGG_GRAMS;

/// Grams in an avoirdupois pound, exactly: NIST SP 811, appendix B.
pub const POUND_GRAMS: f64 = 453.592_37;
/// Grams in an avoirdupois ounce, exactly: a sixteenth of a pound.
pub const OUNCE_GRAMS: f64 = POUND_GRAMS / 16.0;
/// Millilitres in a US gallon, exactly: 231 cubic inches (NIST SP 811,
/// appendix B).
pub const US_GALLON_ML: f64 = 3_785.411_784;
/// Millilitres in a US customary cup, exactly: a sixteenth of a gallon.
pub const US_CUP_ML: f64 = US_GALLON_ML / 16.0;
/// Millilitres in a metric tablespoon.
pub const METRIC_TABLESPOON_ML: f64 = 15.0;
/// Millilitres in a metric teaspoon.
pub const METRIC_TEASPOON_ML: f64 = 5.0;

/// A measure an ingredient may be given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Grams.
    Gram,
    /// Kilograms.
    Kilogram,
    /// Avoirdupois ounces.
    Ounce,
    /// Avoirdupois pounds.
    Pound,
    /// Millilitres.
    Millilitre,
    /// Litres.
    Litre,
    /// Metric teaspoons of 5 ml.
    Teaspoon,
    /// Metric tablespoons of 15 ml.
    Tablespoon,
    /// US customary cups.
    UsCup,
    /// Eggs, size medium.
    Egg,
}

/// The amount that one of a measure is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A weight in grams.
    Grams(f64),
    /// A volume in millilitres; its weight depends on what it is.
    Millilitres(f64),
}

impl Measure {
    /// The amount that one of it is.
    pub fn one(self) -> Amount {
        match self {
            Measure::Gram => Amount::Grams(1.0),
            Measure::Kilogram => Amount::Grams(1000.0),
            Measure::Ounce => Amount::Grams(OUNCE_GRAMS),
            Measure::Pound => Amount::Grams(POUND_GRAMS),
            Measure::Millilitre => Amount::Millilitres(1.0),
            Measure::Litre => Amount::Millilitres(1000.0),
            Measure::Teaspoon => Amount::Millilitres(METRIC_TEASPOON_ML),
            Measure::Tablespoon => Amount::Millilitres(METRIC_TABLESPOON_ML),
            Measure::UsCup => Amount::Millilitres(US_CUP_ML),
            Measure::Egg => Amount::Grams(MEDIUM_EGG_GRAMS),
        }
    }

    /// Weight in grams of `amount` of it. A volume is taken as water, which
    /// is near enough for milk and juice; weigh anything else.
    pub fn grams(self, amount: f64) -> f64 {
        match self.one() {
            Amount::Grams(one) | Amount::Millilitres(one) => amount * one,
        }
    }
}

/// A gas mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasMark {
    /// The mark; ½ is 0.5.
    pub mark: f64,
    /// The customary temperature in °C.
    pub celsius: f64,
    /// The range of published tables, where they differ.
    pub range: (f64, f64),
}

impl GasMark {
    /// Customary UK table. Published tables differ for ½ (120 to 130) and 3
    /// (160 to 170).
    pub const TABLE: [GasMark; 10] = [
        GasMark { mark: 0.5, celsius: 130.0, range: (120.0, 130.0) },
        GasMark { mark: 1.0, celsius: 140.0, range: (140.0, 140.0) },
        GasMark { mark: 2.0, celsius: 150.0, range: (150.0, 150.0) },
        GasMark { mark: 3.0, celsius: 165.0, range: (160.0, 170.0) },
        GasMark { mark: 4.0, celsius: 180.0, range: (180.0, 180.0) },
        GasMark { mark: 5.0, celsius: 190.0, range: (190.0, 190.0) },
        GasMark { mark: 6.0, celsius: 200.0, range: (200.0, 200.0) },
        GasMark { mark: 7.0, celsius: 220.0, range: (220.0, 220.0) },
        GasMark { mark: 8.0, celsius: 230.0, range: (230.0, 230.0) },
        GasMark { mark: 9.0, celsius: 240.0, range: (240.0, 240.0) },
    ];

    /// The mark nearest to a temperature; of two equally near the hotter, as
    /// tables have 1 for 275 °F (135 °C).
    pub fn nearest(celsius: f64) -> GasMark {
        let far = |m: &GasMark| (m.celsius - celsius).abs();
        Self::TABLE
            .into_iter()
            .rev()
            .min_by(|a, b| far(a).total_cmp(&far(b)))
            .unwrap_or(Self::TABLE[4])
    }
}

impl fmt::Display for GasMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.mark < 1.0 { f.write_str("½") } else { write!(f, "{}", self.mark) }
    }
}
