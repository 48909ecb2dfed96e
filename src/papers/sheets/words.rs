//! Words that several sheets have in common.

use std::collections::BTreeSet;

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, RecipeId};
use crate::plan::Load;
use crate::stores::labels::labels;
use crate::units::Minute;
use crate::view::words::{clock, in_short, list, shelf};

/// A minute by the clock.
pub(super) fn time(lesson: &Lesson, minute: Minute) -> String {
    clock(lesson, minute).to_string()
}

/// Names of groups, runs of numbers told by their ends.
pub(super) fn names(lesson: &Lesson, groups: &[GroupId]) -> String {
    let names: Vec<String> = groups.iter().map(|&g| lesson.group(g).name.clone()).collect();
    list(&in_short(&names))
}

/// "Oven 2, top shelf"; the oven alone if it has one shelf.
pub(super) fn place(lesson: &Lesson, load: &Load) -> String {
    let oven = &lesson.ovens[load.oven.0];
    match oven.shelves.len() {
        0 | 1 => oven.name.clone(),
        of => format!("{}, {}", oven.name, shelf(load.shelf.0, of)),
    }
}

/// The places of a group's tins, each once, from the first oven on.
pub(super) fn places(lesson: &Lesson, plan: &CheckedPlan, group: GroupId) -> String {
    let mut loads: Vec<&Load> = plan.plan().loads.iter().filter(|l| l.group == group).collect();
    loads.sort_by_key(|l| (l.oven, l.shelf));
    let mut places: Vec<String> = loads.iter().map(|load| place(lesson, load)).collect();
    places.dedup();
    list(&places)
}

/// The tin a group fills in the plan, as its recipe calls it.
pub(super) fn tin(lesson: &Lesson, plan: &CheckedPlan, group: GroupId) -> Option<String> {
    let tin = plan.plan().choice(group)?.tin?;
    Some(lesson.tin_choice_of(group, tin).label.clone())
}

/// How a bake is tested, in the recipe's own words; who has none is sent to the recipe.
pub(super) fn done_when(lesson: &Lesson, plan: &CheckedPlan, group: GroupId) -> String {
    let own = || {
        let choice = plan.plan().choice(group)?;
        let method = lesson.method_of(group, choice.method);
        let (_, bake, _) = method.bake_steps()?;
        // Who prints it ends the sentence.
        let words = method.steps[bake.0].done_when.trim_end_matches('.');
        (!words.is_empty()).then(|| words.to_owned())
    };
    own().unwrap_or_else(|| "the recipe's done test".to_owned())
}

/// Recipes that groups make which take part, in the lesson's order.
pub(super) fn recipes_made(lesson: &Lesson) -> Vec<RecipeId> {
    let made: BTreeSet<RecipeId> = lesson.attending().map(|g| lesson.group(g).recipe).collect();
    made.into_iter().collect()
}

/// Allergens as they were entered, each once, and the ingredients whose labels
/// nobody has read.
pub(super) fn allergens(lesson: &Lesson, recipe: RecipeId) -> (Vec<String>, Vec<String>) {
    let labels = labels(lesson, recipe);
    let mut all: Vec<String> = Vec::new();
    for allergen in labels.iter().flat_map(|label| &label.named) {
        if !all.contains(allergen) {
            all.push(allergen.clone());
        }
    }
    let unread = labels.into_iter().filter(|label| !label.is_read).map(|l| l.ingredient);
    (all, unread.collect())
}
