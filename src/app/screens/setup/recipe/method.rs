//! The ways of making a recipe: one of them is shown, as a picture, as a list,
//! and step by step.

use eframe::egui::{Button, Ui, vec2};

use super::chosen::{Chosen, tell, told};
use super::{held, picture, step, steps};
use crate::app::looks::form::{Field, Form, remark};
use crate::app::looks::say::say;
use crate::file::format::RecipeShape;
use crate::finding::{Path, shortened};
use crate::setup::recipe::{copy_method, remove_method};
use crate::setup::rename::{Named, rename};
use crate::setup::steps::At;
use crate::setup::suggest;

/// Width of a method's button, in points.
const METHOD: f32 = 170.0;

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, (index, recipe): (usize, &RecipeShape), at: &Path) {
    let all = at.field("methods");
    let mut chosen = Chosen::of(ui, form, index);
    if chosen.method >= recipe.methods.len() {
        chosen = Chosen::default();
    }
    ui.horizontal_wrapped(|ui| {
        for (i, method) in recipe.methods.iter().enumerate() {
            let button = Button::selectable(i == chosen.method, say(shortened(&method.name, 20)))
                .frame_when_inactive(true)
                .min_size(vec2(METHOD, 0.0));
            if ui.add(button).clicked() {
                chosen = Chosen { method: i, ..Chosen::default() };
                chosen.clone().keep(ui, form, index);
            }
        }
        another(ui, form, (index, recipe), &chosen);
    });
    form.told(ui, &all);
    let Some(method) = recipe.methods.get(chosen.method) else {
        remark(ui, "No way of making it yet: add one, and change its steps to yours.");
        first(ui, form, index);
        return;
    };
    let of = At { recipe: index, method: chosen.method };
    let at = all.index(chosen.method);
    let named = Named::Method { recipe: index, method: chosen.method };
    let name = Field::new(at.field("name"), "Method name").width(260.0);
    form.text(ui, name, &method.name, |text, file| rename(file, &named, text));
    form.took(ui, |part| {
        let (_, of_recipe, of_method) = part.names();
        of_recipe == recipe.name && of_method == method.name
    });
    if method.steps.is_empty() {
        remark(ui, "No step yet: write the name of the first one below, or take a known one.");
    } else {
        picture::show(ui, form, of, method, chosen.step);
    }
    told(ui, form, index);
    steps::show(ui, form, of, method, &at.field("steps"), chosen.step);
    if let Some(number) = chosen.step.filter(|&s| s < method.steps.len()) {
        step::show(ui, form, of, (number, method), &at.field("steps").index(number));
    }
    held::show(ui, form, of, method, &at);
}

/// The fewest steps a bake has, for a recipe without a method.
fn first(ui: &mut Ui, form: &mut Form<'_>, index: usize) {
    if ui.button(say("Add a method")).clicked() {
        let of = At { recipe: index, method: 0 };
        let made = form.attempt(Path::root(), "a first method".to_owned(), |file| {
            let like = suggest::new_recipe(file, "").map_err(|e| e.to_string())?;
            if let Some(recipe) = file.recipes.get_mut(index) {
                recipe.methods = like.methods;
            }
            Ok(Vec::new())
        });
        tell(ui, form, of, made);
    }
}

/// A method more, or this one away.
fn another(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (index, recipe): (usize, &RecipeShape),
    chosen: &Chosen,
) {
    let Some(method) = recipe.methods.get(chosen.method) else { return };
    let last = recipe.methods.len();
    let of = At { recipe: index, method: chosen.method };
    if ui.button(say("Another method like this")).clicked() {
        let what = format!("another method like {}", shortened(&method.name, 40));
        form.enter(Path::root(), what, |file| copy_method(file, of));
        Chosen { method: last, ..Chosen::default() }.keep(ui, form, index);
    }
    let label = format!("Take {} out", shortened(&method.name, 30));
    if ui.add_enabled(last > 1, Button::new(say(&label))).clicked() {
        let made = form.attempt(Path::root(), label, |file| remove_method(file, of));
        Chosen::default().keep(ui, form, index);
        tell(ui, form, of, made);
    }
}
