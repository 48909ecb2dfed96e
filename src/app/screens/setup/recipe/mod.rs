//! A recipe: its mixture, its methods with their steps, its tins.

mod chosen;
mod held;
mod method;
mod mixture;
mod oven;
mod picture;
pub mod review;
mod step;
mod steps;
mod ways;

use eframe::egui::{RichText, Ui};

use super::Page;
use crate::app::looks::button::button;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, measures, page_title, part, remark};
use crate::app::looks::say::{self, say};
use crate::app::screens::setup::at_home;
use crate::app::state::Command;
use crate::file::format::{RecipeShape, SourceShape};
use crate::finding::Path;
use crate::session::{LibraryShelves, ToKeep};
use crate::setup::rename::{Named, rename};
use crate::setup::{SetUp, field, starter};
use crate::view::words::counted;

/// Shows the page of a recipe.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, index: usize, shelves: &LibraryShelves) {
    let Some(recipe) = form.file.recipes.get(index).cloned() else {
        remark(ui, "This recipe is no longer part of the lesson.");
        return;
    };
    let at = Path::root().field("recipes").index(index);
    page_title(
        ui,
        &recipe.name,
        "One batch for one group. Minutes: the usual ones, or quick, usual and slow like 4 5 8; \
         quick ones alone can prove that something cannot be done.",
    );
    measures(ui);
    part(ui, "Recipe", |ui| about(ui, form, (index, &recipe), &at, shelves));
    part(ui, "Mixture", |ui| mixture::show(ui, form, (index, &recipe), &at));
    part(ui, "How it is made", |ui| method::show(ui, form, (index, &recipe), &at));
    part(ui, "Tins, best liked first", |ui| {
        ways::show(ui, form, (index, &recipe), &at, shelves);
    });
    part(ui, "Oven", |ui| oven::show(ui, form, (index, &recipe), &at.field("bake")));
}

fn about(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (index, recipe): (usize, &RecipeShape),
    at: &Path,
    shelves: &LibraryShelves,
) {
    let from = match recipe.source {
        SourceShape::Library => "Its figures are the library's until you change them.",
        SourceShape::Own => "A recipe of your own.",
    };
    remark(ui, from);
    if !recipe.review.is_empty() {
        ui.horizontal_wrapped(|ui| {
            let left = counted(recipe.review.len(), "thing");
            let words = format!("Read from elsewhere: {left} to be looked at.");
            ui.label(RichText::new(say(words)).font(fonts::bold(13.5)));
            if ui.button(say("Look through them")).clicked() {
                form.out.push(Command::SetUp(Page::Review(index)));
            }
        });
    }
    let named = Named::Recipe(index);
    let name = Field::new(at.field("name"), "Recipe name").width(300.0);
    form.text(ui, name, &recipe.name, |text, file| rename(file, &named, text));
    for (i, note) in recipe.notes.iter().enumerate() {
        let at = at.field("notes").index(i);
        let line = Field::new(at, format!("Note {}", i + 1)).width(520.0);
        form.text(ui, line, note, move |text, file| {
            let text = field::line(text)?;
            if let Some(notes) = file.recipes.get_mut(index).map(|r| &mut r.notes) {
                match notes.get_mut(i) {
                    Some(note) => *note = text,
                    None => notes.push(text),
                }
                if notes.last().is_some_and(String::is_empty) {
                    notes.pop();
                }
            }
            Ok(())
        });
    }
    ui.horizontal_wrapped(|ui| {
        form.button(ui, "Add a note", "another note", |file| {
            file.recipes[index].notes.push("note".to_owned());
        });
        another(ui, form, shelves);
        let label =
            format!("Take {} out of the lesson", crate::finding::shortened(&recipe.name, 40));
        if ui.button(say(&label)).clicked() {
            let name = recipe.name.clone();
            form.enter(Path::root(), label, |file| starter::remove_recipe(file, &name));
            form.out.push(Command::SetUp(Page::Start));
        }
    });
    super::library::keep(ui, form, ToKeep::Recipe(index), &recipe.name, shelves);
}

/// One more recipe, from the library or of one's own.
fn another(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    let next = form.file.recipes.len();
    let mut there = false;
    ui.menu_button(say("Another recipe"), |ui| {
        if ui.button(say("of our own, from the fewest steps")).clicked() {
            there = own(form).is_some();
        }
        button(ui, true, Command::AskRecipe, None, form.out);
        let known = |name: &str| starter::has_recipe(form.file, name);
        let more: Vec<RecipeShape> =
            shelves.recipes().map(|(r, _)| r).filter(|r| !known(&r.name)).cloned().collect();
        for recipe in more {
            if ui.button(say(&recipe.name)).clicked() {
                let tins = shelves.all_tins();
                let recipe = at_home::recipe(form.file, &recipe);
                form.make(&SetUp::Recipe { recipe: &recipe, tins: &tins });
                there = true;
            }
        }
    });
    if there {
        form.out.push(Command::SetUp(Page::Recipe(next)));
    }
}

/// A recipe of one's own to begin with; nothing, if the library is broken.
pub fn own(form: &mut Form<'_>) -> Option<()> {
    let what = "a recipe of our own".to_owned();
    let made = form.attempt(Path::root(), what, |file| {
        let taken = |name: &String| file.recipes.iter().any(|r| r.name == *name);
        let name = (1..)
            .map(|i| say::name(&format!("own recipe {i}")))
            .find(|n| !taken(n))
            .unwrap_or_default();
        let recipe = at_home::own_recipe(file, &name).map_err(|e| e.to_string())?;
        starter::take_recipe(file, &recipe, &[]);
        Ok(())
    });
    made.ok()
}
