//! The letter home: what is made and of what, when, and what to bring. It leaves with
//! pupils, so that it says of no group what it needs.

use super::words::recipes_made;
use crate::model::{Brought, Ingredient, Measure};
use crate::papers::sheet::{Block, Form, Sheet};
use crate::papers::{Matter, Part};
use crate::stores::{Amount, MadeFor, RecipeStores, told};
use crate::units::plain_number;
use crate::view::words::{capital, list};

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let made: Vec<String> =
        recipes_made(lesson).into_iter().map(|r| lesson.recipes[r.0].name.clone()).collect();
    let when = match lesson.date {
        Some(date) => format!("on {}", date.format("%A %-d %B")),
        None => "on ………………………".to_owned(),
    };
    let class = match lesson.class.name.as_str() {
        "" => "the class".to_owned(),
        name => format!("class {name}"),
    };
    let mut blocks = vec![
        Block::Prose("Dear parents and carers,".to_owned()),
        Block::Prose(format!("{} {class} bakes: {}.", capital(&when), list(&made))),
    ];
    let brought = brought(matter);
    blocks.extend(recipes(matter));
    if !brought.is_empty() {
        blocks.push(Block::Heading("From home, each in its own packet".to_owned()));
        blocks.push(Block::List(brought));
    }
    blocks.extend([
        Block::Prose(
            "Please send a named box with a lid, large enough for what is baked, and an apron if \
             there is one."
                .to_owned(),
        ),
        Block::Prose("Contribution: ………………  other things to bring: ………………………………".to_owned()),
        Block::Prose(
            "If your child may not touch or eat something, please tell the school again now, even \
             if it knows. What is brought in a packet from home is used only once an adult has read \
             its label."
                .to_owned(),
        ),
        Block::Prose("With kind regards, ………………………………".to_owned()),
        Block::Heading("Reply slip".to_owned()),
        Block::Prose("Name and class: ………………………………………………………".to_owned()),
        Block::List(vec![
            "takes part and brings a box".to_owned(),
            "please speak to me first: ………………………………………………".to_owned(),
        ]),
        Block::Prose("Signed: ………………………………  date: ………………".to_owned()),
    ]);
    Sheet { part: Part::LetterHome, of: None, blocks, form: Form::Hand }
}

/// What one set of each recipe takes: a heading and a line of its ingredients.
fn recipes<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let mut blocks = Vec::new();
    for of in &matter.stores.recipes {
        let recipe = &matter.lesson.recipes[of.recipe.0];
        let lines: Vec<String> = of
            .amounts
            .iter()
            .map(|amount| {
                let ingredient = &recipe.ingredients[amount.ingredient];
                each(of, amount, ingredient)
            })
            .collect();
        if !lines.is_empty() {
            blocks.push(Block::Heading(format!("{}, for one group", recipe.name)));
            blocks.push(Block::Prose(format!("{}.", lines.join("; "))));
        }
    }
    blocks
}

/// How much a group needs of an ingredient, "3 eggs" or "100 g to 150 g caster sugar":
/// from the least to the most, where groups make more or less of it.
fn each(of: &RecipeStores, amount: &Amount, ingredient: &Ingredient) -> String {
    let groups = of.sets.iter().zip(&amount.each);
    let groups = groups.filter(|(set, _)| matches!(set.made_for, MadeFor::Groups(_)));
    let all: Vec<f64> = groups.map(|(_, each)| *each).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().fold(0.0, f64::max);
    let told = |amount: f64| match ingredient.measure {
        Measure::Egg => plain_number(amount),
        measure => told::measured(measure, amount),
    };
    let name = &ingredient.name;
    match told(least) == told(most) {
        true => format!("{} {name}", told(most)),
        false => format!("{} to {} {name}", told(least), told(most)),
    }
}

/// What is brought from home, with how much of it.
fn brought(matter: &Matter<'_>) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for of in &matter.stores.recipes {
        let recipe = &matter.lesson.recipes[of.recipe.0];
        for amount in &of.amounts {
            let ingredient = &recipe.ingredients[amount.ingredient];
            let packet = matter.lesson.packets.iter().find(|p| p.is_of(&ingredient.name));
            let may = match packet.map(|packet| packet.brought) {
                Some(Brought::FromHome) => "",
                Some(Brought::ByEither) => ", if you like",
                _ => continue,
            };
            let much = each(of, amount, ingredient);
            let line = format!("{much} for {}{may}", recipe.name);
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}
