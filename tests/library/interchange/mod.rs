//! Recipes read from elsewhere and written for others: every amount right or
//! marked, nothing lost on the way out and in.

mod broken;
mod forms;
mod lines;
mod microdata;
mod review;
mod round;
mod schema_org;

use ovenbell::file::format::{MeasureShape, RecipeShape};
use ovenbell::interchange::{Read, read};
use serde_json::Value;

/// The recipe of a document.
fn of(document: &Value) -> Read {
    of_text(&document.to_string())
}

fn of_text(text: &str) -> Read {
    read(text, None).unwrap_or_else(|findings| panic!("{text}: {findings:?}"))
}

/// Name, amount and measure of each ingredient.
fn amounts(recipe: &RecipeShape) -> Vec<(&str, f64, Option<MeasureShape>)> {
    recipe.ingredients.iter().map(|i| (i.name.as_str(), i.amount, i.unit)).collect()
}

/// The words of each step of the only method.
fn steps(recipe: &RecipeShape) -> Vec<&str> {
    recipe.methods[0].steps.iter().map(|s| s.words.as_str()).collect()
}

/// Whether something is marked for review with these words in its why.
fn is_marked(recipe: &RecipeShape, why: &str) -> bool {
    recipe.review.iter().any(|of| of.why.contains(why))
}
