//! `ovenbell recipe-in`: a recipe from elsewhere as a recipe of ours.

use std::path::PathBuf;

use clap::Args;

use super::kept::{self, Kind};
use super::{CANNOT_READ, OUR_FAULT, WELL, complain, print, print_json, wrong};
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, write_new, write_recipe};
use crate::interchange::{load, told};

pub(super) const HELP: &str = "Examples:
  ovenbell recipe-in buns.jsonld --out buns.ron
  ovenbell recipe-in saved-page.html --recipe \"Lemon buns\" --out buns.ron
  ovenbell recipe-in saved-page.html --json

Look through what is to be reviewed, give the steps their minutes, then copy the recipe
into a lesson.";

#[derive(Debug, Args)]
pub(super) struct RecipeInArgs {
    /// A file of JSON-LD, or a saved web page that carries it.
    file: PathBuf,
    /// The recipe of that name, where there are several.
    #[arg(long, value_name = "NAME")]
    recipe: Option<String>,
    /// Write the recipe to this file (RON); else it is only told.
    #[arg(long, value_name = "RECIPE")]
    out: Option<PathBuf>,
    /// Print what was read as JSON.
    #[arg(long)]
    json: bool,
}

/// Reads the recipe that the arguments name.
pub(super) fn run(args: &RecipeInArgs) -> u8 {
    match read(args) {
        Ok(status) | Err(status) => status,
    }
}

fn read(args: &RecipeInArgs) -> Result<u8, u8> {
    let out = args.out.as_deref();
    let may_keep = || kept::may_keep(&[(out, Kind::Recipe)], &[Some(&args.file)]);
    may_keep()?;
    let read = load(&args.file, args.recipe.as_deref()).map_err(|findings| {
        complain(&args.file, &findings);
        CANNOT_READ
    })?;
    complain(&args.file, &read.warnings);
    if let Some(out) = out {
        let text = write_recipe(&read.recipe).map_err(|fault| {
            wrong(&format!("a fault of ovenbell's: {fault}"));
            OUR_FAULT
        })?;
        may_keep()?;
        let access = Access::As(&args.file);
        write_new(out, text.as_bytes(), Backup::Keep, access).map_err(|error| {
            let why = why(&error, Doing::Writing(out));
            wrong(&format!("{}: the recipe could not be written: {why}", out.display()));
            CANNOT_READ
        })?;
    }
    if args.json {
        print_json(told::json(&read, out))?;
    } else {
        // The words are the recipe's own.
        print(&told::text(&read));
    }
    Ok(WELL)
}
