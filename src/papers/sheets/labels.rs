//! Labels for boxes, one for each pupil. They leave with pupils.

use super::words::allergens;
use crate::papers::sheet::{Block, Form, Label, Sheet};
use crate::papers::{Matter, Part};
use crate::view::words::{capital, list};

/// Labels beside each other on a sheet: three by eight is a common size.
const ACROSS: usize = 3;
/// A unit has no more boxes than this.
const MOST: u32 = 60;

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Option<Sheet<'a>> {
    let lesson = matter.lesson;
    let date = match lesson.date {
        Some(date) => date.format("%-d %B %Y").to_string(),
        None => "date …………".to_owned(),
    };
    let mut labels = Vec::new();
    for id in lesson.attending() {
        let group = lesson.group(id);
        let recipe = lesson.recipe_of(id);
        let (entered, unread) = allergens(lesson, group.recipe);
        let mut lines = vec![(format!("{date} · {}", group.name), false)];
        lines.push(match entered.as_slice() {
            [] if unread.is_empty() && !recipe.ingredients.is_empty() => {
                ("Allergens: none on the labels read".to_owned(), false)
            }
            [] => ("Allergens: not known".to_owned(), true),
            entered => (format!("Allergens: {}", list(entered)), true),
        });
        if !entered.is_empty() && !unread.is_empty() {
            lines.push((format!("Not known: {}", list(&unread)), false));
        }
        lines.push(("Keep: ……………………  Eat by: ……………".to_owned(), false));
        let label = Label { name: capital(&recipe.name), lines };
        labels.extend((0..group.pupils.min(MOST)).map(|_| label.clone()));
    }
    if labels.is_empty() {
        return None;
    }
    let blocks = vec![Block::Labels(ACROSS, labels)];
    Some(Sheet { part: Part::Labels, of: None, blocks, form: Form::CutUp })
}
