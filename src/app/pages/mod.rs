//! The pages of setting up: each a part of the lesson's file in fields.

mod adults;
mod class_steps;
mod groups;
mod kit;
mod lesson;
mod library;
mod needs;
mod ovens;
mod rail;
mod recipe;
mod room;
mod start;
mod tins;

use eframe::egui::{self, Ui};

pub use rail::{page_of, rail};

use super::form::{Form, follow_focus};
use super::shelves::Shelves;

/// A page of setting up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The few things a lesson needs.
    #[default]
    Start,
    /// Title, day, bells, steps of the class.
    Lesson,
    /// Adults and rules.
    Adults,
    /// A room: ovens, kit, units, tins in stock.
    Room(usize),
    /// A recipe: mixture, methods, tins.
    Recipe(usize),
    /// Groups.
    Groups,
    /// Kinds of tins.
    Tins,
}

/// Shows a page.
pub fn show(ui: &mut Ui, page: Page, form: &mut Form<'_>, shelves: &Shelves) {
    // What is wider than a narrow window is scrolled to; words wrap before it.
    let width = ui.available_width() - ui.spacing().scroll.allocated_width();
    egui::ScrollArea::both().id_salt(("page", page_name(page))).auto_shrink(false).show(ui, |ui| {
        ui.set_max_width(width);
        match page {
            Page::Start => start::show(ui, form, shelves),
            Page::Lesson => lesson::show(ui, form),
            Page::Adults => adults::show(ui, form),
            Page::Room(i) => room::show(ui, form, i, shelves),
            Page::Recipe(i) => recipe::show(ui, form, i, shelves),
            Page::Groups => groups::show(ui, form, shelves),
            Page::Tins => tins::show(ui, form, shelves),
        }
        ui.add_space(16.0);
        follow_focus(ui);
    });
}

fn page_name(page: Page) -> String {
    format!("{page:?}")
}
