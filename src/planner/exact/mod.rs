//! The exact part: proofs by a solver that learns from every conflict (lazy
//! clause generation). Lessons have a model of their own on its [`Engine`].

mod engine;
mod guide;
pub(super) mod lesson;
mod profile;

pub use engine::{Engine, Limits, SearchEnd};
