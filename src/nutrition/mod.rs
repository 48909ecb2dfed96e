//! What a batch and a portion of a recipe hold: energy, fat, carbohydrate and
//! so on, by a table of foods. Working figures for lessons: never a label, and
//! no advice on health.

mod foods;
mod loss;
mod sums;
pub mod told;

pub use foods::{Food, Foods, TableError};
pub use loss::{Loss, LossFrom};
pub use sums::{NUTRIENTS, Nutrient, Sum};

use thiserror::Error;

/// Most portions of a batch.
pub const MOST_PORTIONS: f64 = 1000.0;

/// An ingredient and its weight in one batch; `None` where nobody has said it.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Grams.
    pub grams: Option<f64>,
    /// It was measured by spoons or cups, whose weight is that of as much water.
    pub by_volume: bool,
}

/// An ingredient as a food of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// The ingredient.
    pub part: Part,
    /// The food.
    pub food: Food,
}

/// Portions of a batch, and where their number comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portions {
    /// How many; parts of one if a tin takes more than a batch.
    pub count: f64,
    /// They were entered; else each hole of the recipe's first tin is one.
    pub entered: bool,
}

/// What a recipe holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// The recipe's name.
    pub recipe: String,
    /// Weight of a batch before the oven, grams, without peel and cores that were
    /// weighed.
    pub raw_grams: f64,
    /// Weight after it, grams.
    pub baked_grams: f64,
    /// What it loses in the oven.
    pub loss: Loss,
    /// How many portions a batch is, if that is known.
    pub portions: Option<Portions>,
    /// Ingredients, each as the food it is taken for.
    pub taken: Vec<Taken>,
    /// Ingredients that the table has not, or of which nobody said how much.
    pub missing: Vec<Part>,
    /// What a batch holds, in the order of [`NUTRIENTS`].
    pub batch: Vec<Sum>,
}

/// Why nothing can be worked out.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NotWorked {
    /// No ingredient has a weight.
    #[error("{0} has no ingredients whose weight is known")]
    NoWeight(String),
    /// The program was built with a broken table.
    #[error(transparent)]
    Table(#[from] TableError),
}

/// Works out what a recipe holds.
///
/// # Errors
/// If none of its ingredients has a weight.
pub fn work_out(
    recipe: &str,
    parts: &[Part],
    loss: Loss,
    portions: Option<Portions>,
) -> Result<Worked, NotWorked> {
    let table = Foods::of_table()?;
    let (mut taken, mut missing) = (Vec::new(), Vec::new());
    for part in parts {
        match table.of(&part.name).filter(|_| part.grams.is_some()) {
            Some(food) => taken.push(Taken { part: part.clone(), food: food.clone() }),
            None => missing.push(part.clone()),
        }
    }
    let of_taken = taken.iter().filter_map(|t| Some(t.part.grams? * t.food.edible));
    let raw_grams = of_taken.chain(missing.iter().filter_map(|p| p.grams)).sum::<f64>();
    if raw_grams <= 0.0 {
        return Err(NotWorked::NoWeight(recipe.to_owned()));
    }
    let foods = taken.iter().map(|t| (&t.food, t.part.grams.unwrap_or(0.0)));
    let batch = sums::of_all(foods, !missing.is_empty());
    let baked_grams = raw_grams * (1.0 - loss.percent / 100.0);
    Ok(Worked {
        recipe: recipe.to_owned(),
        raw_grams,
        baked_grams,
        loss,
        portions,
        taken,
        missing,
        batch,
    })
}

impl Worked {
    /// The share of a batch's weight that is of ingredients the table has not.
    pub fn missing_share(&self) -> f64 {
        self.missing.iter().filter_map(|p| p.grams).sum::<f64>() / self.raw_grams
    }

    /// In 100 g as it is eaten.
    pub fn per_100_g(&self) -> Vec<Sum> {
        self.batch.iter().map(|sum| sum.times(100.0 / self.baked_grams)).collect()
    }

    /// In a portion, if the number of portions is known.
    pub fn per_portion(&self) -> Option<Vec<Sum>> {
        let portions = self.portions?;
        Some(self.batch.iter().map(|sum| sum.times(1.0 / portions.count)).collect())
    }
}
