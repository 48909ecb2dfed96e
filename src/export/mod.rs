//! A checked plan as text for people and as JSON for programs.

pub mod json;
pub mod text;
pub mod tins;
