//! Tests of the program as it is run in a terminal.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common"]
mod common {

    pub mod how_many;

    #[allow(dead_code)] // the tests of the library look at more of a file
    pub mod pdf;

    pub mod program;

    pub mod skipped;
}

mod answers;
mod begin_week;
mod files_kept;
mod for_others;
mod kept_plan;
mod mistakes;
mod odds;
mod recipes;
mod rehearse;
mod sheets;
mod terminal;
mod week;
