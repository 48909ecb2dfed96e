//! The regions of the window between which F6 goes.

/// A region of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Region {
    /// The row along the top.
    Bar,
    /// What there is to choose from: the list along the left, the clock of a rehearsal.
    Choices,
    /// What fills the place: the running order, a page, what is done at a minute.
    Middle,
    /// The card.
    Card,
    /// What lies along the bottom: changes that would help, the teacher's notes.
    Offers,
}

impl Region {
    /// All, in the order in which F6 goes through them.
    pub const ALL: [Region; 5] =
        [Region::Bar, Region::Choices, Region::Middle, Region::Card, Region::Offers];
}
