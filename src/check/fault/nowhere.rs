//! What a plan points at and the lesson does not have.

use super::Words;

/// What in a plan points at something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Names {
    /// The choice of a group.
    Choice,
    /// A step of a group.
    Step,
    /// A tin in an oven, by its group.
    LoadedTin,
    /// A tin in an oven, by its place.
    Tin,
    /// Kit in use.
    Kit,
    /// A tin in use.
    TinInUse,
    /// A step of the class.
    ClassStep,
    /// A temperature of an oven.
    Temperature,
    /// An adult at a door, by the oven.
    AdultAtDoor,
    /// A door, by the adult at it.
    Door,
    /// A group that is not served.
    Refusal,
}

/// Of what the lesson does not have so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// Groups.
    Group,
    /// Methods of a recipe.
    Method,
    /// Tins of a recipe.
    Tin,
    /// Steps of the class.
    ClassStep,
    /// Adults.
    Adult,
    /// Ovens.
    Oven,
    /// Shelves of an oven.
    Shelf,
    /// Stocks of kit.
    Stock,
    /// Kinds of tin.
    TinKind,
}

/// Something in a plan points at what the lesson does not have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nowhere {
    /// What points.
    pub by: Names,
    /// At what.
    pub at: Missing,
    /// At which of them, from 0.
    pub position: usize,
}

impl Nowhere {
    pub(super) fn told(&self, _: &Words<'_>) -> String {
        let by = match self.by {
            Names::Choice => "a choice",
            Names::Step => "a step",
            Names::LoadedTin => "a tin in an oven",
            Names::Tin => "a tin",
            Names::Kit => "kit in use",
            Names::TinInUse => "a tin in use",
            Names::ClassStep => "a step of the class",
            Names::Temperature => "a temperature",
            Names::AdultAtDoor => "an adult at a door",
            Names::Door => "a door",
            Names::Refusal => "a refusal",
        };
        let at = match self.at {
            Missing::Group => "group",
            Missing::Method => "method",
            Missing::Tin => "tin",
            Missing::ClassStep => "step",
            Missing::Adult => "adult",
            Missing::Oven => "oven",
            Missing::Shelf => "shelf",
            Missing::Stock => "stock",
            Missing::TinKind => "kind of tin",
        };
        // Positions count from 0, people from 1.
        let number = self.position.saturating_add(1);
        format!("{by} names {at} number {number}, which the lesson does not have")
    }
}
