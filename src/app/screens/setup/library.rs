//! Keeping a part of a lesson in the user's own library, and taking it out.

use crate::session::Command as LessonCommand;
use eframe::egui::Ui;

use crate::app::looks::form::Form;
use crate::app::looks::say::say;
use crate::file::own_library::LibraryShelf;
use crate::session::{LibraryShelves, ToKeep};

/// Buttons to keep something, and to remove it where it is kept.
pub fn keep(ui: &mut Ui, form: &mut Form<'_>, what: ToKeep, name: &str, shelves: &LibraryShelves) {
    let named = |own: &str| own == name;
    let (shelf, is_kept) = match what {
        ToKeep::Recipe(_) => {
            (LibraryShelf::Recipes, shelves.recipes().any(|(r, own)| own && named(&r.name)))
        }
        ToKeep::Room(_) => {
            (LibraryShelf::Rooms, shelves.rooms().any(|(r, own)| own && named(&r.name)))
        }
        ToKeep::Class => {
            (LibraryShelf::Classes, shelves.classes().iter().any(|c| named(&c.class.name)))
        }
        ToKeep::Tin(_) => {
            (LibraryShelf::Tins, shelves.tins().any(|(t, own)| own && named(&t.name)))
        }
    };
    let thing = match what {
        ToKeep::Recipe(_) => "recipe",
        ToKeep::Room(_) => "room",
        ToKeep::Class => "class",
        ToKeep::Tin(_) => "tin",
    };
    ui.horizontal_wrapped(|ui| {
        let words = if is_kept {
            format!("Update this {thing} in my library")
        } else {
            format!("Keep this {thing} in my library")
        };
        let button = ui.add_enabled(!name.trim().is_empty(), eframe::egui::Button::new(say(words)));
        if button.on_disabled_hover_text(say("It needs a name first.")).clicked() {
            form.out.push(LessonCommand::KeepInLibrary(what));
        }
        if is_kept && ui.button(say(format!("Remove this {thing} from my library"))).clicked() {
            form.out.push(LessonCommand::RemoveFromLibrary(shelf, name.to_owned()));
        }
    });
}
