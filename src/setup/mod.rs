//! Setting a lesson up: what a teacher enters, as changes of the lesson's
//! file.
//!
//! Everything here goes from shapes to shapes; whether they are a lesson, or
//! what they still lack, is said by `file`.

pub mod again;
pub mod at_ovens;
pub mod balance;
pub mod borrowed;
pub mod class;
pub mod even_eggs;
pub mod field;
pub mod groups;
pub mod looked_at;
mod makers;
pub mod own_time;
pub mod packets;
pub mod recipe;
pub mod rename;
pub mod roles;
mod set_up;
pub mod starter;
pub mod steps;
pub mod suggest;
pub mod teacher_notes;
pub mod usual_kit;
pub mod written;

pub use set_up::SetUp;
