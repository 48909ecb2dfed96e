//! Colours by what they colour. What they look like is a matter of the theme.

use crate::view::board::Work;

/// The colour of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Colour {
    /// The ground of cards and of the board.
    Card,
    /// Text, bells, verdicts.
    Ink,
    /// Text of less weight.
    Soft,
    /// Hairlines, which carry no meaning.
    Line,
    /// Edges that do.
    Edge,
    /// The fill of a kind of work.
    Work(Work),
    /// The edge of a kind of work, and its pattern.
    WorkEdge(Work),
    /// The class's own steps.
    Class,
    /// Their edges.
    ClassEdge,
    /// What is in use of kit and adults.
    Ribbon,
    /// Its edge.
    RibbonEdge,
    /// Within the outlines of a plan that is laid over.
    Other,
    /// An oven's temperature.
    Heat,
    /// What breaks a rule, and nothing else.
    Wrong,
    /// The floor of a shelf.
    Shelf,
}
