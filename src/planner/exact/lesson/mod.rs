//! Lessons: what no plan can do, proved on a model that keeps every rule or
//! asks for less than it.

mod ask;
mod crowds;
mod each_oven;
mod inquiry;
mod kit;
mod model;
mod modes;
mod ovens;
mod proofs;
mod refute;
mod room;
mod size;
mod watched;

pub(in crate::planner) use ask::{Said, ServeQuestion, ask};
pub(in crate::planner) use model::{ModelPlan, Seed};
pub(in crate::planner) use modes::ready_at_least;
pub(in crate::planner) use ovens::Shelves;
pub(in crate::planner) use proofs::{Known, Proofs};
pub(in crate::planner) use refute::{Refuted, refute_alone, refute_together};
