//! The order list: what is bought for one lesson or several, for the office.

use crate::model::Role;
use crate::papers::sheet::{Block, Cell, Form, Look, Row, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::stores::{OrderLine, by_supplier, cost, is_bought, made_for, order, told};
use crate::units::plain_number;
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
    let (home, bought): (Vec<OrderLine>, Vec<OrderLine>) =
        order(&of).into_iter().filter(is_bought).partition(OrderLine::comes_from_home);
    let packets: Vec<_> = matters.iter().flat_map(|m| m.lesson.packets.clone()).collect();
    let lines = by_supplier(bought, &packets);
    let mut blocks = vec![Block::Prose(
        "For all sets, demo and spare ones among them. Fill in blank packs and prices when you \
         order. No swap of a brand without asking: another packet may \
         hold other allergens."
            .to_owned(),
    )];
    blocks.push(Block::Table(table(matters, &lines)));
    blocks.extend(money(matters, &lines).map(Block::Prose));
    if !home.is_empty() {
        let names: Vec<String> = home.iter().map(|line| line.name.clone()).collect();
        let words = format!("Pupils bring from home: {}.", list(&names));
        blocks.push(Block::Prose(words));
    }
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

/// What is known of the cost, if anything is.
fn money(matters: &[Matter<'_>], lines: &[OrderLine]) -> Option<String> {
    let cost = cost(lines);
    if cost.counted <= 0.0 {
        return None;
    }
    let pupils =
        |m: &Matter<'_>| m.lesson.attending().map(|g| m.lesson.group(g).pupils).sum::<u32>();
    let pupils: u32 = matters.iter().map(pupils).sum();
    let mut words = format!("Whole packs cost {:.2}", cost.counted);
    if pupils > 0 {
        words.push_str(&format!(
            ", {:.2} for each of {pupils} pupils",
            cost.counted / f64::from(pupils)
        ));
    }
    words.push('.');
    if !cost.not_counted.is_empty() {
        words.push_str(&format!(
            " Not counted, as no price with its day is entered: {}.",
            list(&cost.not_counted)
        ));
    }
    Some(words)
}

/// A table with a shaded row for each supplier, then for each place of the store.
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
    let mut add = |heading: &str, here: &[&OrderLine]| {
        if here.is_empty() {
            return;
        }
        let mut cells = vec![Cell::Strong(heading.to_owned())];
        cells.resize(columns.len(), Cell::Name(String::new()));
        table.row(Look::Shaded, cells);
        table.rows.extend(here.iter().map(|line| row(matters, line)));
    };
    let (sold, others): (Vec<&OrderLine>, Vec<&OrderLine>) =
        lines.iter().partition(|line| !supplier(line).is_empty());
    for together in sold.chunk_by(|a, b| supplier(a).to_lowercase() == supplier(b).to_lowercase()) {
        add(supplier(together[0]), together);
    }
    for (place, roles) in STORE {
        let here = others.iter().copied().filter(|l| roles.contains(&l.role));
        let heading = if sold.is_empty() {
            place.to_owned()
        } else {
            format!("{place}: no supplier entered")
        };
        add(&heading, &here.collect::<Vec<_>>());
    }
    table
}

fn supplier(line: &OrderLine) -> &str {
    line.packet.as_ref().map_or("", |packet| packet.supplier.trim())
}

fn row(matters: &[Matter<'_>], line: &OrderLine) -> Row {
    let lessons: Vec<_> = matters.iter().map(|matter| matter.lesson).collect();
    let amount = |amount| told::measured(line.measure, amount);
    let spare = if line.spare > 0.0 { amount(line.spare) } else { "–".to_owned() };
    let packet = line.packet.as_ref();
    let brand = packet.map_or("", |p| p.brand.trim());
    let name = match brand {
        "" => capital(&line.name),
        brand => format!("{} ({brand})", capital(&line.name)),
    };
    let packs = line.packs().map_or(Cell::Blank, |packs| {
        let holds = packet.and_then(|p| p.holds).map_or(String::new(), |(holds, measure)| {
            format!(" × {}", told::measured(measure, holds))
        });
        Cell::Time(format!("{}{holds}", plain_number(f64::from(packs.count))))
    });
    let price = line.packs().and_then(|p| p.cost).map_or(Cell::Blank, |cost| match cost.on {
        Some(on) => Cell::Name(format!("{:.2}, {}", cost.each, on.format("%-d %b"))),
        None => Cell::Name(format!("{:.2}, no day", cost.each)),
    });
    let cells = vec![
        Cell::Prose(name),
        Cell::Prose(list(&made_for(line, &lessons))),
        Cell::Name(amount(line.needed)),
        Cell::Name(spare),
        Cell::Time(told::in_all_of(line.measure, line.total())),
        packs,
        price,
    ];
    Row { cells, look: Look::Plain, symbol: None, home: Vec::new() }
}
