//! What an ingredient does in the mixtures it is in, and what else does it.

use eframe::egui::{self, CollapsingHeader, RichText, Ui};

use crate::app::looks::fonts;
use crate::app::looks::form::{Form, once};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::finding::shortened;
use crate::substitute::words::{NO_ADVICE, does};
use crate::substitute::{PutIn, Substitution, jobs, substitutions};

/// Shows it, of an ingredient by its name.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, ingredient: &str) {
    let places = places(form, ingredient);
    let Some(&(recipe, place)) = places.first() else { return };
    ui.add_space(6.0);
    ui.label(RichText::new(say("In the mixture")).font(fonts::bold(14.0)));
    let role = form.file.recipes[recipe].ingredients[place].role;
    ui.add(egui::Label::new(say(does(jobs(ingredient, role)))).wrap());
    let heading = RichText::new(say("What could do the same")).font(fonts::plain(13.5));
    CollapsingHeader::new(heading).id_salt(("instead", ingredient)).show(ui, |ui| {
        note(ui, NO_ADVICE);
        let mut any = false;
        for (recipe, place) in places {
            let name = form.file.recipes[recipe].name.clone();
            for of in substitutions(form.file, recipe, place) {
                any = true;
                one(ui, form, (recipe, &name), (ingredient, &of));
            }
        }
        if !any {
            ui.add(egui::Label::new(say("Nothing that the table knows of.")).wrap());
        }
    });
}

/// Where the ingredient stands: recipes that are made and its place in them.
fn places(form: &Form<'_>, ingredient: &str) -> Vec<(usize, usize)> {
    let is_it = |name: &str| name.trim().to_lowercase() == ingredient.trim().to_lowercase();
    let is_made = |recipe: &str| form.file.groups.iter().any(|group| group.recipe == recipe);
    let recipes = form.file.recipes.iter().enumerate().filter(|(_, of)| is_made(&of.name));
    let place = |(i, recipe): (usize, &crate::file::format::RecipeShape)| {
        Some((i, recipe.ingredients.iter().position(|of| is_it(&of.name))?))
    };
    recipes.filter_map(place).collect()
}

fn one(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (recipe, name): (usize, &str),
    (ingredient, of): (&str, &Substitution),
) {
    ui.separator();
    let words = RichText::new(say(of.goes_in_words())).font(fonts::bold(13.5));
    ui.add(egui::Label::new(words).wrap());
    note(ui, &format!("In {name}, instead of {ingredient}."));
    for told in of.told() {
        let words = RichText::new(say(told)).font(fonts::plain(13.0));
        ui.add(egui::Label::new(words).wrap());
    }
    let button = ui.button(say(format!("Put it into {}", shortened(name, 24))));
    let spoken = format!("Put {} into {name}", of.goes_in_words());
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
    if once(&button) {
        form.make(&PutIn { recipe, ingredient, swap: of.swap });
    }
}

fn note(ui: &mut Ui, words: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let words = RichText::new(say(words)).font(fonts::plain(12.5)).color(soft);
    ui.add(egui::Label::new(words).wrap());
}
