//! The recipes of a lesson's file, or of a file with one.

use std::path::Path;

use super::{CANNOT_READ, complain, say, wrong};
use crate::file::format::{RecipeShape, TinShape};
use crate::file::{self, library};
use crate::finding::{Finding, shortened};

/// Whether a file that cannot be read as a lesson may be a recipe by itself, which has no
/// format number.
pub(super) fn is_no_lesson(findings: &[Finding]) -> bool {
    findings.iter().any(|f| matches!(f.code, "no-format" | "recipe-by-itself"))
}

/// Names that are told of a file with several recipes.
const TOLD: usize = 20;

/// All recipes, and the kinds of tins they may be baked in.
///
/// # Errors
/// The exit status, once it is told what is wrong with the file.
pub(super) fn all(path: &Path) -> Result<(Vec<RecipeShape>, Vec<TinShape>), u8> {
    let refused = |findings: Vec<Finding>| {
        complain(path, &findings);
        CANNOT_READ
    };
    match file::load_lesson(path) {
        Ok(loaded) => {
            say::keep(&loaded.file);
            Ok((loaded.file.recipes, loaded.file.tins))
        }
        Err(findings) if is_no_lesson(&findings) => {
            let recipe = file::load_recipe(path).map_err(refused)?;
            Ok((vec![recipe], library::tins().unwrap_or_default()))
        }
        Err(findings) => Err(refused(findings)),
    }
}

/// Those of a name, or all if none is asked for.
///
/// # Errors
/// The exit status, once it is told that there is none.
pub(super) fn named(
    path: &Path,
    recipes: Vec<RecipeShape>,
    wanted: Option<&str>,
) -> Result<Vec<RecipeShape>, u8> {
    let Some(wanted) = wanted else { return Ok(recipes) };
    let names = names(&recipes);
    let is_it = |r: &RecipeShape| r.name.to_lowercase() == wanted.to_lowercase();
    let found: Vec<RecipeShape> = recipes.into_iter().filter(is_it).collect();
    if found.is_empty() {
        let wanted = shortened(wanted, 80);
        wrong(&format!("{}: there is no recipe \"{wanted}\"; there are: {names}", path.display()));
        return Err(CANNOT_READ);
    }
    Ok(found)
}

/// The only one.
///
/// # Errors
/// The exit status, once it is told that there are several or none.
pub(super) fn only(path: &Path, mut recipes: Vec<RecipeShape>) -> Result<RecipeShape, u8> {
    if recipes.len() == 1 {
        return Ok(recipes.remove(0));
    }
    let names = names(&recipes);
    wrong(&format!("{}: say which recipe with --recipe NAME: {names}", path.display()));
    Err(CANNOT_READ)
}

fn names(recipes: &[RecipeShape]) -> String {
    let few = recipes.iter().take(TOLD);
    few.map(|r| format!("\"{}\"", shortened(&r.name, 80))).collect::<Vec<_>>().join(", ")
}
