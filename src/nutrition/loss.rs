//! What a bake loses in the oven, which is water: nothing of what is worked
//! out here goes with it, but 100 g of the bake hold more than 100 g of the
//! mixture.

use std::fmt;

/// Percent of its weight that a cake loses, the middle of 8 to 12 (common
/// practice of the trade).
const OF_CAKES: f64 = 10.0;
/// The same of bread rolls, 12 to 14.
const OF_ROLLS: f64 = 13.0;

/// Where the figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LossFrom {
    /// It was entered.
    Entered,
    /// Assumed, as for a cake.
    Cake,
    /// Assumed, as for what is raised with yeast.
    Yeast,
    /// It is not baked.
    NotBaked,
}

/// What a bake loses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Percent of the weight before the oven.
    pub percent: f64,
    /// Where that comes from.
    pub from: LossFrom,
}

impl Loss {
    /// Most that may be entered, percent.
    pub const MOST: f64 = 60.0;

    /// The loss that was entered, in percent.
    pub fn entered(percent: f64) -> Self {
        Self { percent, from: LossFrom::Entered }
    }

    /// What is assumed of a recipe, by its ingredients' names.
    pub fn assumed<'a>(is_baked: bool, mut ingredients: impl Iterator<Item = &'a str>) -> Self {
        if !is_baked {
            return Self { percent: 0.0, from: LossFrom::NotBaked };
        }
        if ingredients.any(|name| name.to_lowercase().contains("yeast")) {
            return Self { percent: OF_ROLLS, from: LossFrom::Yeast };
        }
        Self { percent: OF_CAKES, from: LossFrom::Cake }
    }
}

impl fmt::Display for LossFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            LossFrom::Entered => "entered",
            LossFrom::Cake => "assumed, as cakes lose 8 to 12 %",
            LossFrom::Yeast => "assumed, as rolls lose 12 to 14 %",
            LossFrom::NotBaked => "not baked",
        })
    }
}
