//! After the lesson: what the day's facts say that it took, and what a class's
//! lessons teach about the next.

mod answers;
mod asked;
mod class_took;
mod learned;
mod noted;
mod observed;
mod take_up;
mod told;

pub use answers::Answers;
pub use asked::{Asked, BakeAsked, TimeAsked, bakes_of_day};
pub use class_took::{ClassTook, class_took};
pub use learned::{ENOUGH, Learned, hint_words, learned};
pub use noted::{NotNoted, is_noted, note, taught};
pub use observed::{GroupDay, Moment, Observed, Part, Unlikely, observed};
pub use take_up::LearnedMinutes;
pub use told::{PartTold, off, part_name, told_of_groups, unlikely_words};
