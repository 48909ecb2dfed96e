//! A checked plan as text for people and as JSON for programs; the expanded
//! problem as JSON for other solvers.

pub mod changes;
pub mod json;
pub mod problem;
mod problem_shapes;
pub mod text;
pub mod tins;
