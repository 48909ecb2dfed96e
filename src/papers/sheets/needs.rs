//! What groups need against what labels say: for adults' sheets only.

use crate::papers::Matter;
use crate::papers::sheet::{Block, Cell, Look, Table, Width};
use crate::stores::labels::needs;

/// A table of every need, if there is any.
pub(super) fn blocks<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let needs = needs(matter.lesson, matter.allergens);
    if needs.is_empty() {
        return Vec::new();
    }
    let columns = [
        ("Unit", Width::Fit),
        ("Need", Width::Share(1.0)),
        ("Makes", Width::Share(0.8)),
        ("Labels", Width::Share(1.6)),
    ];
    let mut table = Table::new(&columns);
    for need in &needs {
        let cells = vec![
            Cell::Strong(matter.lesson.group(need.group).name.clone()),
            Cell::Prose(need.need.clone()),
            Cell::Name(matter.lesson.recipe_of(need.group).name.clone()),
            Cell::Prose(need.told()),
        ];
        table.row(Look::Plain, cells);
    }
    let caution = "A label that does not name something is no proof that none of it is there. The \
                   school's policy and the pupil's own plan come first.";
    vec![
        Block::Heading("Needs and labels".to_owned()),
        Block::Table(table),
        Block::Prose(caution.to_owned()),
    ]
}
