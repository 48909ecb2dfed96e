//! What recipes hold, as text for people and as JSON for programs. The fields
//! are documented in `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use super::foods::SOURCE;
use super::{NUTRIENTS, Part, Sum, Worked};
use crate::units::plain_number;

/// What is to be kept in mind of all figures.
const CAUTION: &str = "Working figures for lessons, from raw ingredients: no label, and no advice on \
health or diet. Salt is not worked out.";

#[derive(Serialize)]
struct NutritionJson<'a> {
    recipes: Vec<WorkedJson<'a>>,
    source: &'a str,
    caution: &'a str,
}

#[derive(Serialize)]
struct WorkedJson<'a> {
    recipe: &'a str,
    raw_g: f64,
    baked_g: f64,
    loss_percent: f64,
    loss_from: String,
    portions: Option<f64>,
    nutrients: Vec<NutrientJson>,
    taken: Vec<TakenJson<'a>>,
    missing: Vec<MissingJson<'a>>,
    missing_share: f64,
}

#[derive(Serialize)]
struct NutrientJson {
    name: &'static str,
    unit: &'static str,
    batch: f64,
    per_100_g: f64,
    per_portion: Option<f64>,
    at_least: bool,
}

#[derive(Serialize)]
struct TakenJson<'a> {
    ingredient: &'a str,
    grams: Option<f64>,
    by_volume: bool,
    food: &'a str,
    code: &'a str,
}

#[derive(Serialize)]
struct MissingJson<'a> {
    ingredient: &'a str,
    grams: Option<f64>,
}

/// Three decimals: more would only pretend.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// As JSON.
///
/// # Errors
/// If the library refuses to write it.
pub fn json(all: &[Worked]) -> Result<String, serde_json::Error> {
    let recipes = all.iter().map(one).collect();
    serde_json::to_string_pretty(&NutritionJson { recipes, source: SOURCE, caution: CAUTION })
}

fn one(worked: &Worked) -> WorkedJson<'_> {
    let (hundred, portion) = (worked.per_100_g(), worked.per_portion());
    let nutrients = NUTRIENTS.iter().enumerate().map(|(i, nutrient)| NutrientJson {
        name: nutrient.name,
        unit: nutrient.unit,
        batch: rounded(worked.batch[i].amount),
        per_100_g: rounded(hundred[i].amount),
        per_portion: portion.as_ref().map(|portion| rounded(portion[i].amount)),
        at_least: worked.batch[i].at_least,
    });
    let taken = worked.taken.iter().map(|t| TakenJson {
        ingredient: &t.part.name,
        grams: t.part.grams.map(rounded),
        by_volume: t.part.by_volume,
        food: &t.food.name,
        code: &t.food.code,
    });
    let missing = worked
        .missing
        .iter()
        .map(|part| MissingJson { ingredient: &part.name, grams: part.grams.map(rounded) });
    WorkedJson {
        recipe: &worked.recipe,
        raw_g: rounded(worked.raw_grams),
        baked_g: rounded(worked.baked_grams),
        loss_percent: worked.loss.percent,
        loss_from: worked.loss.from.to_string(),
        portions: worked.portions.map(|portions| rounded(portions.count)),
        nutrients: nutrients.collect(),
        taken: taken.collect(),
        missing: missing.collect(),
        missing_share: rounded(worked.missing_share()),
    }
}

/// As text: a table for each recipe, then where the figures come from.
pub fn text(all: &[Worked]) -> String {
    let mut text = String::new();
    for worked in all {
        // Writing to a string does not fail.
        let _ = table(&mut text, worked);
        text.push('\n');
    }
    text.push_str(&format!("{CAUTION}\n{SOURCE}\n"));
    text
}

fn table(text: &mut String, worked: &Worked) -> std::fmt::Result {
    let Worked { recipe, raw_grams, baked_grams, loss, .. } = worked;
    writeln!(
        text,
        "{recipe}: a batch is {raw_grams:.0} g, {baked_grams:.0} g after the oven ({} % lost, {})",
        plain_number(loss.percent),
        loss.from
    )?;
    match worked.portions {
        None => writeln!(text, "how many portions that is, nobody says: --portions N")?,
        Some(portions) => {
            let grams = baked_grams / portions.count;
            let how = if portions.entered { "" } else { ", one for each hole of its first tin" };
            writeln!(text, "{} portions of {grams:.0} g{how}", plain_number(portions.count))?;
        }
    }
    let portion = worked.per_portion();
    let last = if portion.is_some() { "portion" } else { "" };
    let heads = format!("  {:<22}{:>12}{:>12}{last:>12}", "", "batch", "100 g");
    writeln!(text, "{}", heads.trim_end())?;
    for (i, (nutrient, hundred)) in NUTRIENTS.iter().zip(worked.per_100_g()).enumerate() {
        let cell = |sum: Sum| {
            let figure = match nutrient.unit {
                "g" => format!("{:.1}", sum.amount),
                _ => format!("{:.0}", sum.amount),
            };
            format!("{}{figure}", if sum.at_least { "≥ " } else { "" })
        };
        let words = format!("{}, {}", nutrient.words, nutrient.unit);
        let of_portion = portion.as_ref().map(|portion| cell(portion[i])).unwrap_or_default();
        let (batch, hundred) = (cell(worked.batch[i]), cell(hundred));
        let row = format!("  {words:<22}{batch:>12}{hundred:>12}{of_portion:>12}");
        writeln!(text, "{}", row.trim_end())?;
    }
    if worked.batch.iter().any(|sum| sum.at_least) {
        writeln!(text, "  ≥ at least: the table does not know all of it")?;
    }
    for part in &worked.missing {
        let how_much = match part.grams {
            Some(grams) => {
                let share = 100.0 * grams / raw_grams;
                let share =
                    if share < 1.0 { "less than 1".to_owned() } else { format!("{share:.0}") };
                format!("{} g, {share} % of the weight", plain_number(grams))
            }
            None => "how much is not said".to_owned(),
        };
        writeln!(text, "  not in it: {} ({how_much})", part.name)?;
    }
    writeln!(text, "  taken for:")?;
    for taken in &worked.taken {
        let Part { name, grams, by_volume } = &taken.part;
        let grams = plain_number(grams.unwrap_or(0.0));
        let how = if *by_volume { ", a spoon or cup as of water" } else { "" };
        writeln!(text, "    {name}, {grams} g{how}: {} ({})", taken.food.name, taken.food.code)?;
    }
    Ok(())
}
