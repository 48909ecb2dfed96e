//! Which method and which step of a recipe's page are shown, and what the last
//! change there brought with it.

use eframe::egui::{Id, Ui};

use crate::app::looks::form::Form;
use crate::session::DocumentId;
use crate::setup::steps::At;

/// What is shown of a recipe.
#[derive(Debug, Clone, Default)]
pub struct Chosen {
    /// The method.
    pub method: usize,
    /// The step whose card is open.
    pub step: Option<usize>,
    /// The box of the picture that takes the keyboard.
    pub boxed: usize,
    /// It must take it now.
    pub box_now: bool,
    /// What the last change brought with it, or why it was not made.
    pub told: Vec<String>,
}

fn id(document: DocumentId, recipe: usize) -> Id {
    Id::unique(("recipe page", document, recipe))
}

impl Chosen {
    /// What is shown now.
    pub fn of(ui: &Ui, form: &Form<'_>, recipe: usize) -> Self {
        ui.data(|d| d.get_temp(id(form.doc.id(), recipe))).unwrap_or_default()
    }

    /// Shows this from now on.
    pub fn keep(self, ui: &Ui, form: &Form<'_>, recipe: usize) {
        ui.data_mut(|d| d.insert_temp(id(form.doc.id(), recipe), self));
    }
}

/// Opens the card of a step.
pub fn choose(ui: &Ui, form: &Form<'_>, at: At, step: Option<usize>) {
    let chosen = Chosen { step, ..Chosen::of(ui, form, at.recipe) };
    chosen.keep(ui, form, at.recipe);
}

/// The box of the picture that takes the keyboard from now on, and whether it
/// does at once.
pub fn hand_on(ui: &Ui, form: &Form<'_>, at: At, (step, now): (usize, bool)) {
    let chosen = Chosen { boxed: step, box_now: now, ..Chosen::of(ui, form, at.recipe) };
    chosen.keep(ui, form, at.recipe);
}

/// Tells what a change brought with it, or why it was not made.
pub fn tell(ui: &Ui, form: &Form<'_>, at: At, made: Result<Vec<String>, String>) {
    let told = match made {
        Ok(told) => told,
        Err(why) => vec![format!("Not done: {why}")],
    };
    Chosen { told, ..Chosen::of(ui, form, at.recipe) }.keep(ui, form, at.recipe);
}

/// What was told last, at the foot of the page.
pub fn told(ui: &Ui, form: &mut Form<'_>, recipe: usize) {
    let last = Chosen::of(ui, form, recipe).told;
    form.notes.extend(last.iter().map(|words| crate::view::tin_words::sentence(words)));
}
