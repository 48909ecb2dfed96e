//! The regions of the window between which F6 goes.

/// A region of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Region {
    /// The row along the top.
    Bar,
    /// The list of what there is to choose from, along the left.
    Choices,
    /// What fills the place: the running order, a page.
    Middle,
    /// The card.
    Card,
    /// Changes that would help.
    Offers,
}

impl Region {
    /// All, in the order in which F6 goes through them.
    pub const ALL: [Region; 5] =
        [Region::Bar, Region::Choices, Region::Middle, Region::Card, Region::Offers];
}
