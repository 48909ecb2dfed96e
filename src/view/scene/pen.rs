//! How lines are drawn.

use super::Colour;

/// Whether a line is broken, by what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dash {
    /// Not broken.
    Unbroken,
    /// The thread from one step to the next, where a group's mixture waits.
    Thread,
    /// The edge of waiting, and of what is missing.
    Edge,
    /// The edge of a bar of a plan that is laid over.
    Outline,
    /// A bell or a step of the class in a plan that is laid over.
    Elsewhere,
    /// An oven's temperature.
    Heat,
    /// How much of something there is.
    There,
    /// How far a tin may be filled.
    Limit,
}

impl Dash {
    /// Lengths of a dash and of the gap after it; `None` if it is not broken.
    pub const fn lengths(self) -> Option<(f32, f32)> {
        match self {
            Dash::Unbroken => None,
            Dash::Thread => Some((3.0, 4.0)),
            Dash::Edge => Some((4.0, 3.0)),
            Dash::Outline => Some((4.0, 2.0)),
            Dash::Elsewhere => Some((6.0, 4.0)),
            Dash::Heat => Some((2.5, 2.5)),
            Dash::There => Some((2.0, 3.0)),
            Dash::Limit => Some((4.0, 4.0)),
        }
    }
}

/// What a line is drawn with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Its colour.
    pub colour: Colour,
    /// Its width.
    pub width: f32,
    /// Whether its lines are broken.
    pub dash: Dash,
}

impl Pen {
    /// A pen of unbroken lines.
    pub const fn new(colour: Colour, width: f32) -> Self {
        Self { colour, width, dash: Dash::Unbroken }
    }

    /// The same with broken lines.
    #[must_use]
    pub const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}
