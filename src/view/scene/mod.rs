//! Pictures as plain geometry, the same for the window and for paper: the
//! board along its clock, shelves from above, tins in section.
//!
//! A [`Scene`] is a list of items, painted in their order: rectangles, lines,
//! polygons, circles and texts. Colours are names of what a thing is
//! ([`Colour`]), so that each theme and a copier may have its own. Items say
//! what of the lesson they stand for ([`Of`]).

pub mod bar;
pub mod board;
mod colour;
pub mod day;
mod item;
pub mod job;
mod pattern;
mod pen;
pub mod rehearsal;
pub mod shelf;
pub mod sign;
pub mod squares;
mod text;
pub mod tins;
pub mod week;

pub use colour::Colour;
pub use item::{Circle, Corners, Item, Of, Polygon, Rect, Scene, Shape, Stretch};
pub use pattern::Pattern;
pub use pen::{Dash, Pen};
pub use text::{Across, Down, Letters, Measure, Place, Text, TooLong, Weight, cut, wrapped};
