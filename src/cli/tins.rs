//! `ovenbell tins`: how long a recipe bakes in other tins.

use clap::Args;
use serde::Serialize;

use super::{CANNOT_READ, OUR_FAULT, WELL, print, tins_free};
use crate::bake::Outlook;

pub(super) const HELP: &str = "Examples:
  ovenbell tins --celsius 180 --own round:20cm --own-ml 1000 --own-minutes 50 \\
                --tin hole:7x5cm --ml 60
  ovenbell tins --celsius 180 --own rect:13x9in --own-ml 1400 --own-minutes 45 \\
                --tin round:20cm --ml 700 --height 5cm --json

Time alone never says that a cake is done: golden, springs back, a little
shrunk from the side, a skewer from the middle comes out clean.";

#[derive(Debug, Args)]
pub(super) struct TinsArgs {
    #[command(flatten)]
    free: tins_free::FreeArgs,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// One tin in JSON.
#[derive(Debug, Serialize)]
pub(super) struct TinLine {
    tin: String,
    count: u32,
    depth_mm: f64,
    fill: Option<f64>,
    minutes: f64,
    low80: f64,
    high80: f64,
    low90: f64,
    high90: f64,
    cool_minutes: f64,
    source: &'static str,
    kappa: f64,
    warnings: Vec<String>,
}

impl TinLine {
    /// Of so many tins or holes that are filled alike; figures to three
    /// decimals.
    pub(super) fn computed(tin: &str, count: u32, kappa: f64, outlook: &Outlook) -> Self {
        let to_three = |figure: f64| (1e3 * figure).round() / 1e3;
        let estimate = &outlook.estimate;
        Self {
            tin: tin.to_owned(),
            count,
            depth_mm: to_three(outlook.depth_mm),
            fill: outlook.fill.map(to_three),
            minutes: to_three(estimate.usual.get()),
            low80: to_three(estimate.eighty.0.get()),
            high80: to_three(estimate.eighty.1.get()),
            low90: to_three(estimate.ninety.0.get()),
            high90: to_three(estimate.ninety.1.get()),
            cool_minutes: to_three(outlook.hand_warm.get()),
            source: "computed",
            kappa: to_three(kappa),
            warnings: outlook.warnings.clone(),
        }
    }
}

/// Works out what the arguments ask for.
pub(super) fn run(args: &TinsArgs) -> u8 {
    let answer = match tins_free::answer(&args.free) {
        Ok(answer) => answer,
        Err(fault) => {
            eprintln!("{fault}");
            return CANNOT_READ;
        }
    };
    if !args.json {
        print(&answer.text());
        return WELL;
    }
    match serde_json::to_string_pretty(&answer.line()) {
        Ok(json) => {
            print(&json);
            WELL
        }
        Err(fault) => {
            eprintln!("a fault of ovenbell's: {fault}");
            OUR_FAULT
        }
    }
}
