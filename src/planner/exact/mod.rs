//! The exact part: proofs by a solver that learns from every conflict (lazy
//! clause generation). [`Scheduling`] is the standard problem, with least and
//! longest lags and counted resources; lessons have a model of their own on
//! the same engine.

mod bound;
mod engine;
mod guide;
pub(super) mod lesson;
mod profile;
mod scheduling;
mod serial;
mod solve;

pub use engine::Limits;
pub use scheduling::{Activity, Lag, Resource, Schedule, Scheduling};
pub use serial::serial;
pub use solve::{Outcome, ScheduleWanted, solve};
