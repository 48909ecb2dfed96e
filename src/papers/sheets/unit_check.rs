//! The unit check: what a unit's leader looks at before the class goes.

use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};

/// What is looked at (common practice of the trade).
const LOOKED_AT: [&str; 8] = [
    "Hob, oven off",
    "Sink clean",
    "Bin",
    "Floor dry",
    "Kit counted",
    "Tins back",
    "Cloths away",
    "Initials",
];

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let mut columns = vec![("Unit", Width::Share(2.0))];
    columns.extend(LOOKED_AT.map(|what| (what, Width::Share(1.0))));
    let mut table = Table::new(&columns);
    for id in lesson.attending() {
        let mut cells = vec![Cell::Strong(lesson.group(id).name.clone())];
        cells.extend([const { Cell::Tick }; LOOKED_AT.len() - 1]);
        cells.push(Cell::Blank);
        table.row(Look::Plain, cells);
    }
    let words = "The unit's leader ticks and signs once it is so. Nobody goes before.";
    let blocks = vec![Block::Prose(words.to_owned()), Block::Table(table)];
    Sheet { part: Part::UnitCheck, of: None, blocks, form: Form::Hand }
}
