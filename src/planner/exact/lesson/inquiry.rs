//! The questions of which proofs are made, with what is known of each.

use super::model::Model;

/// An aim of which something can be proved; the lower its cost, the better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// Costs one less with each group served.
    Served,
    Departures,
    Shortfall,
}

/// How close a model is to the rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Depth {
    /// All ovens are taken together.
    Together,
    /// Every oven by itself.
    EachOven,
    /// And no tins stand together for which no places were found. Where it is not proved that
    /// there are none, what this model does not have may exist all the same.
    WithPlaces,
}

/// The question whether anything is better on an aim than all seen, as it stands.
pub(super) struct Inquiry<'p> {
    pub(super) aim: Aim,
    pub(super) depth: Depth,
    /// The question with its model, once it was asked.
    pub(super) model: Option<Model<'p>>,
    /// The least cost of a plan seen, be it the solver's.
    pub(super) best: i64,
    /// No plan of the model costs less than `best`.
    pub(super) closed: bool,
    /// What the model does not have is no plan at all.
    pub(super) sure: bool,
    /// Conflicts spent on it.
    pub(super) spent: u64,
    /// Its model would be too large.
    pub(super) too_large: bool,
}

impl Inquiry<'_> {
    /// Whether no plan at all costs less than so much, by this.
    pub(super) fn proves(&self, cost: i64) -> bool {
        self.closed && self.sure && self.best == cost
    }

    /// Nothing asked yet; a plan costs `best`.
    pub(super) fn new(aim: Aim, depth: Depth, best: i64) -> Self {
        Self {
            aim,
            depth,
            model: None,
            best,
            closed: false,
            sure: true,
            spent: 0,
            too_large: false,
        }
    }
}
