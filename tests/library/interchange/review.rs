//! What is to be reviewed of a recipe belongs to what was made of it.

use serde_json::json;

use super::of;
use ovenbell::file::format::ReviewedShape as About;
use ovenbell::interchange::review::{Block, blocks, kept};

#[test]
fn each_doubt_stands_with_what_was_made_of_its_words() {
    let read = of(&json!({"@type": "Recipe", "name": "Buns", "author": "K. T.",
        "recipeIngredient": ["100g/6oz flour", "sugar, 50 g", "2–3 eggs", "a pinch of salt"],
        "recipeInstructions": ["Mix all.", "Prove for 20 to 30 minutes.",
            "Bake at 180C in a 12-hole bun tray for 14 minutes."]}));
    let mut recipe = read.recipe;
    let all = blocks(&recipe);
    let of_text = |all: &[Block], text: &str| {
        let found = all.iter().find(|of| of.text == text).unwrap();
        (found.ingredients.clone(), found.steps.clone())
    };
    assert_eq!(of_text(&all, "100g/6oz flour").0, [0]);
    assert_eq!(of_text(&all, "2–3 eggs").0, [2]);
    assert_eq!(of_text(&all, "a pinch of salt").0, [3]);
    assert!(all.iter().all(|of| of.text != "sugar, 50 g"), "nothing is unsure of it");
    assert_eq!(of_text(&all, "Prove for 20 to 30 minutes.").1, [(0, 1)]);
    let minutes = all.iter().find(|of| of.about == About::Minutes).unwrap();
    assert_eq!(minutes.steps, [(0, 0)], "the one step without minutes");
    assert!(all.iter().any(|of| of.about == About::Tin));
    // Every entry stands somewhere, once.
    let mut entries: Vec<usize> = blocks(&recipe).into_iter().flat_map(|b| b.entries).collect();
    entries.sort_unstable();
    assert_eq!(entries, (0..recipe.review.len()).collect::<Vec<usize>>());
    let told: Vec<(usize, usize)> = blocks(&recipe)
        .into_iter()
        .filter(|block| block.about == About::Step)
        .flat_map(|block| block.steps)
        .collect();
    assert_eq!(told, [(0, 1), (0, 2)], "in the order of the recipe");
    assert_eq!(kept(&recipe), ["author"]);
    // A name put right is still what was made of its line, and a line taken out makes
    // no other its own.
    recipe.ingredients[0].name = "strong flour".to_owned();
    assert_eq!(of_text(&blocks(&recipe), "100g/6oz flour").0, [0]);
    recipe.ingredients.remove(1);
    assert_eq!(of_text(&blocks(&recipe), "2–3 eggs").0, [1]);
    assert_eq!(of_text(&blocks(&recipe), "a pinch of salt").0, [2]);
    assert!(of_text(&blocks(&recipe), "100g/6oz flour").0.is_empty());
}
