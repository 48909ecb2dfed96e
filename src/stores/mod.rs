//! What a class needs of every ingredient: sets of each recipe by the share of
//! a batch that its tins take, sets for a demo, spare sets, and the total.
//!
//! A portion is as it is weighed out and told ([`told`]), and a total is the sum of its
//! portions: eight times 133 g and once 200 g are 1264 g, and that is enough for them.

pub mod labels;
mod order;
mod page;
mod sets;
pub mod spoons;
pub mod told;

pub use order::{Cost, OrderLine, Packs, by_supplier, cost, is_bought, made_for, order};
pub use page::{IngredientRow, IngredientsPage, PageOf, RecipeRow, UnitNeed};
pub use sets::{Extra, MadeFor, Sets};

use crate::check::CheckedPlan;
use crate::model::{Ingredient, Lesson, Measure, RecipeId};

/// What a class needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Stores {
    /// By recipe, in the lesson's order; those nobody makes are left out.
    pub recipes: Vec<RecipeStores>,
}

/// What one recipe takes.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeStores {
    /// Which.
    pub recipe: RecipeId,
    /// Sets to put out, those kept apart first, then by share of a batch; demo
    /// and spare sets last.
    pub sets: Vec<Sets>,
    /// By ingredient, in the recipe's order.
    pub amounts: Vec<Amount>,
}

/// How much of an ingredient is needed, in its recipe's own measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// Its place in the recipe's list.
    pub ingredient: usize,
    /// In one set as it is weighed out, by [`RecipeStores::sets`].
    pub each: Vec<f64>,
    /// In all of them.
    pub total: f64,
}

impl Stores {
    /// What a lesson's groups need that take part, with so many sets more of
    /// each recipe. A group has the tin that the plan gives it; without a plan,
    /// or if the plan does not serve it, its first: it is better to have a set
    /// too many.
    pub fn of(lesson: &Lesson, plan: Option<&CheckedPlan>, extra: Extra) -> Self {
        let recipes = (0..lesson.recipes.len()).map(RecipeId);
        let stores = recipes.filter_map(|recipe| {
            let sets = sets::sets(lesson, plan, recipe, extra);
            (!sets.is_empty()).then(|| RecipeStores {
                recipe,
                amounts: amounts(&lesson.recipes[recipe.0].ingredients, &sets),
                sets,
            })
        });
        Self { recipes: stores.collect() }
    }
}

fn amounts(ingredients: &[Ingredient], sets: &[Sets]) -> Vec<Amount> {
    let of = |(i, ingredient): (usize, &Ingredient)| {
        let weighed =
            |set: &Sets| told::as_weighed(ingredient.measure, set.factor * ingredient.amount);
        let each: Vec<f64> = sets.iter().map(weighed).collect();
        let total = each.iter().zip(sets).map(|(each, s)| each * f64::from(s.count)).sum();
        Amount { ingredient: i, each, total }
    };
    ingredients.iter().enumerate().map(of).collect()
}

impl Amount {
    /// Eggs to order, if it is eggs: whole ones, a part of one being an egg
    /// beaten and shared.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` keeps to the range
    pub fn whole_eggs(&self, measure: Measure) -> Option<u32> {
        // Forgives binary dust: 5 × 0.6 eggs are 3.
        (measure == Measure::Egg).then(|| (self.total - 1e-9).ceil().max(0.0) as u32)
    }
}
