//! A department's week as a picture and as cards: rooms along one clock line, what is
//! wanted of what they share, and what does not go well.

mod board;
pub mod card;
mod item;
mod technician;
pub mod words;

pub use board::{Bar, Column, Contents, RibbonOfDay, RoomOfDay, RoomRow, WeekBoard, WeekRibbon};
pub use item::{Item, TroubleId};
pub use technician::{set_outs, technicians_day};
