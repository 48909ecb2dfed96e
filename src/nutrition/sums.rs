//! What amounts of foods come to.

use super::foods::{Figures, Food};

/// Grams of monosaccharide that a gram of starch is told as, since it is told
/// as what it is broken down to: the dataset's own convention.
const OF_STARCH: f64 = 1.10;
/// The same of sucrose, maltose and lactose: white sugar is told as 105 g in
/// 100 g.
const OF_DOUBLES: f64 = 1.05;

/// A thing that is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nutrient {
    /// Its name, as programs know it.
    pub name: &'static str,
    /// As it is written for people, indented where it is a part of the one
    /// before.
    pub words: &'static str,
    /// Its unit.
    pub unit: &'static str,
}

const fn nutrient(name: &'static str, words: &'static str, unit: &'static str) -> Nutrient {
    Nutrient { name, words, unit }
}

/// Everything that is worked out, in its order.
pub const NUTRIENTS: [Nutrient; 8] = [
    nutrient("energy_kj", "energy", "kJ"),
    nutrient("energy_kcal", "energy", "kcal"),
    nutrient("fat", "fat", "g"),
    nutrient("saturates", "  of which saturates", "g"),
    nutrient("carbohydrate", "carbohydrate", "g"),
    nutrient("sugars", "  of which sugars", "g"),
    nutrient("fibre", "fibre", "g"),
    nutrient("protein", "protein", "g"),
];

/// How much of it there is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sum {
    /// In its unit; carbohydrate and sugars as what they weigh.
    pub amount: f64,
    /// Some of it is not counted, as the table does not know it or has not the
    /// food.
    pub at_least: bool,
}

impl Sum {
    /// So many times as much.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { amount: self.amount * factor, ..self }
    }
}

/// Sugars as what they weigh.
fn sugars(of: &Figures) -> Option<f64> {
    let all = of.sugars?;
    let doubles = of.doubles.unwrap_or(all).min(all);
    Some(all - doubles + doubles / OF_DOUBLES)
}

/// Carbohydrate as what it weighs: the sugars, and what is not sugar as starch.
fn carbohydrate(of: &Figures) -> Option<f64> {
    let all = of.carbohydrate?;
    match (of.sugars, of.starch) {
        (Some(told), _) => Some(sugars(of)? + (all - told).max(0.0) / OF_STARCH),
        (None, Some(starch)) => Some(starch / OF_STARCH + (all - starch).max(0.0) / OF_DOUBLES),
        (None, None) => None,
    }
}

/// What 100 g hold, in the order of [`NUTRIENTS`].
fn of_food(food: &Food) -> [Option<f64>; 8] {
    let of = &food.per_100_g;
    let (carbohydrate, sugars) = (carbohydrate(of), sugars(of));
    [of.kj, of.kcal, of.fat, of.saturates, carbohydrate, sugars, of.fibre, of.protein]
}

/// What so many grams of each food hold together.
pub(super) fn of_all<'a>(
    foods: impl Iterator<Item = (&'a Food, f64)>,
    some_missing: bool,
) -> Vec<Sum> {
    let mut sums = vec![Sum { amount: 0.0, at_least: some_missing }; NUTRIENTS.len()];
    for (food, grams) in foods {
        for (sum, per_100_g) in sums.iter_mut().zip(of_food(food)) {
            match per_100_g {
                Some(figure) => sum.amount += figure * grams / 100.0,
                None => sum.at_least = true,
            }
        }
    }
    sums
}
