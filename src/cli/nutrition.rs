//! `ovenbell nutrition`: what a recipe holds.

use std::path::PathBuf;

use clap::Args;

use super::{CANNOT_READ, OUR_FAULT, WELL, print, print_json, recipes_of, say, wrong};
use crate::file::format::{
    FormShape, IngredientShape, MeasureShape, RecipeShape, StepKindShape, TinShape,
};
use crate::model::Measure;
use crate::nutrition::{Loss, MOST_PORTIONS, NotWorked, Part, Portions, Worked, told, work_out};

pub(super) const HELP: &str = "Examples:
  ovenbell nutrition my-lesson.ron
  ovenbell nutrition my-lesson.ron --recipe \"Lemon bake\" --portions 12 --loss 9
  ovenbell nutrition buns.ron --json

Working figures for lessons: no label, and no advice on health or diet.";

#[derive(Debug, Args)]
pub(super) struct NutritionArgs {
    /// A lesson file (RON), or a file with one recipe.
    file: PathBuf,
    /// Only this recipe.
    #[arg(long, value_name = "NAME")]
    recipe: Option<String>,
    /// Portions of a batch [default: the holes of the recipe's first tin, if it
    /// has any].
    #[arg(long, value_name = "N", value_parser = portions, allow_negative_numbers = true)]
    portions: Option<f64>,
    /// Percent of its weight that it loses in the oven [default: 10, with yeast
    /// 13].
    #[arg(long, value_name = "PERCENT", value_parser = loss, allow_negative_numbers = true)]
    loss: Option<f64>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

fn portions(text: &str) -> Result<f64, String> {
    let number = text.parse::<f64>().ok().filter(|n| (1.0..=MOST_PORTIONS).contains(n));
    number.ok_or_else(|| format!("portions are a number from 1 to {MOST_PORTIONS}, such as 12"))
}

fn loss(text: &str) -> Result<f64, String> {
    let number = text.parse::<f64>().ok().filter(|n| (0.0..=Loss::MOST).contains(n));
    number.ok_or_else(|| format!("a loss is a percentage from 0 to {}, such as 10", Loss::MOST))
}

/// Works out what the arguments name.
pub(super) fn run(args: &NutritionArgs) -> u8 {
    match worked_out(args) {
        Ok(status) | Err(status) => status,
    }
}

fn worked_out(args: &NutritionArgs) -> Result<u8, u8> {
    let (recipes, tins) = recipes_of::all(&args.file)?;
    let recipes = recipes_of::named(&args.file, recipes, args.recipe.as_deref())?;
    let mut all: Vec<Worked> = Vec::new();
    let mut status = WELL;
    for recipe in &recipes {
        match of(recipe, &tins, args) {
            Ok(worked) => all.push(worked),
            Err(NotWorked::Table(fault)) => {
                wrong(&format!("a fault of ovenbell's: {fault}"));
                return Err(OUR_FAULT);
            }
            Err(why) => {
                wrong(&format!("{}: {}", args.file.display(), say::said(&why.to_string())));
                status = CANNOT_READ;
            }
        }
    }
    if args.json {
        print_json(told::json(&all))?;
    } else if !all.is_empty() {
        // Foods and where their figures come from are named as they are there.
        print(&told::text(&all));
    }
    Ok(status)
}

fn of(recipe: &RecipeShape, tins: &[TinShape], args: &NutritionArgs) -> Result<Worked, NotWorked> {
    let parts: Vec<Part> = recipe.ingredients.iter().map(part).collect();
    let steps = recipe.methods.iter().flat_map(|m| &m.steps);
    let is_baked = steps.into_iter().any(|s| s.kind == StepKindShape::Bake);
    let assumed = || Loss::assumed(is_baked, parts.iter().map(|p| p.name.as_str()));
    let loss = args.loss.map_or_else(assumed, Loss::entered);
    let entered = args.portions.map(|count| Portions { count, entered: true });
    let portions = entered.or_else(|| holes(recipe, tins));
    work_out(&recipe.name, &parts, loss, portions)
}

fn part(of: &IngredientShape) -> Part {
    let measure = of.unit.unwrap_or(MeasureShape::Gram);
    let grams = Measure::from(measure).grams(of.amount);
    let by_volume =
        matches!(measure, MeasureShape::Teaspoon | MeasureShape::Tablespoon | MeasureShape::UsCup);
    let is_weight = grams.is_finite() && grams > 0.0;
    Part { name: of.name.clone(), grams: is_weight.then_some(grams), by_volume }
}

/// Each hole of the first tin is a portion.
fn holes(recipe: &RecipeShape, tins: &[TinShape]) -> Option<Portions> {
    let choice = recipe.tins.first()?;
    let tin = tins.iter().find(|tin| tin.name == choice.tin)?;
    let Some(FormShape::Holes { count, .. }) = &tin.form else { return None };
    let holes = u32::try_from(*count).ok().map(f64::from)?;
    let tins = u32::try_from(choice.count.unwrap_or(1)).ok().map(f64::from)?;
    let count = holes * tins / choice.batch.unwrap_or(1.0);
    (count.is_finite() && count > 0.0).then_some(Portions { count, entered: false })
}
