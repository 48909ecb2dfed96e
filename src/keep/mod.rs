//! Keeping things as they were: a plan that people have been told, the lesson
//! as it is now, and how much of the one a plan of the other keeps.

mod base;
mod begun;
mod changed;
mod had;
mod keeps;
mod renumber;
mod served;
mod taken_over;
mod told;

pub use base::{Base, Holding};
pub use begun::CALLED;
pub use changed::Changed;
pub use had::{Had, bakes_told, stands};
pub use keeps::{Keeps, keeps, later};
pub use renumber::Renumber;
pub use served::{Served, Timed};
pub use taken_over::taken_over;
pub use told::{NoLonger, told};
