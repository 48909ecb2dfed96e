//! The minutes a bake really took, as someone noted them after a lesson.

use chrono::NaiveDate;

use crate::units::{Celsius, ExactMinutes};

/// A bake of an earlier lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct PastBake {
    /// The day, if noted.
    pub date: Option<NaiveDate>,
    /// The recipe's name.
    pub recipe: String,
    /// The recipe's name for the tin (the label of its tin choice).
    pub tin: String,
    /// The oven, if noted.
    pub oven: String,
    /// Temperature without a fan, if it was not the tin's own.
    pub celsius: Option<Celsius>,
    /// From the end of loading until the done test was passed.
    pub minutes: ExactMinutes,
    /// Anything worth knowing.
    pub note: String,
}

impl PastBake {
    /// Whether it speaks of that tin of that recipe. Letter case and spaces
    /// round a name do not matter.
    pub fn is_of(&self, recipe: &str, tin: &str) -> bool {
        same(&self.recipe, recipe) && same(&self.tin, tin)
    }
}

fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}
