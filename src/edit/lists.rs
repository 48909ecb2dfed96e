//! Lists of an entry: what it may use, the best liked first, and what is fixed.

use crate::file::format::{GroupShape, LockShape, RecipeShape, TinChoiceShape};

/// Steps of a bake that tins may state minutes of, though no recipe lists them.
const OF_BAKE: [&str; 2] = ["load", "take out"];

/// What a recipe calls a way of baking.
pub fn tin_label(tin: &TinChoiceShape) -> &str {
    tin.label.as_deref().unwrap_or(&tin.tin)
}

/// What a recipe calls its ways of baking.
pub fn tin_labels(recipe: &RecipeShape) -> Vec<String> {
    recipe.tins.iter().map(|tin| tin_label(tin).to_owned()).collect()
}

/// Methods a group may use, by name.
pub fn methods_of(group: &GroupShape, recipe: &RecipeShape) -> Vec<String> {
    if group.methods.is_empty() {
        recipe.methods.iter().map(|m| m.name.clone()).collect()
    } else {
        group.methods.clone()
    }
}

/// Puts a name first in a list, the others after it as they were. An empty
/// list stands for `all`.
pub fn put_first(list: &mut Vec<String>, all: &[String], name: &str) {
    if list.is_empty() {
        list.extend_from_slice(all);
    }
    list.retain(|other| other != name);
    list.insert(0, name.to_owned());
}

/// Puts a name last in a list that has not got it. An empty list stands for
/// all there are.
pub fn put_last(list: &mut Vec<String>, name: &str) {
    if !list.is_empty() && !list.iter().any(|other| other == name) {
        list.push(name.to_owned());
    }
}

/// A tin states minutes only of steps that a recipe has.
pub fn keep_known_steps(recipe: &RecipeShape, tin: &mut TinChoiceShape) {
    let steps = || recipe.methods.iter().flat_map(|m| &m.steps);
    tin.step_minutes
        .0
        .retain(|(name, _)| OF_BAKE.contains(&name.as_str()) || steps().any(|s| s.name == *name));
}

/// Locks that fix nothing any more are gone.
pub fn retain_that_fix(locks: &mut Vec<LockShape>) {
    locks.retain(|l| l.step.is_some() || l.tin.is_some() || l.method.is_some() || l.oven.is_some());
}
