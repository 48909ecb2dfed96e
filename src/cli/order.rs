//! `ovenbell order`: what is bought for lessons, and what its labels say.

use std::collections::BTreeSet;
use std::path::PathBuf;

use clap::Args;

use super::given::{Given, given};
use super::kept::{self, Kind};
use super::say::{english, said, tell};
use super::{CANNOT_READ, DOES_NOT_FIT, OUR_FAULT, WELL, print_json, wrong};
use crate::export::order::Order;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, write_new};
use crate::keep;
use crate::speech::allergens;
use crate::stores::{Extra, Stores};

pub(super) const HELP: &str = "Examples:
  ovenbell order my-lesson.ron
  ovenbell order monday.ron tuesday.ron --csv order.csv
  ovenbell order my-lesson.ron --json
  ovenbell order my-week.ron --csv order.csv

Of a week's file it is the order of all its lessons, as often as each is taught.
Amounts are of the plan kept with a lesson; where none is kept, of each group's first
tin. What a packet holds, where it is bought, its price and who read its label stand
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
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u32).range(..100))]
    demo: u32,
    /// Order so many spare sets of each recipe [default: 1, or as the day's
    /// lesson says].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(..100))]
    spare: Option<u32>,
    /// Print the order as JSON.
    #[arg(long)]
    json: bool,
}

/// Prints an order.
pub(super) fn run(args: &OrderArgs) -> u8 {
    match ordered(args) {
        Ok(status) | Err(status) => status,
    }
}

fn may_keep(args: &OrderArgs) -> Result<(), u8> {
    let read: Vec<_> = args.lessons.iter().map(|path| Some(&**path)).collect();
    kept::may_keep(&[(args.csv.as_deref(), Kind::Order)], &read)
}

fn ordered(args: &OrderArgs) -> Result<u8, u8> {
    may_keep(args)?;
    let given = given(&args.lessons, None, None)?;
    let mut told: BTreeSet<&PathBuf> = BTreeSet::new();
    let mut all: Vec<(&Given, Stores)> = Vec::new();
    for of in &given.lessons {
        let lesson = &of.loaded.lesson;
        let plan = of.loaded.told.as_ref().and_then(|kept| keep::told(lesson, kept).ok());
        if plan.is_none() && told.insert(&of.path) {
            let words = "no plan is kept with this lesson, or it no longer holds: amounts are of \
                         each group's first tin";
            wrong(&format!("{}: {}", of.path.display(), said(words)));
        }
        let usual = Extra::usual(lesson);
        let extra = Extra { demo: args.demo, spare: args.spare.unwrap_or(usual.spare) };
        all.push((of, Stores::of(lesson, plan.as_ref(), extra)));
    }
    let lessons: Vec<_> = all.iter().map(|(of, stores)| (&of.loaded.lesson, stores)).collect();
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
    Ok(if given.is_whole { WELL } else { DOES_NOT_FIT })
}
