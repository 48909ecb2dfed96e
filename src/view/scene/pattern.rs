//! Patterns, so that no kind of work is told by its colour alone.

use crate::view::board::Work;

/// What fills a rectangle beside its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// Nothing but the fill.
    Plain,
    /// Upright lines, as of a door that opens.
    Upright,
    /// A thick line along the bottom, as of a shelf.
    Shelf,
    /// Dots.
    Dots,
    /// Nothing within a dashed edge.
    Dashed,
    /// Slanting lines.
    Hatched,
    /// Slanting lines far apart and faint, which leave bars over them legible.
    Band,
}

impl Pattern {
    /// The pattern of a kind of work: each its own.
    pub fn of(work: Work) -> Self {
        match work {
            Work::Bench => Pattern::Plain,
            Work::Door => Pattern::Upright,
            Work::Bake => Pattern::Shelf,
            Work::Cool => Pattern::Dots,
            Work::Wait => Pattern::Dashed,
            Work::Clear => Pattern::Hatched,
        }
    }
}
