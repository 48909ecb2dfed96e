//! What comes of a substitution.

use super::PutIn;
use super::put_in::same;
use crate::edit::FileChange;
use crate::file::format::{IngredientShape, LessonFile, RecipeShape};
use crate::setup::balance::{Family, HowUsual, Weighed, weigh};

/// Parts to 100 of flour that are told when they change by as much: less is within
/// what scales and spoons do.
const TOLD: f64 = 0.5;

/// A part of the mixture, to 100 of flour, that is another then.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// What it is: "fat".
    pub what: &'static str,
    /// As it is.
    pub before: f64,
    /// As it would be.
    pub after: f64,
}

/// What comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ComesTo {
    /// Parts of the mixture that change; none without flour.
    pub parts: Vec<Part>,
    /// What the mixture is nearest to, as it is and as it would be.
    pub family: (Option<Family>, Option<Family>),
    /// What is not usual then and was before, in the rules' words.
    pub unusual: Vec<String>,
    /// What goes in whose label nobody has read.
    pub not_read: Vec<String>,
    /// Groups that make it and have needs, by name.
    pub concerns: Vec<String>,
    /// Steps that speak of the ingredient, by name.
    pub steps: Vec<String>,
}

impl ComesTo {
    /// Of a substitution in a lesson; `None` if it cannot be made.
    pub(super) fn of(file: &LessonFile, change: &PutIn<'_>) -> Option<Self> {
        let before = file.recipes.get(change.recipe)?;
        let made = change.made(file).ok()?;
        let after = made.recipes.get(change.recipe)?;
        let (was, is) = (weigh(&before.ingredients, None), weigh(&after.ingredients, None));
        let is_new = |of: &&IngredientShape| !before.ingredients.contains(*of);
        let is_read = |name: &str| {
            file.packets.iter().any(|packet| same(&packet.of, name) && packet.names.is_some())
        };
        let makes = |recipe: &String| same(recipe, &before.name);
        Some(Self {
            parts: parts(&was, &is),
            family: (was.family, is.family),
            unusual: unusual(&is).filter(|of| unusual(&was).all(|w| w != *of)).cloned().collect(),
            not_read: after
                .ingredients
                .iter()
                .filter(is_new)
                .map(|of| of.name.clone())
                .filter(|name| !same(name, change.ingredient) && !is_read(name))
                .collect(),
            concerns: file
                .groups
                .iter()
                .filter(|group| makes(&group.recipe) && !group.needs.is_empty())
                .map(|group| group.name.clone())
                .collect(),
            steps: steps(before, change.ingredient),
        })
    }
}

fn parts(was: &Weighed, is: &Weighed) -> Vec<Part> {
    let (Some(was), Some(is)) = (was.parts, is.parts) else { return Vec::new() };
    let all = [
        ("fat", was.fat, is.fat),
        ("sugar", was.sugar, is.sugar),
        ("syrup", was.syrup, is.syrup),
        ("egg", was.egg, is.egg),
        ("liquid", was.liquid, is.liquid),
        ("raising agent", was.raising, is.raising),
    ];
    let parts = all.into_iter().map(|(what, before, after)| Part { what, before, after });
    parts.filter(|part| (part.after - part.before).abs() >= TOLD).collect()
}

fn unusual(of: &Weighed) -> impl Iterator<Item = &String> {
    of.rules.iter().filter(|r| r.standing == HowUsual::Unusual).map(|r| &r.words)
}

/// Steps that speak of the ingredient, by the last word of its name: "eggs", "flour".
fn steps(recipe: &RecipeShape, ingredient: &str) -> Vec<String> {
    let name = ingredient.to_lowercase();
    let Some(word) = name.split_whitespace().next_back() else { return Vec::new() };
    let one = word.strip_suffix('s').filter(|one| one.len() > 2).unwrap_or(word);
    let speaks = |text: &String| {
        let text = text.to_lowercase();
        text.split(|c: char| !c.is_alphanumeric()).any(|w| w == word || w == one)
    };
    let mut found: Vec<String> = Vec::new();
    for step in recipe.methods.iter().flat_map(|m| &m.steps) {
        let said = [&step.name, &step.words, &step.pupil_words];
        if said.into_iter().any(speaks) && !found.contains(&step.name) {
            found.push(step.name.clone());
        }
    }
    found
}
