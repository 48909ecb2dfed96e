//! What the class view follows.

/// What the class view follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Follows {
    /// The time of day.
    #[default]
    Clock,
    /// The minute line.
    Line,
}
