//! The letter home: what is made, when, and what to bring. It leaves with
//! pupils.

use super::words::recipes_made;
use crate::papers::sheet::{Block, Form, Sheet};
use crate::papers::{Matter, Part};
use crate::view::words::list;

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
    let blocks = vec![
        Block::Prose("Dear parents and carers,".to_owned()),
        Block::Prose(format!("{when} {class} bakes: {}.", list(&made)).replacen("on ", "On ", 1)),
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
    ];
    Sheet { part: Part::LetterHome, of: None, blocks, form: Form::Hand }
}
