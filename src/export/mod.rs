//! A checked plan as text for people and as JSON for programs, and so is why
//! groups are not served; the expanded problem as JSON for other solvers.

pub mod afterwards;
pub mod better;
pub mod calendar;
pub mod changes;
mod jobs;
pub mod json;
pub mod odds;
pub mod order;
pub mod problem;
mod problem_json;
pub mod rehearsal;
pub mod standing;
pub mod table;
pub mod text;
pub mod tins;
pub mod today;
pub mod week;
mod week_text;
pub mod why;
