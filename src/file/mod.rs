//! Files: lessons and plans, read and written.
//!
//! A lesson file becomes the shapes of [`format`], and these become a
//! [`crate::model::Lesson`] or findings by way of `build`.

mod build;
pub mod format;
pub mod library;
mod load;
pub mod locate;
mod syntax;
mod tokens;

pub use load::{LARGEST_FILE, Loaded, load_lesson, read_lesson};
