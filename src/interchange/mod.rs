//! Recipes in and out in the open format that other programs read and web
//! pages carry: schema.org's Recipe as JSON-LD, from pages as microdata too.
//!
//! What is read becomes a recipe of a lesson's file. Whatever is unsure is
//! marked for review in it, with why; what the format has no place for is kept
//! with it and written out again. [How](in-and-out.md).

mod amounts;
mod ingredients;
mod instructions;
mod lasts;
mod line;
mod measured;
mod microdata;
mod nodes;
mod oven_words;
mod own_part;
mod page;
mod read;
pub mod review;
mod source;
mod suggested;
pub mod told;
mod write;

pub use line::Line;
pub use read::{Read, Times};
pub use source::{LARGEST_PAGE, Source, Wanted, load, read};
pub use write::{is_ours, write};

/// Most steps, and most ingredients, of a recipe of a lesson's file.
const MOST: usize = 200;
/// A text longer than this, in bytes, is kept and not looked into: no line of a
/// recipe is as long.
const LONGEST_TEXT: usize = 5000;
/// The property in which a recipe of ours stands whole, as the text of its file.
const OWN: &str = "ovenbell:recipe";
/// What the property's name is short for.
const OWN_TERMS: &str = "https://ovenbell.example.org/terms#";
