//! The standard scheduling problem on the program's own engine: proofs of it are
//! compared with published optima.

mod bound;
mod problem;
mod serial;
mod solve;

pub use problem::{Activity, Lag, Resource, Scheduling};
pub use serial::serial;
pub use solve::{Outcome, ScheduleWanted, solve};
