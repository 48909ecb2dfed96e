//! The teacher's lesson sheet: the outcome, the board, the calls, adults, and
//! what was assumed.

use super::running_order::calls;
use super::words::time;
use crate::check::CheckedPlan;
use crate::model::{AdultId, GroupId, Lesson};
use crate::papers::sheet::{Block, Cell, Form, Look, Picture, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::view::area::Area;
use crate::view::assumed::assumed;
use crate::view::board::Board;
use crate::view::laid_out::{Over, Sizes, lay_out};
use crate::view::rows::{choice_words, verdict_words};
use crate::view::scale::TimeScale;
use crate::view::scene::board::BoardPicture;
use crate::view::scene::{Measure, Scene};
use crate::view::words::{capital, clock_in, list, minutes};
use crate::view::{cards, sentence};

/// Width of the board in its own units; it is shrunk to the page.
const BOARD: f32 = 860.0;
/// Of it, for names on the left and ready times on the right.
const BESIDE: (f32, f32) = (140.0, 100.0);
/// What is wide enough for the board on either paper, in points.
const ON_PAPER: f32 = 516.0;

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Option<Sheet<'a>> {
    let (lesson, plan) = (matter.lesson, matter.plan?);
    let mut blocks: Vec<Block<'a>> = Vec::new();
    for said in [sentence::outcome(lesson, plan), sentence::next(lesson, plan)] {
        if !said.is_empty() {
            blocks.push(Block::Prose(said));
        }
    }
    blocks.push(Block::Pictures(vec![Picture {
        caption: String::new(),
        spoken: "The plan as a board: a row for each group and each oven along the clock. The \
                 tables below say the same."
            .to_owned(),
        share: 1.0,
        zoom: ON_PAPER / BOARD,
        draw: Box::new(move |width, measure| board(lesson, plan, width, measure)),
    }]));
    blocks.push(Block::Heading("Groups".to_owned()));
    blocks.push(Block::Table(groups(lesson, plan)));
    for (reason, names) in sentence::reasons(lesson, plan) {
        blocks.push(Block::Prose(format!("{}: {reason}", list(&names))));
    }
    blocks.push(Block::Heading("Calls".to_owned()));
    blocks.push(Block::Table(calls(lesson, plan)));
    blocks.extend(adults(lesson, plan));
    let assumed = assumed(lesson, plan);
    if !assumed.is_empty() {
        blocks.push(Block::Heading("Assumed, as the lesson does not say".to_owned()));
        blocks.push(Block::List(assumed));
    }
    Some(Sheet { part: Part::LessonSheet, of: None, blocks, form: Form::Hand })
}

fn board(lesson: &Lesson, plan: &CheckedPlan, width: f32, measure: &dyn Measure) -> Scene {
    let board = Board::of(lesson, plan);
    let (left, right) = BESIDE;
    let (from, until) = (board.from.get() as f32, board.until.get() as f32);
    let scale = TimeScale { from, until, left, width: width - left - right };
    let laid = lay_out(&board, &scale, &Sizes::default());
    let size = (width, laid.height);
    let picture = BoardPicture {
        lesson,
        board: &board,
        over: Over::default(),
        laid: &laid,
        bars: &laid.bars,
        scale,
        size,
        seen: Area { x: 0.0, y: 0.0, w: size.0, h: size.1 },
    };
    picture.whole(measure)
}

fn groups(lesson: &Lesson, plan: &CheckedPlan) -> Table {
    let columns = [
        ("Group", Width::Fit),
        ("Bakes", Width::Share(1.4)),
        ("Ready", Width::Fit),
        ("Spare", Width::Fit),
        ("Outcome", Width::Fit),
        ("Keeps to", Width::Share(1.0)),
    ];
    let mut table = Table::new(&columns);
    for id in (0..lesson.groups.len()).map(GroupId) {
        let group = lesson.group(id);
        let outcome = plan.group_outcomes()[id.0];
        let recipe = &lesson.recipe_of(id).name;
        let bakes = match choice_words(lesson, plan, id) {
            Some(choice) => format!("{recipe}: {choice}"),
            None => recipe.clone(),
        };
        let ready = outcome.ready.map_or(Cell::Name("–".to_owned()), |ready| {
            Cell::Time(clock_in(lesson, group.period, ready).to_string())
        });
        let spare = outcome.spare.map_or("–".to_owned(), |spare| minutes(spare.get()));
        let mut needs = group.needs.clone();
        if group.keep_apart {
            needs.insert(0, "kept apart".to_owned());
        }
        let cells = vec![
            Cell::Strong(group.name.clone()),
            Cell::Prose(bakes),
            ready,
            Cell::Name(spare),
            Cell::Name(verdict_words(outcome.verdict).to_owned()),
            Cell::Prose(list(&needs)),
        ];
        table.row(Look::Plain, cells);
    }
    table
}

/// What occupies each adult, minute by minute.
fn adults<'a>(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Block<'a>> {
    let mut blocks = Vec::new();
    let columns = [("Adult", Width::Fit), ("When", Width::Fit), ("What", Width::Share(1.0))];
    let mut table = Table::new(&columns);
    for (i, adult) in lesson.adults.iter().enumerate() {
        let card = cards::adult(lesson, plan, AdultId(i), None);
        let mut name = format!("{} ({})", capital(&adult.name), card.under);
        for (when, what) in card.lines {
            let cells =
                vec![Cell::Prose(std::mem::take(&mut name)), Cell::Time(when), Cell::Prose(what)];
            table.row(Look::Plain, cells);
        }
    }
    if !table.rows.is_empty() {
        blocks.push(Block::Heading("Adults".to_owned()));
        blocks.push(Block::Table(table));
    }
    let bells = lesson
        .periods
        .iter()
        .map(|p| format!("{} to {}", time(lesson, p.start), time(lesson, p.end)));
    let watched: Vec<String> = bells.collect();
    blocks.push(Block::Prose(format!(
        "Bells {}. Keep an adult in the room while an oven is hot.",
        list(&watched)
    )));
    blocks
}
