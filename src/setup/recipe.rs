//! Methods and tins of a recipe: more of them, and fewer.

use super::makers::Makers;
use super::steps::At;
use super::steps::remove::outside;
use crate::edit::{retain_that_fix, tin_label};
use crate::file::format::{LessonFile, MethodShape, TinChoiceShape};
use crate::finding::shortened;

/// A way of baking more, in a kind of tin, as hot as the one before it.
pub fn add_tin(file: &mut LessonFile, recipe: usize, kind: &str) {
    let Some(of) = file.recipes.get_mut(recipe) else { return };
    let taken: Vec<&str> = of.tins.iter().map(tin_label).collect();
    let celsius = of.tins.last().and_then(|t| t.celsius);
    let mut choice = TinChoiceShape::new(kind, celsius);
    if taken.contains(&kind) {
        choice.label = (2..).map(|i| format!("{kind} {i}")).find(|n| !taken.contains(&n.as_str()));
    }
    of.tins.push(choice);
}

/// A way of baking fewer. Groups that named it go by what else they name.
pub fn remove_tin(file: &mut LessonFile, recipe: usize, tin: usize) {
    let makers = Makers::of(file, recipe);
    let Some(of) = file.recipes.get_mut(recipe).filter(|r| tin < r.tins.len()) else { return };
    let gone = of.tins.remove(tin);
    let label = gone.label.unwrap_or(gone.tin);
    let (groups, locks) = makers.mutably(file);
    groups.for_each(|g| g.tins.retain(|t| *t != label));
    for lock in locks.filter(|l| l.tin.as_ref() == Some(&label)) {
        lock.tin = None;
    }
    retain_that_fix(&mut file.locks);
}

/// A method more, with the same steps and tins. Its name gets a number.
pub fn copy_method(file: &mut LessonFile, at: At) {
    let Some(of) = file.recipes.get_mut(at.recipe) else { return };
    let Some(method) = of.methods.get(at.method).cloned() else { return };
    let taken = |name: &String| of.methods.iter().any(|m| m.name == *name);
    let name = (2..).map(|i| format!("{} {i}", method.name)).find(|n| !taken(n));
    let copy = MethodShape { name: name.unwrap_or_default(), ..method.clone() };
    for tin in &mut of.tins {
        if tin.methods.contains(&method.name) {
            tin.methods.push(copy.name.clone());
        }
    }
    of.methods.push(copy);
}

/// A method fewer, and with it the ways of baking that are for it alone; what
/// went besides, in words. Groups that named it go by what else they name.
///
/// # Errors
/// If it is not there, or the only one.
pub fn remove_method(file: &mut LessonFile, at: At) -> Result<Vec<String>, String> {
    let of = file.recipes.get(at.recipe).filter(|r| at.method < r.methods.len());
    let of = of.ok_or("that method is not there any more")?;
    if of.methods.len() == 1 {
        return Err("a recipe has at least one method".to_owned());
    }
    let gone = of.methods[at.method].name.clone();
    let alone: Vec<usize> =
        (0..of.tins.len()).filter(|&t| of.tins[t].methods == [gone.clone()]).collect();
    let mut told = Vec::new();
    for tin in alone.into_iter().rev() {
        let of = &file.recipes[at.recipe].tins[tin];
        let label = of.label.as_ref().unwrap_or(&of.tin);
        told.push(format!("{} was for it alone and is gone too", shortened(label, 40)));
        remove_tin(file, at.recipe, tin);
    }
    let of = &mut file.recipes[at.recipe];
    let steps = of.methods.remove(at.method).steps;
    of.tins.iter_mut().for_each(|t| t.methods.retain(|m| *m != gone));
    let (groups, locks) = Makers::of(file, at.recipe).mutably(file);
    groups.for_each(|g| g.methods.retain(|m| *m != gone));
    for lock in locks.filter(|l| l.method.as_ref() == Some(&gone)) {
        lock.method = None;
    }
    for step in steps {
        outside(file, at.recipe, &step.name, &mut told);
    }
    retain_that_fix(&mut file.locks);
    Ok(told)
}
