//! The window: reads the document and the plan, returns commands. Rules,
//! plans and words live below it.

mod bakes;
mod board;
mod board_parts;
mod card;
mod care;
mod changes;
mod class_view;
#[cfg(test)]
mod colour_vision;
mod command;
mod day;
mod day_card;
mod dialogs;
mod document;
mod edit;
mod entering;
mod findings;
mod fonts;
mod form;
mod ghosts;
mod list;
mod listen;
mod note_card;
mod offer_card;
mod open;
mod pages;
mod paint;
mod palettes;
mod panels;
mod prefs;
mod probe;
mod projector;
mod questions;
mod shell;
mod shelves;
mod state;
mod strip;
mod theme;
mod tin_card;
mod top;
mod undo;
mod worker;

pub use class_view::show as show_class;
pub use command::Command;
pub use document::Document;
pub use edit::Edit;
pub use fonts::install as install_fonts;
pub use pages::Page;
pub use prefs::Prefs;
pub use projector::Follows;
pub use shell::{App, Start, run};
pub use state::Selection;
pub use theme::{Palette, contrast};
