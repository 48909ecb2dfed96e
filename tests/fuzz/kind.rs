//! Kinds of files that are read.

use clap::ValueEnum;

/// A kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Kind {
    /// A lesson.
    Lesson,
    /// A lesson with the plan that groups were told.
    Kept,
    /// A copy for the day.
    Day,
    /// A plan by itself.
    Plan,
    /// The table of bakes as they really went.
    Outcomes,
    /// The table of what parts of lessons took.
    Minutes,
    /// A week.
    Week,
    /// A recipe of ours by itself.
    Recipe,
    /// A recipe in JSON-LD.
    JsonLd,
    /// A saved page with a recipe.
    Page,
    /// The window's own settings.
    #[cfg(feature = "gui")]
    Settings,
}

impl Kind {
    /// All of them.
    pub fn all() -> &'static [Self] {
        Self::value_variants()
    }

    /// As it is written on the command line.
    pub fn name(self) -> String {
        self.to_possible_value().unwrap().get_name().to_owned()
    }
}
