//! What the window shows, a folder a screen. A screen reads what it is given
//! and says what is to be done; it changes nothing itself.

pub mod board;
pub mod broken;
pub mod card;
pub mod class_view;
pub mod corner;
pub mod day;
pub mod foot;
pub mod head;
pub mod help;
pub mod ingredients;
pub mod list;
pub mod nothing_open;
mod on_screen;
pub mod papers;
pub mod rehearse;
pub mod setup;
pub mod strip;
pub mod sure;
pub mod week;

pub use on_screen::OnScreen;
