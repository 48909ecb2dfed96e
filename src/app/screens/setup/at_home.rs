//! What comes from the library, made to fit a lesson: in the words that are
//! spoken, but with the names the lesson already has for the same kit, so that
//! a lesson begun in one English can go on in another.

use crate::app::looks::say;
use crate::file::format::{LessonFile, RecipeShape, RoomShape};
use crate::file::library::LibraryError;
use crate::file::own_words;
use crate::setup::suggest::{self, Suggestion};
use crate::speech::{English, say_of_library};

/// Whether two names are one word in some English.
fn same(a: &str, b: &str) -> bool {
    a == b || English::ALL.into_iter().any(|e| say_of_library(a, e) == say_of_library(b, e))
}

/// The name there is for a thing, or else its own.
fn called<'a>(name: &'a str, there: &'a [String]) -> &'a str {
    let known = there.iter().any(|n| n == name);
    let found = if known { None } else { there.iter().find(|n| same(n, name)) };
    found.map_or(name, String::as_str)
}

/// A recipe that asks for kit by the names the lesson's rooms have for it.
pub fn recipe(file: &LessonFile, recipe: &RecipeShape) -> RecipeShape {
    let there = suggest::kit_of(file);
    let mut recipe = recipe.clone();
    for method in &mut recipe.methods {
        for (kit, _) in method.steps.iter_mut().flat_map(|s| &mut s.kit.0) {
            *kit = called(kit, &there).to_owned();
        }
        for hold in &mut method.holds {
            hold.kit = called(&hold.kit, &there).to_owned();
        }
    }
    recipe
}

/// A recipe of one's own to begin with, and the kind of tin it needs.
///
/// # Errors
/// If the program was built with a broken library.
pub fn own_recipe(file: &mut LessonFile, name: &str) -> Result<RecipeShape, LibraryError> {
    let before: Vec<String> = file.tins.iter().map(|t| t.name.clone()).collect();
    let kit = suggest::kit_of(file);
    let mut made = suggest::new_recipe(file, name)?;
    let is_own = |word: &String| before.contains(word) || kit.contains(word) || word == name;
    let mut say = |word: &mut String| {
        if !is_own(word) {
            *word = say::name(word);
        }
    };
    own_words::recipe(&mut made, &mut say);
    file.tins.iter_mut().for_each(|tin| own_words::tin(tin, &mut say));
    Ok(recipe(file, &made))
}

/// A room that counts kit by the names the lesson's recipes have for it.
pub fn room(file: &LessonFile, room: &RoomShape) -> RoomShape {
    let steps = file.recipes.iter().flat_map(|r| &r.methods).flat_map(|m| &m.steps);
    let mut wanted: Vec<String> =
        steps.flat_map(|s| &s.kit.0).map(|(kit, _)| kit.clone()).collect();
    wanted.dedup();
    let mut room = room.clone();
    let of_units = room.units.iter_mut().flat_map(|u| &mut u.kit.0);
    for (kit, _) in room.kit.0.iter_mut().chain(of_units) {
        *kit = called(kit, &wanted).to_owned();
    }
    room
}

/// What the library knows of a step of that name, in whatever English, with
/// kit by the names there are for it.
pub fn step(name: &str, there: &[String]) -> Option<Suggestion> {
    let exactly = suggest::step(name).ok().flatten();
    let elsewhere = || {
        let names = suggest::names().ok()?;
        let lower = name.trim().to_lowercase();
        let british = names.into_iter().find(|n| same(&n.to_lowercase(), &lower))?;
        suggest::step(&british).ok().flatten()
    };
    let mut known = exactly.or_else(elsewhere)?;
    own_words::step(&mut known.step, &mut |word| *word = say::name(word));
    for (kit, _) in &mut known.step.kit.0 {
        *kit = called(kit, there).to_owned();
    }
    name.trim().clone_into(&mut known.step.name);
    Some(known)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::file::library;

    #[test]
    fn a_recipe_of_another_english_uses_the_kit_that_is_there() {
        let british = library::recipe("Dockside ginger traybake").unwrap().unwrap();
        let mut american = british.clone();
        own_words::recipe(&mut american, &mut |word| {
            *word = say_of_library(word, English::American).into_owned();
        });
        assert_ne!(american, british);
        let file = library::lesson_of(british.clone()).unwrap();
        let kit = |r: &RecipeShape| -> Vec<String> {
            let steps = r.methods.iter().flat_map(|m| &m.steps);
            steps.flat_map(|s| s.kit.0.iter().map(|(k, _)| k.clone())).collect()
        };
        assert!(kit(&american).iter().any(|k| k == "burner"));
        assert_eq!(kit(&recipe(&file, &american)), kit(&british));
    }

    #[test]
    fn a_step_is_known_by_its_american_name() {
        let known = step("proof", &[]).unwrap();
        assert_eq!(known.step.name, "proof");
        assert_eq!(step("prove", &[]).unwrap().step.kind, known.step.kind);
        assert!(step("juggle", &[]).is_none());
    }
}
