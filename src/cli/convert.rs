//! `ovenbell convert`: kitchen measures in other measures.

use clap::Args;

use super::numbers::figure;
use super::{CANNOT_READ, WELL, print, wrong};
use crate::convert::{ConvertError, Converted, Density, Quantity, Spoons, Unit, convert};

pub(super) const HELP: &str = "Examples:
  ovenbell convert \"gas 4\"
  ovenbell convert \"180 C\" --to fan
  ovenbell convert \"2 cups\" --to ml
  ovenbell convert \"250 ml\" --to g --of \"melted batter\"
  ovenbell convert \"1 cup\" --to g --of \"brown sugar\"
  ovenbell convert \"3 eggs M\" --to g
  ovenbell convert \"160 g\" --to eggs";

#[derive(Debug, Args)]
pub(super) struct ConvertArgs {
    /// A figure and its measure.
    what: String,
    /// The measure wanted; without it, those a kitchen is likely to want.
    #[arg(long, value_name = "MEASURE")]
    to: Option<String>,
    /// What a millilitre weighs, in grams: turns volume into weight and back.
    #[arg(long, value_name = "G/ML", conflicts_with = "of", value_parser = figure("a density", "0.85"), allow_negative_numbers = true)]
    density: Option<f64>,
    /// What it is: water, flour, caster sugar, granulated sugar, icing sugar,
    /// brown sugar, butter, oats, golden syrup, cocoa, whisked batter, creamed
    /// batter, dense batter, melted batter.
    #[arg(long, value_name = "SUBSTANCE")]
    of: Option<String>,
    /// Cups and spoons are metric (250, 15, 5 ml) where nothing else is said;
    /// otherwise they are US customary.
    #[arg(long)]
    metric: bool,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Converts what the arguments name.
pub(super) fn run(args: &ConvertArgs) -> u8 {
    match converted(args) {
        Ok(converted) if args.json => print(&json(&converted)),
        Ok(converted) => print(&converted.to_string()),
        Err(fault) => {
            wrong(&format!("{fault}"));
            return CANNOT_READ;
        }
    }
    WELL
}

fn converted(args: &ConvertArgs) -> Result<Converted, ConvertError> {
    let spoons = if args.metric { Spoons::Metric } else { Spoons::Us };
    let from = Quantity::read(&args.what, spoons)?;
    let named = |name: &String| {
        let unclear = || ConvertError::NoMeasure(name.chars().take(60).collect());
        Unit::named(name, spoons).ok_or_else(unclear)
    };
    let to = args.to.as_ref().map(named).transpose()?;
    let density = match (args.density, &args.of) {
        (Some(figure), _) => Some(Density::new(figure)?),
        (None, Some(name)) => Some(Density::of(name)?),
        (None, None) => None,
    };
    convert(from, to, density)
}

fn json(converted: &Converted) -> String {
    let answers: Vec<serde_json::Value> = converted
        .answers
        .iter()
        .map(|answer| {
            serde_json::json!({
                "measure": answer.exact.unit.label(2.0),
                "exact": answer.exact.figure,
                "kitchen": answer.kitchen,
                "whole_eggs": answer.whole_eggs,
                "low": answer.range.map(|(low, _)| low),
                "high": answer.range.map(|(_, high)| high),
                "by_definition": answer.by_definition,
                "text": answer.to_string(),
            })
        })
        .collect();
    let from = serde_json::json!({
        "measure": converted.from.unit.label(2.0),
        "figure": converted.from.figure,
        "text": converted.from.to_string(),
    });
    let all = serde_json::json!({ "from": from, "answers": answers, "notes": converted.notes });
    format!("{all:#}")
}
