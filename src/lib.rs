//! ovenbell fits a class's baking practical into a school period.
//!
//! Ground to roof, each line knowing only those above it as
//! `tests/library/layers.rs` lays down:
//!
//! - [`words`]: numbers and lists in words
//! - [`units`]: minutes, clock times, temperatures, lengths, weights
//! - [`finding`]: what every layer reports in
//! - [`model`]: the lesson: room, period, recipes, groups
//! - [`plan`]: what is where and when, unchecked
//! - [`mod@file`]: lessons and plans, read and written
//! - [`bake`]: bake times, cooling and ovens, from the physics of heat
//! - [`convert`]: kitchen measures in other measures
//! - [`speech`]: British, Irish and American words, units and allergen lists
//! - [`graph`]: a lesson as a graph of steps and as whole-minute tasks
//! - [`planner`]: looks for plans
//! - [`check`]: judges plans by every rule, calling no planner
//! - [`change`]: the smallest changes that make a lesson fit
//! - [`setup`]: what a teacher enters, as changes of a lesson's file
//! - [`today`]: the day on which a lesson is taught
//! - [`hand`]: things of a plan moved and held by hand
//! - [`view`]: what a person is shown, as words and plain geometry
//! - [`export`]: a checked plan as text and as JSON
//! - [`session`]: one lesson at work, without a window
//! - [`cli`]: the command line
//! - `app`: the window (feature `gui`)

#[cfg(feature = "gui")]
pub mod app;
pub mod bake;
pub mod change;
pub mod check;
pub mod cli;
pub mod convert;
pub mod export;
pub mod file;
pub mod finding;
pub mod graph;
pub mod hand;
pub mod model;
pub mod plan;
pub mod planner;
pub mod session;
pub mod setup;
pub mod speech;
pub mod today;
pub mod units;
pub mod view;
pub mod words;
