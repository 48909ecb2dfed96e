//! Steps of a method: put in, taken out, moved, copied, and set in order.
//!
//! A step whose `after` is not said comes after the one before it in the list.
//! So that moving and putting in keep what a teacher sees, `after` is written
//! out wherever the list alone would come to mean something else, and so are
//! the steps over which the tin is held.

mod in_turn;
mod order;
pub(super) mod remove;

pub use in_turn::{change_turns, loosened};
pub use order::{Arrow, arrows, draw, erase, set_gap, tin_held};
pub use remove::remove;

use super::field;
use crate::file::format::{LessonFile, MethodShape, StepKindShape, StepShape};
use crate::finding::shortened;

/// A method by its place in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct At {
    /// The recipe.
    pub recipe: usize,
    /// Its method.
    pub method: usize,
}

/// How a step that is put in joins the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joins {
    /// Between the two it is put between, if the second comes after the first:
    /// after the one and before the other.
    Chain,
    /// After the one before it, or as it says itself; nothing comes after it.
    Beside,
}

const GONE: &str = "that step is not there any more";
/// Steps a method with a bake has of its own.
const OF_BAKE: [&str; 3] = ["load", "bake", "take out"];

/// The method at a place.
fn method_mut(file: &mut LessonFile, at: At) -> Result<&mut MethodShape, String> {
    let recipe = file.recipes.get_mut(at.recipe);
    recipe.and_then(|r| r.methods.get_mut(at.method)).ok_or_else(|| GONE.to_owned())
}

/// Puts a step into the list, so that it is the `place`-th from 0.
///
/// # Errors
/// If its name is taken, or it is a second bake.
pub fn add(
    file: &mut LessonFile,
    at: At,
    place: usize,
    step: StepShape,
    joins: Joins,
) -> Result<(), String> {
    let method = method_mut(file, at)?;
    let mut step = step;
    step.name = field::name(&step.name)?;
    check_new(method, &step)?;
    let place = place.min(method.steps.len());
    let mut before = order::names_before(method);
    let held = order::tin_held(method);
    let own = step.after.clone();
    let follows = place.checked_sub(1).map(|i| method.steps[i].name.clone());
    if joins == Joins::Chain
        && own.is_none()
        && let (Some(first), Some(next)) = (&follows, before.get_mut(place))
    {
        next.iter_mut().filter(|name| *name == first).for_each(|n| n.clone_from(&step.name));
    }
    let after = own.unwrap_or_else(|| follows.into_iter().collect());
    let by_hand = matches!(step.kind, StepKindShape::Hand | StepKindShape::Wait);
    before.insert(place, after);
    method.steps.insert(place, step);
    order::write_out(method, &before);
    if by_hand {
        order::keep_tin_held(method, held);
    }
    Ok(())
}

/// Refuses a step that the method cannot have beside the others.
fn check_new(method: &MethodShape, step: &StepShape) -> Result<(), String> {
    if method.steps.iter().any(|s| s.name == step.name) {
        let name = shortened(&step.name, 40);
        return Err(format!("there is another step in this method called {name}"));
    }
    let bakes = method.steps.iter().any(|s| s.kind == StepKindShape::Bake);
    match (bakes, step.kind) {
        (true, StepKindShape::Bake) => {
            Err("a method bakes once; make the other a second recipe".to_owned())
        }
        (true, _) if OF_BAKE.contains(&step.name.as_str()) => {
            Err(format!("a method with a bake has a step {} of its own", step.name))
        }
        _ => Ok(()),
    }
}

/// Moves a step within the list; what comes after what stays as it is.
///
/// # Errors
/// If it is not there.
pub fn move_to(file: &mut LessonFile, at: At, from: usize, to: usize) -> Result<(), String> {
    let method = method_mut(file, at)?;
    if from >= method.steps.len() {
        return Err(GONE.to_owned());
    }
    let mut before = order::names_before(method);
    let held = order::tin_held(method);
    let step = method.steps.remove(from);
    let names = before.remove(from);
    let to = to.min(method.steps.len());
    method.steps.insert(to, step);
    before.insert(to, names);
    order::write_out(method, &before);
    order::keep_tin_held(method, held);
    Ok(())
}

/// Copies a step: its copy stands behind it in the list, comes after the same
/// steps, and the same come after it. Its name, which gets a number.
///
/// # Errors
/// If it is not there, or a bake.
pub fn copy(file: &mut LessonFile, at: At, step: usize) -> Result<String, String> {
    let method = method_mut(file, at)?;
    let of = method.steps.get(step).ok_or(GONE)?.clone();
    if of.kind == StepKindShape::Bake {
        return Err("a method bakes once; make the other a second recipe".to_owned());
    }
    let name = free_name(method, &of.name);
    let mut before = order::names_before(method);
    let held = order::tin_held(method);
    for names in &mut before {
        if names.contains(&of.name) {
            names.push(name.clone());
        }
    }
    before.insert(step + 1, before[step].clone());
    method.steps.insert(step + 1, StepShape { name: name.clone(), ..of });
    order::write_out(method, &before);
    order::keep_tin_held(method, held);
    Ok(name)
}

/// A name with a number behind it that no step of the method has.
pub fn free_name(method: &MethodShape, like: &str) -> String {
    let (stem, from) = match like.rsplit_once(' ') {
        Some((stem, number)) => match number.parse::<u32>() {
            Ok(n) if n < 1_000_000 => (stem, n + 1),
            _ => (like, 2),
        },
        None => (like, 2),
    };
    let free = |name: &String| method.steps.iter().all(|s| s.name != *name);
    (from..).map(|n| format!("{stem} {n}")).find(free).unwrap_or_default()
}
