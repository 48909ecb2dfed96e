//! What is to be reviewed of a recipe, put together for whoever looks through it:
//! what stood elsewhere, and what was made of it.

use std::collections::BTreeSet;

use serde_json::Value;

use super::ingredients;
use super::nodes::{Addresses, Node};
use super::read::ingredients_of;
use super::suggested::quoted;
use crate::file::format::{RecipeShape, ReviewedShape as About, StepKindShape, StepShape};

/// A part of a recipe of which something is to be reviewed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// Which.
    pub about: About,
    /// What stood elsewhere, where that is the same for all of it; else empty.
    pub text: String,
    /// What is to be reviewed, by its place in the recipe's `review`.
    pub entries: Vec<usize>,
    /// The ingredients made of it, by their places.
    pub ingredients: Vec<usize>,
    /// The steps made of it: method and step, by their places.
    pub steps: Vec<(usize, usize)>,
}

/// The order in which parts are looked through: as a recipe is told.
const ORDER: [About; 7] = [
    About::Name,
    About::Ingredient,
    About::Roles,
    About::Step,
    About::Minutes,
    About::Tin,
    About::Recipe,
];

/// What is to be reviewed, in the order in which a recipe is told. Each ingredient
/// and each step belongs to one block at most, those of [`About::Roles`] apart, which
/// stands for what all ingredients do.
pub fn blocks(recipe: &RecipeShape) -> Vec<Block> {
    let mut all: Vec<Block> = Vec::new();
    for about in ORDER {
        for (i, of) in recipe.review.iter().enumerate().filter(|(_, of)| of.about == about) {
            let has_own = matches!(about, About::Ingredient | About::Step);
            let text = if has_own { of.text.as_str() } else { "" };
            match all.iter_mut().find(|block| block.about == about && block.text == text) {
                Some(block) => block.entries.push(i),
                None => all.push(Block {
                    about,
                    text: text.to_owned(),
                    entries: vec![i],
                    ingredients: Vec::new(),
                    steps: Vec::new(),
                }),
            }
        }
    }
    let stood = lines_that_stood(recipe);
    let mut steps_shown = BTreeSet::new();
    for block in &mut all {
        match block.about {
            About::Ingredient if !block.text.is_empty() => {
                block.ingredients = made_of(recipe, &stood, &block.text);
            }
            About::Roles => block.ingredients = (0..recipe.ingredients.len()).collect(),
            About::Step if !block.text.is_empty() => {
                block.steps = steps(recipe, |step| quoted(&step.words) == block.text);
                steps_shown.extend(block.steps.iter().copied());
            }
            About::Minutes => {
                block.steps = steps(recipe, is_without_minutes);
                block.steps.retain(|step| !steps_shown.contains(step));
            }
            _ => {}
        }
    }
    // Parts that are told by steps are looked through in the order of the steps.
    let place = |block: &Block| ORDER.iter().position(|about| *about == block.about);
    all.sort_by_key(|block| (place(block), block.steps.first().copied()));
    all
}

/// Whether nobody has said how long a step takes that takes so long by itself.
pub fn is_without_minutes(step: &StepShape) -> bool {
    step.minutes.is_none() && matches!(step.kind, StepKindShape::Hand | StepKindShape::Wait)
}

fn steps(recipe: &RecipeShape, is_it: impl Fn(&StepShape) -> bool) -> Vec<(usize, usize)> {
    let methods = recipe.methods.iter().enumerate();
    let all =
        methods.flat_map(|(m, of)| of.steps.iter().enumerate().map(move |(s, of)| (m, s, of)));
    all.filter(|(_, _, step)| is_it(step)).map(|(m, s, _)| (m, s)).collect()
}

/// The lines of ingredients as they stood elsewhere, each with the name it was read
/// to have.
fn lines_that_stood(recipe: &RecipeShape) -> Vec<(String, String)> {
    let kept: Option<Node> =
        recipe.jsonld.as_deref().and_then(|text| serde_json::from_str(text).ok());
    let none = Addresses::default();
    let told = kept.as_ref().and_then(ingredients_of).filter(|told| !Value::is_null(told));
    let lines = told.map(|told| ingredients::lines(told, &none).0).unwrap_or_default();
    lines.into_iter().map(|line| (quoted(&line.text), line.name)).collect()
}

/// The ingredients that a line became: those at its place as long as none was added
/// or taken out, else those that still have its name.
fn made_of(recipe: &RecipeShape, stood: &[(String, String)], text: &str) -> Vec<usize> {
    let all = &recipe.ingredients;
    if stood.len() == all.len() {
        return (0..all.len()).filter(|&i| stood[i].0 == text).collect();
    }
    let is_named = |name: &String| stood.iter().any(|(line, of)| line == text && of == name);
    (0..all.len()).filter(|&i| is_named(&all[i].name)).collect()
}

/// Fields that are kept beside a recipe and say nothing of what was made of it, by
/// name.
pub fn kept(recipe: &RecipeShape) -> Vec<String> {
    let kept: Option<Node> =
        recipe.jsonld.as_deref().and_then(|text| serde_json::from_str(text).ok());
    let made = ["recipeIngredient", "ingredients", "recipeInstructions"];
    let besides = |field: &String| !field.starts_with('@') && !made.contains(&field.as_str());
    kept.into_iter()
        .flat_map(|node| node.into_iter().map(|(field, _)| field))
        .filter(besides)
        .collect()
}
