//! Recipes, and what they call their methods and ways of baking.

use super::things::others;
use super::{follow, follow_in, free};
use crate::edit::tin_labels;
use crate::file::format::LessonFile;
use crate::setup::makers::Makers;

const GONE: &str = "it is not there any more";

pub(super) fn recipe(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let names: Vec<String> = file.recipes.iter().map(|r| r.name.clone()).collect();
    free("recipe", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    to.clone_into(&mut file.recipes.get_mut(at).ok_or(GONE)?.name);
    if names.iter().position(|n| n == old) == Some(at) {
        file.groups.iter_mut().for_each(|group| follow(&mut group.recipe, old, to));
        // A lesson called after its recipe goes on being called after it.
        follow(&mut file.title, old, to);
    }
    Ok(())
}

pub(super) fn method(
    file: &mut LessonFile,
    (recipe, at): (usize, usize),
    to: &str,
) -> Result<(), String> {
    let groups = Makers::of(file, recipe);
    let of = file.recipes.get_mut(recipe).ok_or(GONE)?;
    let names: Vec<String> = of.methods.iter().map(|m| m.name.clone()).collect();
    free("method", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    to.clone_into(&mut of.methods.get_mut(at).ok_or(GONE)?.name);
    if names.iter().position(|n| n == old) != Some(at) {
        return Ok(());
    }
    of.tins.iter_mut().for_each(|tin| follow_in(&mut tin.methods, old, to));
    let (groups, locks) = groups.mutably(file);
    groups.for_each(|group| follow_in(&mut group.methods, old, to));
    locks.filter_map(|l| l.method.as_mut()).for_each(|name| follow(name, old, to));
    Ok(())
}

pub(super) fn tin_label(
    file: &mut LessonFile,
    (recipe, at): (usize, usize),
    to: &str,
) -> Result<(), String> {
    let of = file.recipes.get_mut(recipe).ok_or(GONE)?;
    let names = tin_labels(of);
    free("tin of this recipe", to, others(&names, at))?;
    let choice = of.tins.get_mut(at).ok_or(GONE)?;
    choice.label = (choice.tin != to).then(|| to.to_owned());
    follow_label(file, recipe, &names, at, to);
    Ok(())
}

/// A kind of tin; a way of baking without a label of its own is called after
/// it.
pub(super) fn tin_kind(file: &mut LessonFile, at: usize, to: &str) -> Result<(), String> {
    let names: Vec<String> = file.tins.iter().map(|t| t.name.clone()).collect();
    free("tin", to, others(&names, at))?;
    let old = names.get(at).ok_or(GONE)?;
    to.clone_into(&mut file.tins.get_mut(at).ok_or(GONE)?.name);
    if names.iter().position(|n| n == old) != Some(at) {
        return Ok(());
    }
    for room in file.rooms_mut() {
        room.tins.0.iter_mut().for_each(|(name, _)| follow(name, old, to));
    }
    for number in 0..file.recipes.len() {
        let of = &mut file.recipes[number];
        let before = tin_labels(of);
        for (choice, tin) in of.tins.iter_mut().enumerate().filter(|(_, t)| t.tin == *old) {
            to.clone_into(&mut tin.tin);
            if tin.label.is_none() {
                let what = format!("tin of {}", crate::finding::shortened(&of.name, 40));
                free(&what, to, others(&before, choice))?;
            } else if tin.label.as_deref() == Some(to) {
                tin.label = None;
            }
        }
        let of = &file.recipes[number];
        let after = tin_labels(of);
        for choice in 0..before.len() {
            if before[choice] != after[choice] {
                follow_label(file, number, &before, choice, to);
            }
        }
    }
    Ok(())
}

/// Groups and locks follow a label, if they mean it.
fn follow_label(file: &mut LessonFile, recipe: usize, before: &[String], at: usize, to: &str) {
    let Some(old) = before.get(at) else { return };
    if before.iter().position(|n| n == old) != Some(at) {
        return;
    }
    let (groups, locks) = Makers::of(file, recipe).mutably(file);
    groups.for_each(|group| follow_in(&mut group.tins, old, to));
    locks.filter_map(|l| l.tin.as_mut()).for_each(|name| follow(name, old, to));
}
