//! The window: shows a session and tells it what to do. Rules, plans and words
//! live below it.
//!
//! Arrows go one way, from the bottom up: `state` (what can be told and
//! chosen), `looks` (colours, letters, fields, words), `screens` (what is
//! shown), `shell` (the application itself).

mod looks;
mod screens;
mod shell;
mod state;

pub use looks::fonts::install as install_fonts;
pub use looks::say;
pub use looks::theme::{Palette, contrast};
pub use screens::class_view::show as show_class;
pub use screens::help::keys::{Line, Where, lines};
pub use shell::{App, NoWindow, Start, run};
pub use state::{
    Command, DayChoice, DayStop, Follows, Hint, PLACES, Page, Place, Prefs, RehearseChoice,
    Selection, WeekChoice, keys,
};
