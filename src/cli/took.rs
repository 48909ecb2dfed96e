//! `ovenbell took`: notes what a bake really took.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::Args;

use super::numbers::figure;
use super::say::tell;
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, complain, past_bakes, print, wrong};
use crate::bake::tin_table::tin_table;
use crate::file::outcomes::{bake_minutes, note_outcome, oven_temperature};
use crate::file::{self, data_folders};
use crate::model::{Lesson, PastBake, RecipeId};
use crate::view::tin_words::{doubts, took};

/// Printed after the options.
pub(super) const HELP: &str = "Example:
  ovenbell took my-lesson.ron --recipe \"lemon bake\" --tin \"12 buns\" --minutes 15.5 --oven \"Oven 3\"

The bakes are kept in outcomes.csv in your own data folder, one line each; add
--outcomes CSV to keep them elsewhere. Later plans and tin tables go by them
wherever a recipe states no minutes.";

#[derive(Debug, Args)]
pub(super) struct TookArgs {
    /// The lesson file (RON) the bake was part of.
    lesson: PathBuf,
    /// Its recipe.
    #[arg(long, value_name = "NAME")]
    recipe: String,
    /// What the recipe calls the tin.
    #[arg(long, value_name = "TIN")]
    tin: String,
    /// From the end of loading until the done test was passed.
    #[arg(long, value_name = "M", value_parser = minutes, allow_negative_numbers = true)]
    minutes: f64,
    /// The oven it was in.
    #[arg(long, value_name = "NAME", default_value = "")]
    oven: String,
    /// Oven temperature without a fan, if it was not the tin's own.
    #[arg(long, value_name = "T", value_parser = figure("a temperature", "180"), allow_negative_numbers = true)]
    celsius: Option<f64>,
    /// Anything worth knowing.
    #[arg(long, value_name = "TEXT", default_value = "")]
    note: String,
    /// The day, if it was not today.
    #[arg(long, value_name = "YYYY-MM-DD")]
    date: Option<NaiveDate>,
    /// The table of bakes to add it to.
    #[arg(long, value_name = "CSV")]
    outcomes: Option<PathBuf>,
}

fn minutes(text: &str) -> Result<f64, String> {
    let minutes: f64 = text.parse().map_err(|_| "minutes are a number, such as 15.5".to_owned())?;
    bake_minutes(minutes).map(|m| m.get())
}

/// Notes a bake and says what the tin comes to with it.
pub(super) fn run(args: &TookArgs) -> u8 {
    let Some(path) = args.outcomes.clone().or_else(data_folders::outcomes_file) else {
        wrong("there is no folder to keep bakes in; name a file with --outcomes CSV");
        return CANNOT_READ;
    };
    let past = past_bakes(Some(&path));
    let loaded = match file::load_lesson_knowing(&args.lesson, &past) {
        Ok(loaded) => loaded,
        Err(findings) => {
            complain(&args.lesson, &findings);
            return CANNOT_READ;
        }
    };
    let lesson = &loaded.lesson;
    let Some((recipe, label)) = find(lesson, args) else { return CANNOT_READ };
    let Some(oven) = oven(lesson, &args.oven) else { return CANNOT_READ };
    let celsius = match args.celsius.map(oven_temperature).transpose() {
        Ok(celsius) => celsius,
        Err(why) => {
            wrong(&why);
            return CANNOT_READ;
        }
    };
    let Ok(minutes) = bake_minutes(args.minutes) else { return CANNOT_READ };
    let today = || crate::units::local_now().date_naive();
    let bake = PastBake {
        date: Some(args.date.unwrap_or_else(today)),
        recipe: lesson.recipes[recipe.0].name.clone(),
        tin: label,
        oven,
        celsius,
        minutes,
        note: args.note.clone(),
    };
    if let Err(error) = note_outcome(&path, &bake) {
        wrong(&format!("{}: the bake is not noted: {error}", path.display()));
        return DOES_NOT_FIT;
    }
    print(&format!("Noted in {}.", path.display()));
    let past = past_bakes(Some(&path));
    let of = &lesson.recipes[recipe.0];
    let table = tin_table(of, &lesson.tins, &past);
    if let Some(row) = table.iter().find(|r| r.as_choice.label == bake.tin)
        && let Ok(expected) = &row.expected
    {
        let minutes = expected.estimate;
        tell(&format!("{}: {minutes} ({}); {}", bake.tin, expected.origin, took(row)));
        for doubt in doubts(row) {
            tell(&format!("  look: {doubt}"));
        }
    }
    WELL
}

/// The oven as the lesson writes it, or none if none is named; says what there is if
/// there is no such oven.
fn oven(lesson: &Lesson, named: &str) -> Option<String> {
    let named = named.trim();
    if named.is_empty() {
        return Some(String::new());
    }
    let found = lesson.ovens.iter().find(|o| o.name.to_lowercase() == named.to_lowercase());
    if found.is_none() {
        let names: Vec<&str> = lesson.ovens.iter().map(|o| o.name.as_str()).collect();
        let (named, names) = (crate::finding::shortened(named, 60), names.join(", "));
        wrong(&format!("the lesson has no oven \"{named}\"; it has: {names}. Nothing is noted"));
    }
    found.map(|oven| oven.name.clone())
}

/// The recipe and the tin as the lesson writes them; says what there is if
/// there is no such thing.
fn find(lesson: &Lesson, args: &TookArgs) -> Option<(RecipeId, String)> {
    let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let Some(recipe) = lesson.recipes.iter().position(|r| same(&r.name, &args.recipe)) else {
        let names: Vec<&str> = lesson.recipes.iter().map(|r| r.name.as_str()).collect();
        wrong(&format!("there is no recipe \"{}\"; there are: {}", args.recipe, names.join(", ")));
        return None;
    };
    let tins = &lesson.recipes[recipe].tins;
    let Some(tin) = tins.iter().find(|t| same(&t.label, &args.tin)) else {
        let names: Vec<&str> = tins.iter().map(|t| t.label.as_str()).collect();
        wrong(&format!("the recipe has no tin \"{}\"; it has: {}", args.tin, names.join(", ")));
        return None;
    };
    Some((RecipeId(recipe), tin.label.clone()))
}
