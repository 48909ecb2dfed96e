//! Where a risk assessment may begin: the hazards that the lesson's own
//! recipes, ovens and kit bring. It is no assessment.

use super::words::{allergens, recipes_made};
use crate::model::{Ingredient, Lesson, Measure, OvenKind, Role};
use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::view::cautions::FIRST;
use crate::view::words::list;

/// A hazard, and the usual controls (common practice of the trade).
type Hazard = (String, &'static str);

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let mut blocks = vec![
        Block::Prose(format!("This is no risk assessment. {FIRST}")),
        Block::Prose("Number of the employer's assessment: ………………………".to_owned()),
    ];
    let columns = [
        ("Hazard", Width::Share(1.2)),
        ("Usual controls", Width::Share(1.8)),
        ("Who", Width::Share(0.6)),
        ("Extra for this class", Width::Share(1.5)),
    ];
    let mut table = Table::new(&columns);
    for (hazard, controls) in hazards(lesson) {
        let cells =
            vec![Cell::Prose(hazard), Cell::Prose(controls.to_owned()), Cell::Blank, Cell::Blank];
        table.row(Look::Plain, cells);
    }
    for _ in 0..2 {
        table.row(Look::Plain, vec![Cell::Blank; columns.len()]);
    }
    blocks.push(Block::Table(table));
    let adults: Vec<String> = lesson.adults.iter().map(|adult| adult.name.clone()).collect();
    if !adults.is_empty() {
        blocks.push(Block::Prose(format!("Adults of this lesson: {}.", list(&adults))));
    }
    let lines = [
        "First aid: ………………………  burns: cool running water for 20 minutes, then the first aider",
        "Gas isolator at: ………………………  electricity isolator at: ………………………",
        "Initials: ………………  date: ………………  look again on: ………………",
    ];
    blocks.push(Block::List(lines.map(str::to_owned).to_vec()));
    blocks.push(Block::Prose("The school's own assessment comes first.".to_owned()));
    Sheet { part: Part::RiskStarter, of: None, blocks, form: Form::Hand }
}

fn hazards(lesson: &Lesson) -> Vec<Hazard> {
    let made = recipes_made(lesson);
    let recipes: Vec<_> = made.iter().map(|r| &lesson.recipes[r.0]).collect();
    let any =
        |is: &dyn Fn(&Ingredient) -> bool| recipes.iter().flat_map(|r| &r.ingredients).any(is);
    let mut all: Vec<Hazard> = Vec::new();
    let mut add = |is: bool, hazard: &str, controls: &'static str| {
        if is {
            all.push((hazard.to_owned(), controls));
        }
    };
    let bakes = recipes.iter().any(|r| !r.tins.is_empty());
    let gas = lesson.ovens.iter().any(|o| o.kind == OvenKind::Gas && !o.out_of_order);
    let electric =
        lesson.ovens.iter().any(|o| o.kind != OvenKind::Gas) || !lesson.kit_kinds.is_empty();
    add(
        bakes,
        "Hot ovens, shelves and tins",
        "dry gloves, an adult in the room, one group at a door, doors shut between calls",
    );
    add(
        any(&|i| i.role == Role::Syrup),
        "Syrup or sugar when hot",
        "an adult beside it, nobody tastes or touches, pan handles turned in",
    );
    add(gas, "Gas", "isolator known and within reach, extraction on, lit by an adult");
    add(
        electric,
        "Electricity near water",
        "dry hands, leads away from sinks, nothing used that is damaged",
    );
    add(
        true,
        "Knives, graters, blades, where used",
        "shown first, counted out and in, washed apart",
    );
    add(true, "Spills and wet floors", "wiped at once, bags under the benches, nobody runs");
    let egg = any(&|i| i.role == Role::Egg || i.measure == Measure::Egg);
    let flour = any(&|i| i.role == Role::Flour);
    add(
        egg || flour,
        "Raw egg and raw flour",
        "nobody tastes raw mixture; hands and bench washed after it",
    );
    let named: Vec<String> = {
        let mut named: Vec<String> = Vec::new();
        for allergen in made.iter().flat_map(|&r| allergens(lesson, r).0) {
            if !named.contains(&allergen) {
                named.push(allergen);
            }
        }
        named
    };
    let unread = made.iter().any(|&r| !allergens(lesson, r).1.is_empty());
    let mut words = match named.as_slice() {
        [] => "Allergens: none entered".to_owned(),
        named => format!("Allergens: {}", list(named)),
    };
    if unread {
        words.push_str("; some labels not read");
    }
    all.push((
        words,
        "labels read every time, groups kept apart as planned, own kit, hands washed",
    ));
    all
}
