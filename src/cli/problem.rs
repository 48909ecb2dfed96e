//! `ovenbell problem`: the planning problem of a lesson, for other solvers.

use std::path::PathBuf;

use clap::Args;

use super::{CANNOT_READ, WELL, complain, print_json};
use crate::export;
use crate::file;
use crate::graph::expand;

pub(super) const HELP: &str = "Examples:
  ovenbell problem my-lesson.ron --json
  ovenbell problem my-lesson.ron --json --hard

The fields are described in assets/problem.md.";

#[derive(Debug, Args)]
pub(super) struct ProblemArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Print it as JSON; there is no other form.
    #[arg(long, required = true)]
    json: bool,
    /// Want the whole period as spare time, so that the third aim is the
    /// earliest finish.
    #[arg(long)]
    hard: bool,
}

/// Prints the problem of a lesson file.
pub(super) fn run(args: &ProblemArgs) -> u8 {
    let loaded = match file::load_lesson(&args.lesson) {
        Ok(loaded) => loaded,
        Err(findings) => {
            complain(&args.lesson, &findings);
            return CANNOT_READ;
        }
    };
    let mut problem = expand(&loaded.lesson);
    if args.hard {
        problem.want_the_whole_period();
    }
    let answer = export::problem::problem(&loaded.lesson, &problem);
    print_json(answer).map_or_else(|status| status, |()| WELL)
}
