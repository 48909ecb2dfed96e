//! A group that makes a reserve recipe.

use super::happens::{Day, refused, worst};
use crate::change::method_for;
use crate::edit::{keep_known_steps, methods_of};
use crate::file::format::{GroupShape, LessonFile, RecipeShape};
use crate::file::{lesson_of_shapes, library};
use crate::finding::Finding;
use crate::words::list;

/// Gives a group another recipe: of the lesson, or else of the library with
/// the tins it needs.
pub(super) fn reserve(day: &mut Day<'_>, name: &str, recipe: &str) -> Result<(), Finding> {
    let index = day.group(name)?;
    let before = day.file.groups[index].recipe.clone();
    if before == recipe {
        return Err(refused(format!("{name} makes {recipe} as it is."), ""));
    }
    if day.file.recipes.iter().all(|r| r.name != recipe) {
        from_library(&mut day.file, recipe)?;
    }
    day.file.locks.retain(|l| l.group != name);
    own_lists(&mut day.file, index);
    let group = &mut day.file.groups[index];
    recipe.clone_into(&mut group.recipe);
    group.methods.clear();
    group.tins.clear();
    // Nothing of it was done before the bell.
    group.beforehand.clear();
    keep_known(&mut day.file, index);
    if lesson_of_shapes(&day.file, day.past).is_err() {
        day.file.groups[index].collected.clear();
    }
    lesson_of_shapes(&day.file, day.past).map_err(worst)?;
    day.tell(format!("{name} makes {recipe} instead of {before}."));
    Ok(())
}

/// Adds a recipe of the library to a lesson, with kinds of tins it lacks.
fn from_library(file: &mut LessonFile, name: &str) -> Result<(), Finding> {
    let broken = |e: library::LibraryError| refused(e.to_string(), "");
    let Some(recipe) = library::recipe(name).map_err(broken)? else {
        let library = library::recipes().map_err(broken)?;
        let mut all: Vec<String> = file.recipes.iter().map(|r| r.name.clone()).collect();
        for recipe in library {
            if !all.contains(&recipe.name) {
                all.push(recipe.name);
            }
        }
        let all: Vec<String> = all.iter().map(|name| format!("\"{name}\"")).collect();
        let hint = format!("there are: {}", list(&all));
        return Err(refused(format!("There is no recipe \"{name}\"."), hint));
    };
    for choice in &recipe.tins {
        if file.tins.iter().all(|t| t.name != choice.tin) {
            file.tins.extend(library::tin(&choice.tin).map_err(broken)?);
        }
    }
    let mut recipe = recipe;
    recipe.methods = recipe.methods.iter().filter_map(|m| method_for(file, m)).collect();
    if recipe.methods.is_empty() {
        let message = format!("The room lacks what {name} is made with.");
        return Err(refused(message, "choose another recipe"));
    }
    let mut tins = std::mem::take(&mut recipe.tins);
    tins.retain_mut(|choice| {
        keep_known_steps(&recipe, choice);
        let for_all = choice.methods.is_empty();
        choice.methods.retain(|name| recipe.methods.iter().any(|m| m.name == *name));
        for_all || !choice.methods.is_empty()
    });
    recipe.tins = tins;
    file.recipes.push(recipe);
    Ok(())
}

/// Steps that every group has outside the bells become each group's own, so
/// that one of them may differ.
fn own_lists(file: &mut LessonFile, except: usize) {
    let LessonFile { groups, recipes, beforehand, collected, .. } = file;
    for (i, group) in groups.iter_mut().enumerate() {
        let Some(recipe) = recipes.iter().find(|r| r.name == group.recipe) else { continue };
        if i == except {
            // Who makes the reserve recipe collects as the others do.
            group.collected.extend(collected.iter().cloned());
            continue;
        }
        let known = steps_of(group, recipe);
        let add = |list: &mut Vec<String>, all: &[String]| {
            for name in all.iter().filter(|n| known.contains(n)) {
                if !list.contains(name) {
                    list.push(name.clone());
                }
            }
        };
        add(&mut group.beforehand, beforehand);
        add(&mut group.collected, collected);
    }
    beforehand.clear();
    collected.clear();
}

/// Leaves only steps that the group's recipe has and lets be collected.
fn keep_known(file: &mut LessonFile, index: usize) {
    let LessonFile { groups, recipes, .. } = file;
    let group = &mut groups[index];
    let Some(recipe) = recipes.iter().find(|r| r.name == group.recipe) else { return };
    let may = |name: &String| {
        let mut steps = recipe.methods.iter().flat_map(|m| &m.steps).filter(|s| s.name == *name);
        steps.clone().count() > 0 && steps.all(|s| s.may_be_collected)
    };
    group.collected.retain(may);
    let mut seen = Vec::new();
    group.collected.retain(|name| {
        let new = !seen.contains(name);
        seen.push(name.clone());
        new
    });
}

/// Names of the steps of all methods a group may use.
fn steps_of<'a>(group: &GroupShape, recipe: &'a RecipeShape) -> Vec<&'a String> {
    let methods = methods_of(group, recipe);
    let of = recipe.methods.iter().filter(|m| methods.contains(&m.name));
    of.flat_map(|m| &m.steps).map(|s| &s.name).collect()
}
