//! `ovenbell recipe-out`: a recipe of ours for other programs.

use std::path::PathBuf;

use clap::Args;

use super::kept::{self, Kind};
use super::{CANNOT_READ, WELL, complain, print, recipes_of, wrong};
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, write_new};
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
    let (recipes, _) = recipes_of::all(&args.file)?;
    let recipes = recipes_of::named(&args.file, recipes, args.recipe.as_deref())?;
    let recipe = recipes_of::only(&args.file, recipes)?;
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
