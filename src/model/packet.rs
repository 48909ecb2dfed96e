//! Packets: how an ingredient is bought, and what the label of its packet names.

use chrono::NaiveDate;

use super::measure::Measure;

/// Who brings an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Brought {
    /// The school buys it.
    #[default]
    BySchool,
    /// Pupils bring it from home.
    FromHome,
    /// Either.
    ByEither,
}

/// What somebody read on a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Allergens it names; empty where it names none.
    pub names: Vec<String>,
    /// Initials of who read it.
    pub read_by: String,
    /// When.
    pub read_on: Option<NaiveDate>,
}

/// What a packet costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// One packet, in the money of the school's country.
    pub each: f64,
    /// As of when. A price without a day is not counted.
    pub on: Option<NaiveDate>,
}

/// A packet of an ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Packet {
    /// The ingredient, by its name in recipes.
    pub of: String,
    /// Its brand, as the school calls it; may be empty.
    pub brand: String,
    /// How much is in one.
    pub holds: Option<(f64, Measure)>,
    /// Who brings it.
    pub brought: Brought,
    /// Where it is bought; may be empty.
    pub supplier: String,
    /// Where it stands in the store; may be empty.
    pub store: String,
    /// What one costs.
    pub price: Option<Price>,
    /// What its label names, once somebody has read it.
    pub label: Option<Label>,
}

impl Packet {
    /// Whether it is a packet of an ingredient of this name, in whatever capitals.
    pub fn is_of(&self, ingredient: &str) -> bool {
        self.of.trim().to_lowercase() == ingredient.trim().to_lowercase()
    }

    /// Its label, if somebody has read it. A packet from home is another one every
    /// time: its label counts only where it was read on the day of the lesson.
    pub fn read(&self, day: Option<NaiveDate>) -> Option<&Label> {
        let counts = |label: &&Label| {
            self.brought == Brought::BySchool || day.is_some() && label.read_on == day
        };
        self.label.as_ref().filter(counts)
    }
}
