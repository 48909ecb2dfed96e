//! Recipes: ours by themselves, and those of other programs and pages.

use ovenbell::file::format::RecipeShape;
use ovenbell::file::library::lesson_of;
use ovenbell::file::{lesson_or_findings, load_recipe, read_recipe, write_recipe};
use ovenbell::interchange::review::{blocks, kept};
use ovenbell::interchange::{Source, Wanted, read, told, write};

use super::{can_be_told, or_told};
use crate::input::Input;

/// A recipe of ours.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let read = match input.text() {
        Some(text) => read_recipe(text),
        None => load_recipe(&input.written("recipe.ron")),
    };
    let Some(recipe) = or_told(read) else { return false };
    goes_on(&recipe, input);
    true
}

/// JSON-LD, or a page that carries a recipe.
pub fn from_elsewhere(input: &Input<'_>) -> bool {
    let source = match input.text() {
        Some(text) => Source::of(text),
        None => Source::load(&input.written("recipe.html")),
    };
    let Some(source) = or_told(source) else { return false };
    let wanted = if source.names().len() > 1 { Wanted::At(1) } else { Wanted::Only };
    let Some(read) = or_told(source.read(wanted)) else { return false };
    read.warnings.iter().for_each(can_be_told);
    let json = told::json(&read, None).unwrap();
    serde_json::from_str::<serde_json::Value>(&json).unwrap();
    assert!(!told::text(&read).is_empty());
    goes_on(&read.recipe, input);
    true
}

/// It is looked through and, one in so many, put into a lesson, kept as a file of ours,
/// written for other programs, and read back from both.
fn goes_on(recipe: &RecipeShape, input: &Input<'_>) {
    let reviewed: usize = blocks(recipe).iter().map(|b| b.entries.len()).sum();
    assert!(reviewed <= recipe.review.len());
    let _ = kept(recipe);
    if input.is_one_in(16) {
        let (_, findings) = lesson_or_findings(&lesson_of(recipe.clone()).unwrap(), &[]);
        findings.iter().for_each(can_be_told);
    }
    if !input.is_one_in(4) {
        return;
    }
    let text = write_recipe(recipe).unwrap();
    // Compared as written: a figure that is none is never the same as itself.
    let again = read_recipe(&text).unwrap_or_else(|f| panic!("{f:?}\n{text}"));
    assert_eq!(write_recipe(&again).unwrap(), text);
    match write(recipe) {
        Ok(text) => {
            let again = read(&text, None).unwrap_or_else(|f| panic!("{f:?}\n{text}"));
            assert_eq!(again.recipe.name, recipe.name, "{text}");
            assert_eq!(again.recipe.ingredients.len(), recipe.ingredients.len(), "{text}");
        }
        Err(finding) => can_be_told(&finding),
    }
}
