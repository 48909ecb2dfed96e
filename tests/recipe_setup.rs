//! Setting a recipe up: balance, names, steps, and the picture of its steps.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "recipe_setup/balance.rs"]
mod balance;
#[path = "common/generate.rs"]
mod generate;
#[path = "recipe_setup/graph.rs"]
mod graph;
#[path = "recipe_setup/parts.rs"]
mod parts;
#[path = "recipe_setup/rename.rs"]
mod rename;
#[path = "recipe_setup/steps.rs"]
mod steps;
#[path = "recipe_setup/written.rs"]
mod written;
