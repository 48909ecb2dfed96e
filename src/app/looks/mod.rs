//! How the window looks and speaks: colours, letters, patterns, fields, words.

pub mod button;
#[cfg(test)]
mod colour_vision;
mod fitted;
pub mod follow;
pub mod fonts;
pub mod form;
pub mod icon;
mod is_low;
pub mod kept;
mod landmark;
pub mod menu;
pub mod on_paper;
pub mod paint;
pub mod paint_scene;
mod palettes;
pub mod patterns;
pub mod say;
pub mod sheet;
pub mod theme;

pub use fitted::{fitted, width_of};
pub use is_low::is_low;
pub use landmark::landmark;
