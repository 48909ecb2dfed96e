//! The order list: what is bought for one lesson or several, for the office.

use crate::model::Role;
use crate::papers::sheet::{Block, Cell, Form, Look, Row, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::stores::{OrderLine, order, told};
use crate::view::words::{capital, list};

/// Ingredients as they stand in a store, by what they do in a mixture.
const STORE: [(&str, &[Role]); 7] = [
    ("Flour", &[Role::Flour]),
    ("Sugar and syrup", &[Role::Sugar, Role::Syrup]),
    ("Raising agents", &[Role::Raising]),
    ("Fat", &[Role::Fat]),
    ("Eggs", &[Role::Egg]),
    ("Liquids", &[Role::Liquid]),
    ("Anything else", &[Role::Other]),
];

/// Of all lessons; nothing if no group of theirs makes anything.
pub(super) fn sheet(matters: &[Matter<'_>]) -> Option<Sheet<'static>> {
    let made = matters.iter().any(|matter| !matter.stores.recipes.is_empty());
    if !made {
        return None;
    }
    let of: Vec<_> = matters.iter().map(|matter| (matter.lesson, &matter.stores)).collect();
    // Water comes from the tap.
    let lines = order(&of).into_iter().filter(|line| line.name.to_lowercase() != "water");
    let lines: Vec<OrderLine> = lines.collect();
    let mut blocks = vec![Block::Prose(
        "All sets with demo and spare ones, rounded up as a whole. Packs, price and its date are \
         for whoever orders. No swap of a brand without asking: another packet may hold other \
         allergens."
            .to_owned(),
    )];
    blocks.push(Block::Table(table(matters, &lines)));
    let missing = matters.iter().flat_map(|matter| {
        let made = matter.stores.recipes.iter();
        let made = made.map(move |of| &matter.lesson.recipes[of.recipe.0]);
        made.filter(|recipe| recipe.ingredients.is_empty()).map(|recipe| recipe.name.clone())
    });
    let missing: Vec<String> = missing.collect();
    if !missing.is_empty() {
        let words = format!("Not on this list, as nothing is entered of it: {}.", list(&missing));
        blocks.push(Block::Prose(words));
    }
    Some(Sheet { part: Part::OrderList, of: None, blocks, form: Form::Hand })
}

/// A table with a shaded row for each place of the store.
fn table(matters: &[Matter<'_>], lines: &[OrderLine]) -> Table {
    let columns = [
        ("What", Width::Share(1.3)),
        ("For", Width::Share(1.4)),
        ("Needed", Width::Fit),
        ("Spare", Width::Fit),
        ("In all", Width::Fit),
        ("Packs", Width::Share(0.6)),
        ("Price, date", Width::Share(0.8)),
    ];
    let mut table = Table::new(&columns);
    for (place, roles) in STORE {
        let here: Vec<&OrderLine> = lines.iter().filter(|l| roles.contains(&l.role)).collect();
        if here.is_empty() {
            continue;
        }
        let mut cells = vec![Cell::Strong(place.to_owned())];
        cells.resize(columns.len(), Cell::Name(String::new()));
        table.row(Look::Shaded, cells);
        table.rows.extend(here.into_iter().map(|line| row(matters, line)));
    }
    table
}

fn row(matters: &[Matter<'_>], line: &OrderLine) -> Row {
    let amount = |amount| told::measured(line.measure, amount);
    let spare = if line.spare > 0.0 { amount(line.spare) } else { "–".to_owned() };
    let cells = vec![
        Cell::Prose(capital(&line.name)),
        Cell::Prose(made(matters, line)),
        Cell::Name(amount(line.needed)),
        Cell::Name(spare),
        Cell::Time(told::in_all_of(line.measure, line.total())),
        Cell::Blank,
        Cell::Blank,
    ];
    Row { cells, look: Look::Plain, symbol: None, home: Vec::new() }
}

/// The recipes it is for, by lesson if there are several.
fn made(matters: &[Matter<'_>], line: &OrderLine) -> String {
    let of_lesson = |(at, matter): (usize, &Matter<'_>)| {
        let here = line.made.iter().filter(|(lesson, _)| *lesson == at);
        let names = here.map(|(_, recipe)| matter.lesson.recipes[recipe.0].name.clone());
        let names = list(&names.collect::<Vec<_>>());
        match matters.len() {
            _ if names.is_empty() => None,
            1 => Some(names),
            _ => Some(format!("{}: {names}", matter.lesson.title)),
        }
    };
    let each: Vec<String> = matters.iter().enumerate().filter_map(of_lesson).collect();
    each.join("; ")
}
