//! `ovenbell tins`: how long a recipe bakes in every tin, or in one other.

use std::path::PathBuf;

use clap::Args;

use super::say::{said, tell};
use super::{CANNOT_READ, WELL, print_json, tins_free, tins_table, wrong};

pub(super) const HELP: &str = "Examples:
  ovenbell tins my-lesson.ron
  ovenbell tins my-lesson.ron --recipe \"lemon bake\" --json
  ovenbell tins --recipe \"Tower scones\"
  ovenbell tins --celsius 180 --own round:20cm --own-ml 1000 --own-minutes 50 \\
                --tin hole:7x5cm --ml 60
  ovenbell tins --celsius 180 --own rect:13x9in --own-ml 1400 --own-minutes 45 \\
                --tin round:20cm --ml 700 --height 5cm --json

Time alone never says that a cake is done: golden, springs back, a little
shrunk from the side, a skewer from the middle comes out clean.";

/// The two uses apart from each other: what one of them needs the other does not take.
const USAGE: &str = "ovenbell tins [OPTIONS] [FILE]
       ovenbell tins [OPTIONS] --celsius <T> --own <SPEC> --own-ml <ML> --own-minutes <M> \
--tin <SPEC> --ml <ML>";

#[derive(Debug, Args)]
#[command(override_usage = USAGE)]
pub(super) struct TinsArgs {
    /// A lesson file (RON), or a file with one recipe; without it, a recipe
    /// of the library is looked up.
    #[arg(conflicts_with = "FreeArgs")]
    file: Option<PathBuf>,
    /// Only this recipe.
    #[arg(long, value_name = "NAME", conflicts_with = "FreeArgs")]
    recipe: Option<String>,
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV", conflicts_with = "FreeArgs")]
    outcomes: Option<PathBuf>,
    #[command(flatten)]
    free: Option<tins_free::FreeArgs>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Works out what the arguments ask for.
pub(super) fn run(args: &TinsArgs) -> u8 {
    let Some(free) = &args.free else {
        if args.file.is_none() && args.recipe.is_none() {
            wrong("name a lesson file, a recipe of the library (--recipe NAME), or two tins");
            wrong("see: ovenbell tins --help");
            return CANNOT_READ;
        }
        let (recipe, outcomes) = (args.recipe.as_deref(), args.outcomes.as_deref());
        return tins_table::run(args.file.as_deref(), recipe, outcomes, args.json);
    };
    let answer = match tins_free::answer(free) {
        Ok(answer) => answer,
        Err(fault) => {
            wrong(&said(&fault.to_string()));
            return CANNOT_READ;
        }
    };
    if !args.json {
        tell(&answer.text());
        return WELL;
    }
    print_json(answer.json()).map_or_else(|status| status, |()| WELL)
}
