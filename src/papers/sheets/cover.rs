//! The cover sheet: for whoever takes the class when its teacher cannot.

use super::words::recipes_made;
use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::view::words::capital;

/// Steps given out to be put in order; more would not fit beside the rest.
const STEPS: usize = 16;

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let mut blocks = vec![
        Block::Big("No practical work today".to_owned()),
        Block::Prose(
            "Nobody bakes, lights gas or uses blades without an adult whom the school has \
             authorised for this room. Ovens and hobs stay off; the technician is told."
                .to_owned(),
        ),
        Block::Heading("Ingredients that are out".to_owned()),
    ];
    let columns = [
        ("What keeps, and where", Width::Share(1.0)),
        ("What is thrown away, by when", Width::Share(1.0)),
    ];
    let mut table = Table::new(&columns);
    for _ in 0..3 {
        table.row(Look::Plain, vec![Cell::Blank; columns.len()]);
    }
    blocks.push(Block::Table(table));
    if let Some(recipe) = recipes_made(lesson).first().map(|r| &lesson.recipes[r.0]) {
        blocks.push(Block::Heading(format!("Instead: {} on paper", recipe.name)));
        blocks.push(Block::Prose(
            "Number these jobs in the order in which you would do them. Which could be done while \
             it bakes? Write each amount for half as many people."
                .to_owned(),
        ));
        let columns = [
            ("No.", Width::Fit),
            ("Job", Width::Share(1.0)),
            ("Minutes I would allow", Width::Fit),
        ];
        let mut jobs = Table::new(&columns);
        let steps = recipe.methods.first().map(|m| m.steps.as_slice()).unwrap_or_default();
        // By name, so that the order is not given away.
        let mut steps: Vec<String> = steps.iter().map(|s| capital(&s.name)).collect();
        steps.sort();
        for step in steps.into_iter().take(STEPS) {
            jobs.row(Look::Plain, vec![Cell::Blank, Cell::Name(step), Cell::Blank]);
        }
        blocks.push(Block::Table(jobs));
    }
    blocks.push(Block::Heading("Whom to ask".to_owned()));
    blocks.push(Block::WriteOn(2));
    Sheet { part: Part::CoverSheet, of: None, blocks, form: Form::Hand }
}
