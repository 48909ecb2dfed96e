//! What a part of a lesson really took a class, as it was noted afterwards.

use chrono::NaiveDate;

use crate::units::ExactMinutes;

/// A part of a lesson whose minutes a class learns.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum LessonPart {
    /// From the start bell until groups set to work.
    Opening,
    /// From setting to work until the tins go in, of a recipe by a method.
    MakingUp(String, String),
    /// From taking out until the group is ready, of a recipe by a method.
    Finishing(String, String),
}

impl LessonPart {
    /// Its name in tables, with its recipe and its method.
    pub fn names(&self) -> (&'static str, &str, &str) {
        match self {
            Self::Opening => ("opening", "", ""),
            Self::MakingUp(recipe, method) => ("making up", recipe, method),
            Self::Finishing(recipe, method) => ("finishing", recipe, method),
        }
    }

    /// The part of that name.
    pub fn named(name: &str, recipe: String, method: String) -> Option<Self> {
        match name.trim().to_lowercase().as_str() {
            "opening" => Some(Self::Opening),
            "making up" => Some(Self::MakingUp(recipe, method)),
            "finishing" => Some(Self::Finishing(recipe, method)),
            _ => None,
        }
    }
}

/// What a part took in one lesson of a class: of several groups the one in the
/// middle.
#[derive(Debug, Clone, PartialEq)]
pub struct PastMinutes {
    /// The day.
    pub date: NaiveDate,
    /// The class, by its name.
    pub class: String,
    /// What.
    pub part: LessonPart,
    /// What the plan had for it.
    pub planned: ExactMinutes,
    /// What it took.
    pub took: ExactMinutes,
}

impl PastMinutes {
    /// Whether it is of a class of this name.
    pub fn is_of(&self, class: &str) -> bool {
        self.class.trim().to_lowercase() == class.trim().to_lowercase()
    }
}
