//! What was read, as text for people and as JSON for programs. The fields are
//! documented in `assets/json.md`.

use std::fmt::Write as _;
use std::path::Path;

use serde::Serialize;

use super::read::{Read, Times};
use crate::file::format::{MeasureShape, ReviewedShape, StepKindShape};
use crate::words::counted;

#[derive(Serialize)]
struct ReadJson<'a> {
    recipe: &'a str,
    out: Option<String>,
    ingredients: Vec<IngredientJson<'a>>,
    steps: Vec<StepJson<'a>>,
    tins: Vec<TinJson<'a>>,
    times: TimesJson,
    review: Vec<ReviewJson<'a>>,
    kept: &'a [String],
}

#[derive(Serialize)]
struct IngredientJson<'a> {
    line: &'a str,
    name: &'a str,
    amount: Option<f64>,
    unit: Option<MeasureShape>,
    unsure: &'a [String],
}

#[derive(Serialize)]
struct StepJson<'a> {
    name: &'a str,
    kind: StepKindShape,
    words: &'a str,
    has_minutes: bool,
}

#[derive(Serialize)]
struct TinJson<'a> {
    tin: &'a str,
    count: i64,
    celsius: Option<f64>,
}

#[derive(Serialize)]
struct TimesJson {
    prep: Option<f64>,
    cook: Option<f64>,
    total: Option<f64>,
}

#[derive(Serialize)]
struct ReviewJson<'a> {
    about: ReviewedShape,
    text: &'a str,
    why: &'a str,
}

/// What was read, as JSON; `out` is where it was written.
///
/// # Errors
/// If the library refuses to write it.
pub fn json(read: &Read, out: Option<&Path>) -> Result<String, serde_json::Error> {
    let Read { recipe, lines, times: Times { prep, cook, total }, kept, .. } = read;
    let ingredients = lines.iter().map(|line| IngredientJson {
        line: &line.text,
        name: &line.name,
        amount: line.amount,
        unit: line.amount.map(|_| line.unit.unwrap_or(MeasureShape::Gram)),
        unsure: &line.doubts,
    });
    let steps = recipe.methods.first().map_or(&[][..], |m| &m.steps);
    let steps = steps.iter().map(|step| StepJson {
        name: &step.name,
        kind: step.kind,
        words: &step.words,
        has_minutes: step.minutes.is_some(),
    });
    let tins = recipe.tins.iter().map(|tin| TinJson {
        tin: &tin.tin,
        count: tin.count.unwrap_or(1),
        celsius: tin.celsius,
    });
    let review =
        recipe.review.iter().map(|of| ReviewJson { about: of.about, text: &of.text, why: &of.why });
    serde_json::to_string_pretty(&ReadJson {
        recipe: &recipe.name,
        out: out.map(|path| path.display().to_string()),
        ingredients: ingredients.collect(),
        steps: steps.collect(),
        tins: tins.collect(),
        times: TimesJson { prep: *prep, cook: *cook, total: *total },
        review: review.collect(),
        kept,
    })
}

/// What was read, for people: how much of it, and what is to be reviewed.
pub fn text(read: &Read) -> String {
    let recipe = &read.recipe;
    let steps = recipe.methods.first().map_or(0, |m| m.steps.len());
    let mut text = format!(
        "{}: {}, {}\n",
        recipe.name,
        counted(recipe.ingredients.len(), "ingredient"),
        counted(steps, "step")
    );
    if recipe.review.is_empty() {
        text.push_str("nothing is marked for review\n");
        return text;
    }
    text.push_str("to be reviewed:\n");
    for of in &recipe.review {
        let about = if of.text.is_empty() { String::new() } else { format!("\"{}\": ", of.text) };
        // Writing to a string does not fail.
        let _ = writeln!(text, "  {about}{}", of.why);
    }
    text
}
