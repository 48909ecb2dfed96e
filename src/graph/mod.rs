//! A lesson as a graph of steps and as whole-minute tasks: what the planner
//! plans with.

pub mod closure;
pub mod dag;
mod expand;
mod expand_class;
pub mod footprint;
pub mod mixed;
mod orders;
pub mod packing;
pub mod problem;
mod quick;
pub mod windows;

pub use expand::expand;
pub use problem::Problem;
pub use quick::quick;
