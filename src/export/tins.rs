//! Tin tables as text for people and as JSON for programs. The fields are
//! documented in the README.

use std::fmt::Write;

use serde::Serialize;

use crate::bake::Outlook;
use crate::bake::tin_table::TinRow;
use crate::model::{Lesson, Origin, RecipeId};
use crate::view::tin_words::{doubts, filled, how_many, tin_name, took};

/// The table of one recipe of a lesson.
pub type Table = (RecipeId, Vec<TinRow>);

#[derive(Serialize)]
struct TinsJson<'a> {
    tins: Vec<TinJson<'a>>,
}

#[derive(Serialize)]
struct TinJson<'a> {
    recipe: &'a str,
    tin: &'a str,
    kind: &'a str,
    of_recipe: bool,
    count: u32,
    batch: f64,
    celsius: f64,
    each_ml: Option<f64>,
    depth_mm: Option<f64>,
    fill: Option<f64>,
    minutes: Option<f64>,
    low80: Option<f64>,
    high80: Option<f64>,
    low90: Option<f64>,
    high90: Option<f64>,
    cool_minutes: Option<f64>,
    source: Option<String>,
    kappa: Option<f64>,
    took: Vec<f64>,
    warnings: Vec<String>,
    why_not: Option<String>,
}

/// Three decimals: more would only pretend.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// The tables as JSON.
///
/// # Errors
/// If the library refuses to write it.
pub fn json(lesson: &Lesson, tables: &[Table]) -> Result<String, serde_json::Error> {
    let rows = tables.iter().flat_map(|(id, rows)| {
        let recipe = lesson.recipes[id.0].name.as_str();
        rows.iter().map(move |row| one(lesson, recipe, row))
    });
    serde_json::to_string_pretty(&TinsJson { tins: rows.collect() })
}

fn one<'a>(lesson: &'a Lesson, recipe: &'a str, row: &'a TinRow) -> TinJson<'a> {
    let known = row.expected.as_ref().ok();
    let of = |f: &dyn Fn(&crate::bake::Estimate) -> f64| known.map(|e| rounded(f(&e.estimate)));
    TinJson {
        recipe,
        tin: &row.as_choice.label,
        kind: tin_name(lesson, row),
        of_recipe: row.choice.is_some(),
        count: row.as_choice.count,
        batch: row.as_choice.batch,
        celsius: row.as_choice.celsius.get(),
        each_ml: row.each.map(|e| rounded(e.value.get())),
        depth_mm: row.depth.map(rounded),
        fill: row.fill.map(|f| rounded(f.value)),
        minutes: of(&|e| e.usual.get()),
        low80: of(&|e| e.eighty.0.get()),
        high80: of(&|e| e.eighty.1.get()),
        low90: of(&|e| e.ninety.0.get()),
        high90: of(&|e| e.ninety.1.get()),
        cool_minutes: row.cools.map(|c| rounded(c.minutes.get())),
        source: known.map(|e| e.origin.to_string()),
        kappa: known.and_then(|e| e.kappa).map(rounded),
        took: row.took.iter().map(|m| m.get()).collect(),
        warnings: doubts(row),
        why_not: row.expected.as_ref().err().map(ToString::to_string),
    }
}

/// A tin that belongs to no recipe.
#[derive(Serialize)]
struct OneTinJson<'a> {
    tin: &'a str,
    count: u32,
    depth_mm: f64,
    fill: Option<f64>,
    minutes: f64,
    low80: f64,
    high80: f64,
    low90: f64,
    high90: f64,
    cool_minutes: f64,
    source: String,
    kappa: f64,
    warnings: &'a [String],
}

/// A tin worked out from the figures of another, as JSON.
///
/// # Errors
/// If the library refuses to write it.
pub fn one_json(tin: &str, kappa: f64, outlook: &Outlook) -> Result<String, serde_json::Error> {
    let estimate = &outlook.estimate;
    serde_json::to_string_pretty(&OneTinJson {
        tin,
        count: 1,
        depth_mm: rounded(outlook.depth_mm),
        fill: outlook.fill.map(rounded),
        minutes: rounded(estimate.usual.get()),
        low80: rounded(estimate.eighty.0.get()),
        high80: rounded(estimate.eighty.1.get()),
        low90: rounded(estimate.ninety.0.get()),
        high90: rounded(estimate.ninety.1.get()),
        cool_minutes: rounded(outlook.hand_warm.get()),
        source: Origin::Computed.to_string(),
        kappa: rounded(kappa),
        warnings: &outlook.warnings,
    })
}

/// The tables in words.
pub fn text(lesson: &Lesson, tables: &[Table]) -> String {
    let mut out = String::new();
    for (id, rows) in tables {
        let recipe = &lesson.recipes[id.0];
        let _ = writeln!(out, "{}", recipe.name);
        for row in rows {
            if row.choice.is_none() && rows.iter().find(|r| r.choice.is_none()) == Some(row) {
                let _ = writeln!(out, "  Other tins, a whole batch:");
            }
            let kind = how_many(tin_name(lesson, row), row);
            let label = &row.as_choice.label;
            let name = if *label == kind { kind } else { format!("{label} ({kind})") };
            let _ = writeln!(out, "  {name}, {:.0} °C", row.as_choice.celsius.get());
            match &row.expected {
                Ok(expected) => {
                    let line = format!("{} ({})", expected.estimate, expected.origin);
                    let _ = writeln!(out, "    minutes: {line}");
                }
                Err(why) => {
                    let _ = writeln!(out, "    minutes not known: {why}");
                }
            }
            let mut more = vec![filled(recipe, row)];
            if let Some(cools) = row.cools {
                more.push(format!("cools {:.0} min ({})", cools.minutes.get(), cools.origin));
            }
            more.push(took(row));
            more.retain(|m| !m.is_empty());
            if !more.is_empty() {
                let _ = writeln!(out, "    {}", more.join("; "));
            }
            for doubt in doubts(row) {
                let _ = writeln!(out, "    look: {doubt}");
            }
        }
    }
    out.push_str(
        "Minutes are a guide: a bake is done by its done test, never by the clock alone.\n",
    );
    out
}
