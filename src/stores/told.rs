//! Amounts as they are written on a list: grams without decimals where scales
//! have none, eggs whole, spoons beside a few grams.

use super::spoons::level_spoons;
use crate::model::{Ingredient, MEDIUM_EGG_GRAMS, Measure};
use crate::units::plain_number;

/// An amount for one set: "75 g", "4 g or 1 level tsp", "1½ eggs: beat,
/// weigh 75 g".
pub fn for_a_set(ingredient: &Ingredient, amount: f64) -> String {
    if ingredient.measure == Measure::Egg {
        let eggs = counted(amount, "egg");
        if (amount - amount.round()).abs() < 1e-9 {
            return eggs;
        }
        let grams = rounded(amount * MEDIUM_EGG_GRAMS);
        return format!("{eggs}: beat, weigh {grams} g");
    }
    let told = measured(ingredient.measure, amount);
    match (ingredient.measure, level_spoons(&ingredient.name, amount)) {
        (Measure::Gram, Some(spoons)) => format!("{told} or {spoons}"),
        _ => told,
    }
}

/// What of an amount is weighed out: as it is told of a set. Eggs are beaten and shared
/// as they are; what is too little to be told stays what it is.
pub(super) fn as_weighed(measure: Measure, amount: f64) -> f64 {
    let weighed = match measure {
        Measure::Egg => amount,
        Measure::Gram | Measure::Millilitre => as_scales_show(amount),
        _ => (amount * 100.0).round() / 100.0,
    };
    if weighed > 0.0 { weighed } else { amount }
}

/// An amount to order or fetch: eggs whole, of grams the sum of what is weighed out,
/// which has a decimal at most; what has more is rounded up.
pub fn in_all(ingredient: &Ingredient, total: f64) -> String {
    in_all_of(ingredient.measure, total)
}

/// The same by its measure alone.
pub fn in_all_of(measure: Measure, total: f64) -> String {
    let up = |amount: f64| (amount - 1e-9).ceil();
    match measure {
        Measure::Egg => counted(up(total), "egg"),
        Measure::Gram | Measure::Millilitre => {
            format!("{} {}", plain_number(up(total * 10.0) / 10.0), unit(measure))
        }
        other => measured(other, total),
    }
}

/// A thing in an egg's halves and quarters is told in figures.
fn counted(amount: f64, thing: &str) -> String {
    let one = (amount - 1.0).abs() < 1e-9;
    format!("{} {thing}{}", plain_number(amount), if one { "" } else { "s" })
}

/// The short name of a measure.
pub fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Gram => "g",
        Measure::Millilitre => "ml",
        Measure::Kilogram => "kg",
        Measure::Litre => "l",
        Measure::Ounce => "oz",
        Measure::Pound => "lb",
        Measure::Teaspoon => "tsp",
        Measure::Tablespoon => "tbsp",
        Measure::UsCup => "US cups",
        Measure::Egg => "eggs",
    }
}

/// An amount as it is: whole where scales have no decimals, not rounded up.
pub fn measured(measure: Measure, amount: f64) -> String {
    match measure {
        Measure::Gram | Measure::Millilitre => format!("{} {}", rounded(amount), unit(measure)),
        Measure::Egg => counted(amount, "egg"),
        _ => format!("{} {}", plain_number(amount), unit(measure)),
    }
}

/// Whole from ten on, with one decimal below.
fn rounded(amount: f64) -> String {
    plain_number(as_scales_show(amount))
}

fn as_scales_show(amount: f64) -> f64 {
    if amount >= 10.0 { amount.round() } else { (amount * 10.0).round() / 10.0 }
}
