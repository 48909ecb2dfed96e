//! What may stand in for an ingredient: what that ingredient does in a mixture, what
//! else does it, and what comes of it: for the balance, the minutes, and what is known
//! of labels.
//!
//! None of it is advice for an allergy: what comes in is another thing with a label of
//! its own, which nobody has read. Figures are here, words in [`words`].

mod comes_to;
mod jobs;
mod put_in;
mod table;
pub mod words;

pub use comes_to::{ComesTo, Part};
pub use jobs::{Job, jobs};
pub use put_in::PutIn;
pub use table::{Goes, Swap, TABLE};

use crate::file::format::{IngredientShape, LessonFile, MeasureShape};
use crate::model::Measure;
use crate::setup::balance::weigh;

/// Something that may stand in for an ingredient of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Substitution {
    /// Which of the table.
    pub swap: &'static Swap,
    /// What goes in, as it would stand in the recipe.
    pub goes_in: Vec<IngredientShape>,
    /// What comes of it.
    pub comes_to: ComesTo,
}

/// What may stand in for an ingredient of a recipe of a lesson, both by their places;
/// nothing where the table knows none for such a mixture, or nobody said how much of
/// the ingredient there is.
pub fn substitutions(file: &LessonFile, recipe: usize, ingredient: usize) -> Vec<Substitution> {
    let Some(of) = file.recipes.get(recipe) else { return Vec::new() };
    let Some(old) = of.ingredients.get(ingredient).filter(|old| old.amount > 0.0) else {
        return Vec::new();
    };
    let family = weigh(&of.ingredients, None).family;
    let fits = |swap: &&'static Swap| swap.is_of(&old.name) && swap.is_for(family);
    let made = |swap: &'static Swap| {
        let change = PutIn { recipe, ingredient: &old.name, swap };
        let comes_to = ComesTo::of(file, &change)?;
        Some(Substitution { swap, goes_in: goes_in(swap, old), comes_to })
    };
    TABLE.iter().filter(fits).filter_map(made).collect()
}

/// What goes in for so much of an ingredient.
fn goes_in(swap: &Swap, old: &IngredientShape) -> Vec<IngredientShape> {
    let measure = old.unit.map_or(Measure::Gram, Measure::from);
    let grams = measure.grams(old.amount);
    let one = |goes: &Goes| match *goes {
        Goes::LessOfIt(part) => {
            IngredientShape { amount: weighable(old.amount * part), ..old.clone() }
        }
        Goes::In { name, role, each, unit } => IngredientShape {
            name: name.to_owned(),
            amount: weighable(grams * each),
            unit: Some(unit).filter(|unit| *unit != MeasureShape::Gram),
            role: Some(role),
            allergens: None,
        },
    };
    swap.goes_in.iter().map(one).collect()
}

/// Whole from ten on, in tenths below: as scales and jugs show it.
fn weighable(amount: f64) -> f64 {
    if amount >= 10.0 { amount.round() } else { ((amount * 10.0).round() / 10.0).max(0.1) }
}
