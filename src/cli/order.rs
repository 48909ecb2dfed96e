//! `ovenbell order`: what is bought for lessons, and what its labels say.

use std::path::PathBuf;

use clap::Args;

use super::kept::{self, Kind};
use super::numbers::sets;
use super::ready::{Ready, Way, all_ready};
use super::say::{english, said, tell};
use super::shared_args::{GoBy, Noted, Search};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, print_json, wrong};
use crate::export::order::Order;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, write_new};
use crate::speech::allergens;
use crate::stores::{Extra, Stores};

pub(super) const HELP: &str = "Examples:
  ovenbell order my-lesson.ron
  ovenbell order monday.ron tuesday.ron --csv order.csv
  ovenbell order my-lesson.ron --json
  ovenbell order my-week.ron --csv order.csv

Of a week's file it is the order of all its lessons, as often as each is taught.
Amounts are by the tins of the plan kept with a lesson; where none is kept, of one
that is looked for as for the sheets. What a packet holds, where it is bought, its price and who read its label stand
in the lesson's `packets`.";

#[derive(Debug, Args)]
pub(super) struct OrderArgs {
    /// The lesson file (RON), or several; a week's file is all its lessons.
    #[arg(required = true, value_name = "LESSON")]
    lessons: Vec<PathBuf>,
    /// Write the order as a table for spreadsheets to this file.
    #[arg(long, value_name = "OUT")]
    csv: Option<PathBuf>,
    /// Order so many sets for a demo, of each recipe.
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = sets, allow_negative_numbers = true)]
    demo: u32,
    /// Order so many spare sets of each recipe [default: 1, or as the day's
    /// lesson says].
    #[arg(long, value_name = "N", value_parser = sets, allow_negative_numbers = true)]
    spare: Option<u32>,
    /// Print the order as JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    go_by: GoBy,
    #[command(flatten)]
    search: Search,
    #[command(flatten)]
    noted: Noted,
}

/// Prints an order.
pub(super) fn run(args: &OrderArgs) -> u8 {
    match ordered(args) {
        Ok(status) | Err(status) => status,
    }
}

fn may_keep(args: &OrderArgs) -> Result<(), u8> {
    let read = args.lessons.iter().map(|path| Some(&**path));
    let read: Vec<_> =
        read.chain([args.noted.outcomes.as_deref(), args.go_by.plan.as_deref()]).collect();
    kept::may_keep(&[(args.csv.as_deref(), Kind::Order)], &read)
}

/// What a lesson needs by its plan; where there is none, by each group's first tin.
fn stores(args: &OrderArgs, of: &Ready) -> Stores {
    if of.plan.is_none() {
        let words = format!("{}: amounts are of each group's first tin", of.no_plan);
        wrong(&format!("{}: {}", of.given.name, said(&words)));
    }
    let usual = Extra::usual(of.lesson());
    let extra = Extra { demo: args.demo, spare: args.spare.unwrap_or(usual.spare) };
    Stores::of(of.lesson(), of.plan.as_ref(), extra)
}

fn ordered(args: &OrderArgs) -> Result<u8, u8> {
    may_keep(args)?;
    // What is said of kept plans is no part of the order.
    let way = Way { go_by: &args.go_by, search: &args.search, is_quiet: true };
    let ready = all_ready(&args.lessons, args.noted.outcomes.as_deref(), way)?;
    let all: Vec<(&Ready, Stores)> =
        ready.lessons.iter().map(|of| (of, stores(args, of))).collect();
    let lessons: Vec<_> = all.iter().map(|(of, stores)| (of.lesson(), stores)).collect();
    let order = Order::of(&lessons, allergens::list(english()));
    if let Some(path) = &args.csv {
        let table = order.table().map_err(|fault| {
            wrong(&format!("a fault of ovenbell's: {fault}"));
            OUR_FAULT
        })?;
        may_keep(args)?;
        write_new(path, &table, Backup::None, Access::As(&args.lessons[0])).map_err(|error| {
            let why = why(&error, Doing::Writing(path));
            wrong(&format!("{}: the order could not be written: {why}", path.display()));
            CANNOT_READ
        })?;
    }
    if args.json {
        print_json(order.json())?;
    } else {
        tell(&order.text());
    }
    Ok(if ready.is_whole { WELL } else { DOES_NOT_FIT })
}
