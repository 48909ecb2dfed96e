//! ovenbell fits a class's baking practical into a school period.
//!
//! Ground to roof, each line knowing only those above it as `tests/layers.rs`
//! lays down:
//!
//! - [`units`]: minutes, clock times, temperatures, lengths, weights
//! - [`finding`]: what every layer reports in
//! - [`model`]: the lesson: room, period, recipes, groups
//! - [`plan`]: what is where and when, unchecked
//! - [`check`]: judges plans by every rule, calling no planner
//! - [`file`]: lessons and plans, read and written
pub mod check;
pub mod file;
pub mod finding;
pub mod model;
pub mod plan;
pub mod units;
