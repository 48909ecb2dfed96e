//! After the lesson: what the day's facts say that it took, and what a class's
//! lessons teach about the next.

mod answers;
mod learned;
mod observed;

pub use answers::Answers;
pub use learned::{ENOUGH, Learned, hint_words, learned};
pub use observed::{GroupDay, Moment, Observed, Part, Unlikely, observed};
