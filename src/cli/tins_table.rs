//! `ovenbell tins FILE`: every tin of a recipe, with what to expect of it.

use std::path::{Path, PathBuf};

use super::recipes_of::is_no_lesson;
use super::say::tell;
use super::{CANNOT_READ, OUR_FAULT, WELL, complain, past_bakes, print_json, wrong};
use crate::bake::tin_table::tin_table;
use crate::export::tins;
use crate::file::format::RecipeShape;
use crate::file::{self, Loaded, library};
use crate::finding::Finding;
use crate::model::{PastBake, RecipeId};

/// What cannot be shown, and the exit status that goes with it.
struct Refused(u8, PathBuf, Vec<Finding>);

/// Prints the tables of a lesson's or a recipe's file, or of a recipe of the
/// library.
pub(super) fn run(
    of: Option<&Path>,
    recipe: Option<&str>,
    outcomes: Option<&Path>,
    json: bool,
) -> u8 {
    let past = past_bakes(outcomes);
    let loaded = match of {
        Some(path) => from_file(path, &past),
        None => from_library(recipe.unwrap_or_default(), &past),
    };
    let Loaded { lesson, warnings, .. } = match loaded {
        Ok(loaded) => loaded,
        Err(Refused(status, path, findings)) => {
            complain(&path, &findings);
            return status;
        }
    };
    if let Some(path) = of {
        complain(path, &warnings);
    }
    let wanted = |name: &str| recipe.is_none_or(|r| r.to_lowercase() == name.to_lowercase());
    let tables: Vec<tins::Table> = lesson
        .recipes
        .iter()
        .enumerate()
        .filter(|(_, r)| wanted(&r.name))
        .map(|(i, r)| (RecipeId(i), tin_table(r, &lesson.tins, &past)))
        .collect();
    if tables.is_empty() {
        let names: Vec<&str> = lesson.recipes.iter().map(|r| r.name.as_str()).collect();
        wrong(&format!(
            "there is no recipe \"{}\"; there are: {}",
            recipe.unwrap_or(""),
            names.join(", ")
        ));
        return CANNOT_READ;
    }
    if !json {
        tell(&tins::text(&lesson, &tables));
        return WELL;
    }
    print_json(tins::json(&lesson, &tables)).map_or_else(|status| status, |()| WELL)
}

/// A lesson file, or a file with one recipe.
fn from_file(path: &Path, past: &[PastBake]) -> Result<Loaded, Refused> {
    let refused = |findings| Refused(CANNOT_READ, path.to_path_buf(), findings);
    match file::load_lesson_knowing(path, past) {
        Ok(loaded) => Ok(loaded),
        Err(findings) if is_no_lesson(&findings) => match file::load_recipe(path) {
            Ok(recipe) => by_itself(recipe, past).map_err(|Refused(status, _, findings)| {
                Refused(status, path.to_path_buf(), findings)
            }),
            Err(of_recipe) => Err(refused(if of_recipe.is_empty() { findings } else { of_recipe })),
        },
        Err(findings) => Err(refused(findings)),
    }
}

fn from_library(name: &str, past: &[PastBake]) -> Result<Loaded, Refused> {
    let here = || PathBuf::from("library");
    let fault = |error: library::LibraryError| {
        wrong(&format!("a fault of ovenbell's: {error}"));
        Refused(OUR_FAULT, here(), Vec::new())
    };
    let recipes = library::recipes().map_err(fault)?;
    let names: Vec<String> = recipes.iter().map(|r| r.name.clone()).collect();
    let found = recipes.into_iter().find(|r| r.name.to_lowercase() == name.to_lowercase());
    let Some(recipe) = found else {
        wrong(&format!("the library has no recipe \"{name}\"; it has: {}", names.join(", ")));
        return Err(Refused(CANNOT_READ, here(), Vec::new()));
    };
    by_itself(recipe, past)
}

/// A recipe in a lesson of its own.
fn by_itself(recipe: RecipeShape, past: &[PastBake]) -> Result<Loaded, Refused> {
    let fault = |error: String| {
        wrong(&format!("a fault of ovenbell's: {error}"));
        Refused(OUR_FAULT, PathBuf::from("library"), Vec::new())
    };
    let lesson = library::lesson_of(recipe).map_err(|e| fault(e.to_string()))?;
    let text = file::write_lesson(&lesson).map_err(|e| fault(e.to_string()))?;
    file::read_lesson_knowing(&text, past).map_err(|mut findings| {
        // Lines of the lesson made for it would only mislead.
        findings.iter_mut().for_each(|f| f.place = None);
        Refused(CANNOT_READ, PathBuf::from("recipe"), findings)
    })
}
