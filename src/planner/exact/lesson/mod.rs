//! Lessons: what no plan can do, proved on a model that keeps every rule or
//! asks for less than it.

mod each_oven;
mod kit;
mod model;
mod modes;
mod ovens;
mod proofs;
mod room;
mod watched;

pub(in crate::planner) use model::Seed;
pub(in crate::planner) use proofs::{Known, prove};
