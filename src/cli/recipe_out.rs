//! `ovenbell recipe-out`: a recipe of ours for other programs.

use std::path::{Path, PathBuf};

use clap::Args;

use super::kept::{self, Kind};
use super::{CANNOT_READ, WELL, complain, print, wrong};
use crate::file::format::RecipeShape;
use crate::file::plain_words::{Doing, why};
use crate::file::{self, Access, Backup, write_new};
use crate::finding::shortened;
use crate::interchange::write;

pub(super) const HELP: &str = "Examples:
  ovenbell recipe-out my-lesson.ron --recipe \"Lemon bake\" --out lemon.jsonld
  ovenbell recipe-out buns.ron --out buns.jsonld";

#[derive(Debug, Args)]
pub(super) struct RecipeOutArgs {
    /// A lesson file (RON), or a file with one recipe.
    file: PathBuf,
    /// The recipe of that name, where there are several.
    #[arg(long, value_name = "NAME")]
    recipe: Option<String>,
    /// Write the recipe (schema.org's Recipe as JSON-LD) to this file.
    #[arg(long, value_name = "OUT")]
    out: PathBuf,
}

/// Writes the recipe that the arguments name.
pub(super) fn run(args: &RecipeOutArgs) -> u8 {
    match written(args) {
        Ok(status) | Err(status) => status,
    }
}

fn written(args: &RecipeOutArgs) -> Result<u8, u8> {
    let out = &args.out;
    let to = [(Some(&**out), Kind::RecipeForOthers)];
    let may_keep = || kept::may_keep(&to, &[Some(&args.file)]);
    may_keep()?;
    let recipe = one_of(recipes(&args.file)?, args)?;
    let text = write(&recipe).map_err(|finding| {
        complain(&args.file, &[finding]);
        CANNOT_READ
    })?;
    may_keep()?;
    write_new(out, text.as_bytes(), Backup::Keep, Access::As(&args.file)).map_err(|error| {
        let why = why(&error, Doing::Writing(out));
        wrong(&format!("{}: the recipe could not be written: {why}", out.display()));
        CANNOT_READ
    })?;
    print(&format!("{} is written to {}", recipe.name, out.display()));
    Ok(WELL)
}

/// The recipes of a lesson, or the one of a file of its own.
fn recipes(path: &Path) -> Result<Vec<RecipeShape>, u8> {
    let refused = |findings: Vec<crate::finding::Finding>| {
        complain(path, &findings);
        CANNOT_READ
    };
    match file::load_lesson(path) {
        Ok(loaded) => Ok(loaded.file.recipes),
        // No lesson; a recipe by itself has no format number.
        Err(findings) if findings.iter().any(|f| f.code == "no-format") => {
            file::load_recipe(path).map(|recipe| vec![recipe]).map_err(refused)
        }
        Err(findings) => Err(refused(findings)),
    }
}

fn one_of(recipes: Vec<RecipeShape>, args: &RecipeOutArgs) -> Result<RecipeShape, u8> {
    let names: Vec<String> =
        recipes.iter().take(20).map(|r| format!("\"{}\"", shortened(&r.name, 80))).collect();
    let names = names.join(", ");
    let wanted = args.recipe.as_ref().map(|name| name.to_lowercase());
    let is_it = |r: &RecipeShape| wanted.as_ref().is_none_or(|name| r.name.to_lowercase() == *name);
    let mut found: Vec<RecipeShape> = recipes.into_iter().filter(is_it).collect();
    let why = match (found.len(), &args.recipe) {
        (1, _) => return Ok(found.remove(0)),
        (0, Some(name)) => format!("there is no recipe \"{name}\"; there are: {names}"),
        _ => format!("say which recipe with --recipe NAME: {names}"),
    };
    wrong(&format!("{}: {why}", args.file.display()));
    Err(CANNOT_READ)
}
