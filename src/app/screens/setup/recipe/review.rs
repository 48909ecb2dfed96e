//! What is unsure of a recipe since it was read from elsewhere: what stood there, what
//! was made of it, and why it is unsure. It stays marked until somebody says that it is
//! as it should be.

use eframe::egui::{self, Button, Grid, RichText, Ui};

use super::ways::Names;
use super::{mixture, steps, ways};
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, once, page_title, part, remark};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Page};
use crate::file::format::{RecipeShape, ReviewShape, ReviewedShape as About, StepKindShape};
use crate::finding::Path;
use crate::interchange::review::{Block, blocks, kept};
use crate::session::LibraryShelves;
use crate::setup::looked_at::LookedAt;
use crate::setup::rename::{Named, rename};
use crate::setup::steps::At;
use crate::view::tin_words::sentence;
use crate::view::words::counted;

/// What says that something is as it should be.
const RIGHT: &str = "It is right";

/// Where a page is narrower, two ingredients stand in a row with what they do, in points.
const ROLES: f32 = 860.0;

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, index: usize, shelves: &LibraryShelves) {
    let Some(recipe) = form.file.recipes.get(index).cloned() else {
        remark(ui, "This recipe is no longer part of the lesson.");
        return;
    };
    let under = match recipe.review.len() {
        0 => "Nothing of it is marked as unsure any more.".to_owned(),
        n => format!(
            "{} to be looked at. Put right what is wrong, then say that it is right: what nobody \
             has said so of stays marked.",
            crate::view::words::capital(&counted(n, "thing"))
        ),
    };
    page_title(ui, &format!("{}, as it was read", recipe.name), &under);
    let at = Path::root().field("recipes").index(index);
    let all = blocks(&recipe);
    for (title, abouts) in [
        ("Name", &[About::Name][..]),
        ("Ingredients", &[About::Ingredient, About::Roles]),
        ("Steps", &[About::Step, About::Minutes]),
        ("Tin and oven", &[About::Tin]),
        ("Besides", &[About::Recipe]),
    ] {
        let of_part: Vec<&Block> = all.iter().filter(|b| abouts.contains(&b.about)).collect();
        if of_part.is_empty() {
            continue;
        }
        part(ui, title, |ui| {
            for (i, block) in of_part.into_iter().enumerate() {
                if i > 0 {
                    ui.separator();
                }
                shown(ui, form, (index, &recipe), block, (&at, shelves));
            }
        });
    }
    ui.add_space(6.0);
    remark(
        ui,
        "Steps come one after another, as they stood: what may be done side by side is said on \
         the recipe's own page, and what kit they take.",
    );
    let besides = kept(&recipe);
    if !besides.is_empty() {
        let words = besides.join(", ");
        remark(ui, &format!("Kept beside it, to be written out with it again: {words}."));
    }
    if ui.button(say("To the recipe")).clicked() {
        form.out.push(Command::SetUp(Page::Recipe(index)));
    }
    for part in ["name", "ingredients", "methods", "tins"] {
        form.told_of_all(&at.field(part));
    }
}

fn shown(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (index, recipe): (usize, &RecipeShape),
    block: &Block,
    (at, shelves): (&Path, &LibraryShelves),
) {
    if !block.text.is_empty() {
        stood_there(ui, &block.text);
    }
    let mut amounts_known = true;
    match block.about {
        About::Name => {
            let named = Named::Recipe(index);
            let name = Field::new(at.field("name"), "Recipe name").width(300.0);
            form.text(ui, name, &recipe.name, |text, file| rename(file, &named, text));
        }
        About::Ingredient => {
            for &i in &block.ingredients {
                let (of, at) = (&recipe.ingredients[i], at.field("ingredients").index(i));
                amounts_known &= of.amount > 0.0;
                ui.horizontal_wrapped(|ui| mixture::amount(ui, form, (index, i), of, &at));
            }
        }
        About::Roles => roles(ui, form, (index, recipe), at),
        About::Step | About::Minutes => {
            for &(method, step) in &block.steps {
                of_step(ui, form, (index, recipe), (method, step), at);
            }
        }
        About::Tin => {
            for i in 0..recipe.tins.len() {
                let at = at.field("tins").index(i);
                ui.horizontal_wrapped(|ui| {
                    ways::row(ui, form, (index, i), recipe, &at, Names::BesideEach);
                });
            }
            ways::add(ui, form, index, shelves);
        }
        About::Recipe => {}
    }
    for entry in block.entries.iter().filter_map(|&i| recipe.review.get(i)) {
        doubt(ui, form, (index, entry), (block, amounts_known));
    }
}

/// Words as they stood elsewhere.
fn stood_there(ui: &mut Ui, text: &str) {
    let words = RichText::new(format!("“{text}”")).font(fonts::bold(14.0));
    ui.add(egui::Label::new(words).wrap());
}

/// Why something is unsure, and the button that says it is as it should be.
fn doubt(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (recipe, entry): (usize, &ReviewShape),
    (block, amounts_known): (&Block, bool),
) {
    ui.horizontal_top(|ui| {
        let button = ui.add_enabled(amounts_known, Button::new(say(RIGHT)));
        let spoken = match entry.text.as_str() {
            "" => format!("{RIGHT}: {}", entry.why),
            text => format!("{RIGHT}, {text}: {}", entry.why),
        };
        ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
        let button = button.on_disabled_hover_text(say("Nobody knows yet how much: write it."));
        if once(&button) {
            form.make(&LookedAt { recipe, entry });
        }
        ui.vertical(|ui| {
            ui.add_space(4.0);
            if block.text.is_empty() && !entry.text.is_empty() {
                let soft = Palette::of(ui.ctx()).soft;
                let words = RichText::new(format!("“{}”", entry.text)).color(soft);
                ui.add(egui::Label::new(words).wrap());
            }
            ui.add(egui::Label::new(say(sentence(&entry.why))).wrap());
        });
    });
}

/// What each ingredient counts as.
fn roles(ui: &mut Ui, form: &mut Form<'_>, (index, recipe): (usize, &RecipeShape), at: &Path) {
    let in_a_row = if ui.available_width() < ROLES { 2 } else { 3 };
    Grid::new(("roles", index)).spacing([10.0, 4.0]).show(ui, |ui| {
        for (i, of) in recipe.ingredients.iter().enumerate() {
            let at = at.field("ingredients").index(i);
            ui.label(say(crate::finding::shortened(&of.name, 28)));
            mixture::role(ui, form, (index, i), of, &at);
            if (i + 1) % in_a_row == 0 {
                ui.end_row();
            }
        }
    });
}

/// What was made of a step's words.
fn of_step(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (index, recipe): (usize, &RecipeShape),
    (method, number): (usize, usize),
    at: &Path,
) {
    let step = &recipe.methods[method].steps[number];
    let at = at.field("methods").index(method).field("steps").index(number);
    ui.horizontal_wrapped(|ui| {
        let of = At { recipe: index, method };
        ui.label(say(&step.name));
        steps::kind(ui, form, of, (number, step), &at);
        steps::minutes(ui, form, of, (number, step), &at);
        if step.kind != StepKindShape::Bake {
            ui.label(say("min"));
        }
    });
}
