//! Renaming what other parts of a lesson's file refer to by name: all that
//! meant the thing before means it afterwards.
//!
//! Where several things bear one name, which `file` reports, references mean
//! the first of them and follow that one alone.

mod inside;
mod notes;
mod steps;
mod things;

pub use notes::class_step;

use super::field;
use crate::edit::tin_label;
use crate::file::format::LessonFile;
use crate::finding::shortened;

/// Something that has a name, by its place in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Named {
    /// A room, 0 being `room`, 1 the first of `other_rooms`.
    Room(usize),
    /// A unit of a room.
    Unit {
        /// The room.
        room: usize,
        /// The unit in it.
        unit: usize,
    },
    /// A period, 0 being `period`, 1 the first of `other_periods`.
    Period(usize),
    /// An adult.
    Adult(usize),
    /// An entry of groups; one with a count gives its name to several.
    Group(usize),
    /// An entry of ovens; one with a count gives its name to several.
    Oven {
        /// The room.
        room: usize,
        /// The unit it belongs to, if any.
        unit: Option<usize>,
        /// Which of that unit's or room's.
        oven: usize,
    },
    /// Kit of one name, wherever it is.
    Kit(String),
    /// A kind of tin.
    TinKind(usize),
    /// A recipe.
    Recipe(usize),
    /// A way of making a recipe.
    Method {
        /// The recipe.
        recipe: usize,
        /// Its method.
        method: usize,
    },
    /// What a recipe calls a way of baking.
    TinLabel {
        /// The recipe.
        recipe: usize,
        /// Which of its tins.
        tin: usize,
    },
    /// A step of one method; steps of that name in other methods keep it.
    Step {
        /// The recipe.
        recipe: usize,
        /// Its method.
        method: usize,
        /// The step in it.
        step: usize,
    },
    /// The steps of one name in all methods of a recipe.
    StepOfAll {
        /// The recipe.
        recipe: usize,
        /// The name.
        step: String,
    },
}

/// Gives a thing another name.
///
/// # Errors
/// Why not, in words; the file stays as it was.
pub fn rename(file: &mut LessonFile, what: &Named, to: &str) -> Result<(), String> {
    let to = field::name(to)?;
    let old = name_of(file, what).ok_or("it is not there any more")?;
    if old == to {
        return Ok(());
    }
    let mut after = file.clone();
    match what {
        Named::Room(room) => things::room(&mut after, *room, &to)?,
        Named::Unit { room, unit } => things::unit(&mut after, *room, *unit, &to)?,
        Named::Period(period) => things::period(&mut after, *period, &to)?,
        Named::Adult(adult) => things::adult(&mut after, *adult, &to)?,
        Named::Group(group) => things::group(&mut after, *group, &to)?,
        Named::Oven { room, unit, oven } => things::oven(&mut after, (*room, *unit, *oven), &to)?,
        Named::Kit(kit) => things::kit(&mut after, kit, &to)?,
        Named::TinKind(tin) => inside::tin_kind(&mut after, *tin, &to)?,
        Named::Recipe(recipe) => inside::recipe(&mut after, *recipe, &to)?,
        Named::Method { recipe, method } => inside::method(&mut after, (*recipe, *method), &to)?,
        Named::TinLabel { recipe, tin } => inside::tin_label(&mut after, (*recipe, *tin), &to)?,
        Named::Step { recipe, method, step } => {
            steps::one(&mut after, (*recipe, *method, *step), &to)?;
        }
        Named::StepOfAll { recipe, step } => steps::all(&mut after, *recipe, step, &to)?,
    }
    *file = after;
    Ok(())
}

/// What a thing is called now; `None` if it is not there. A room and a period
/// without a name have the one that `file` gives them.
pub fn name_of(file: &LessonFile, what: &Named) -> Option<String> {
    let recipe = |recipe: usize| file.recipes.get(recipe);
    Some(match what {
        Named::Room(room) => file.room(*room)?.name().to_owned(),
        Named::Unit { room, unit } => file.room(*room)?.units.get(*unit)?.name.clone(),
        Named::Period(period) => file.period(*period)?.name().to_owned(),
        Named::Adult(adult) => file.adults.get(*adult)?.name.clone(),
        Named::Group(group) => file.groups.get(*group)?.name.clone(),
        Named::Oven { room, unit, oven } => {
            let room = file.room(*room)?;
            let ovens = match unit {
                Some(unit) => &room.units.get(*unit)?.ovens,
                None => &room.ovens,
            };
            ovens.get(*oven)?.name.clone()
        }
        Named::Kit(kit) => kit.clone(),
        Named::TinKind(tin) => file.tins.get(*tin)?.name.clone(),
        Named::Recipe(of) => recipe(*of)?.name.clone(),
        Named::Method { recipe: of, method } => recipe(*of)?.methods.get(*method)?.name.clone(),
        Named::TinLabel { recipe: of, tin } => tin_label(recipe(*of)?.tins.get(*tin)?).to_owned(),
        Named::Step { recipe: of, method, step } => {
            recipe(*of)?.methods.get(*method)?.steps.get(*step)?.name.clone()
        }
        Named::StepOfAll { recipe: of, step } => {
            recipe(*of)?.methods.iter().flat_map(|m| &m.steps).find(|s| s.name == *step)?;
            step.clone()
        }
    })
}

/// Refuses a name that something else of the kind has.
fn free<'a>(what: &str, to: &str, mut others: impl Iterator<Item = &'a str>) -> Result<(), String> {
    match others.any(|other| other == to) {
        true => Err(format!("there is another {what} called {}", shortened(to, 40))),
        false => Ok(()),
    }
}

/// Puts a name in the place of another.
fn follow(name: &mut String, old: &str, to: &str) {
    if name == old {
        to.clone_into(name);
    }
}

/// Puts a name in the place of another in a list that has each once.
fn follow_in(list: &mut Vec<String>, old: &str, to: &str) {
    if list.iter().any(|name| name == to) {
        list.retain(|name| name != old);
    } else {
        list.iter_mut().for_each(|name| follow(name, old, to));
    }
}
