//! What a teacher could change so that a lesson fits: a menu of changes of the
//! lesson file, each planned and checked, the least first; and the assumed
//! figures on which a verdict hangs.

mod alter;
mod alteration;
mod figures;
pub mod hangs_on;
pub mod item;
pub mod menu;
pub mod offer;
mod recipe_for;
mod search;
mod side_by_side;
mod trial;
mod two_lessons;

pub use alteration::Alteration;
pub use hangs_on::{Care, HangsOn, LessonOutcome, Turns, hangs_on, standing_of};
pub use item::{Item, apply_all};
pub use menu::class::is_plenary;
pub use menu::library::method_for;
pub use menu::menu;
pub use offer::{Enough, Goal, Offer, Offers};
pub use search::{Effort, changes};
