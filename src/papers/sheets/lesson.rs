//! The teacher's lesson sheet: the outcome, the board, the calls, how late what
//! may be, adults, and what was assumed.

use super::running_order::calls;
use super::words::time;
use crate::check::CheckedPlan;
use crate::model::{AdultId, GroupId, Lesson};
use crate::papers::sheet::{Block, Cell, Form, Look, Picture, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::units::Minute;
use crate::view::adult_near::wanted_near;
use crate::view::area::Area;
use crate::view::assumed::assumed;
use crate::view::board::Board;
use crate::view::if_it_slips::{Moment, slips};
use crate::view::laid_out::{Over, Sizes, lay_out};
use crate::view::rehearsal::Rehearsal;
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
    let rehearsal = Rehearsal::of(lesson, plan);
    blocks.extend(notes(lesson, &rehearsal));
    blocks.extend(if_it_slips(lesson, plan));
    blocks.extend(adults(lesson, plan, &rehearsal));
    let assumed = assumed(lesson, plan);
    if !assumed.is_empty() {
        blocks.push(Block::Heading("Assumed, as the lesson does not say".to_owned()));
        blocks.push(Block::List(assumed));
    }
    Some(Sheet { part: Part::LessonSheet, of: None, blocks, form: Form::Hand })
}

fn board(lesson: &Lesson, plan: &CheckedPlan, width: f32, measure: &dyn Measure) -> Scene {
    let board = Board::of(lesson, plan);
    let (left, right) = (BESIDE.0, BESIDE.1 + BoardPicture::more_for_ready(&board));
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

/// The teacher's own notes in the order of time; last those that belong nowhere
/// now.
fn notes<'a>(lesson: &Lesson, rehearsal: &Rehearsal) -> Vec<Block<'a>> {
    let mut all: Vec<_> = rehearsal.notes.iter().collect();
    if all.is_empty() {
        return Vec::new();
    }
    all.sort_by_key(|note| (note.minute.is_none(), note.minute, note.number));
    let columns = [
        ("Time", Width::Fit),
        ("At", Width::Share(1.0)),
        ("You say", Width::Share(1.6)),
        ("You do", Width::Share(1.2)),
    ];
    let mut table = Table::new(&columns);
    for note in all {
        let when = note.minute.map_or_else(
            || Cell::Name("nowhere now".to_owned()),
            |minute| Cell::Time(time(lesson, minute)),
        );
        let cells = vec![
            when,
            Cell::Prose(note.at.clone()),
            Cell::Prose(note.say.clone()),
            Cell::Prose(note.own.clone()),
        ];
        table.row(Look::Plain, cells);
    }
    vec![Block::Heading("Your notes".to_owned()), Block::Table(table)]
}

/// What may be how late, so that all are still out.
fn if_it_slips<'a>(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Block<'a>> {
    let slips = slips(lesson, plan);
    if slips.is_empty() {
        return Vec::new();
    }
    let columns = [
        ("Group", Width::Share(1.0)),
        ("Filled by", Width::Fit),
        ("at the latest", Width::Fit),
        ("IN", Width::Fit),
        ("at the latest", Width::Fit),
        ("To give", Width::Fit),
    ];
    let mut table = Table::new(&columns);
    for slip in slips {
        let at = |minute| Cell::Time(time(lesson, minute));
        let none = || [Cell::Name("–".to_owned()), Cell::Name("–".to_owned())];
        let moment = |of: Option<Moment>| of.map_or_else(none, |m| [at(m.planned), at(m.latest)]);
        let mut cells = vec![Cell::Strong(lesson.group(slip.group).name.clone())];
        cells.extend(moment(slip.filled));
        cells.extend(moment(slip.load));
        cells.push(Cell::Time(format!("{} min", slip.to_give)));
        table.row(Look::Plain, cells);
    }
    vec![
        Block::Heading("If it slips".to_owned()),
        Block::Prose(
            "At the latest: with everybody else as planned, all are still out. To give: how much \
             later a group may be with everything it does."
                .to_owned(),
        ),
        Block::Table(table),
    ]
}

/// What is asked of adults and by when, and when nobody is free while an oven is
/// on.
fn adults<'a>(lesson: &Lesson, plan: &CheckedPlan, rehearsal: &Rehearsal) -> Vec<Block<'a>> {
    let mut rows: Vec<(Minute, Minute, Look, String, String)> = Vec::new();
    for job in &rehearsal.jobs {
        let who = match job.who {
            Some(id) if job.assumed => format!("{} (assumed)", lesson.adults[id.0].name),
            Some(id) => lesson.adults[id.0].name.clone(),
            None => "nobody is named".to_owned(),
        };
        rows.push((job.start_by, job.until, Look::Plain, who, job.what.clone()));
    }
    for adult in &lesson.adults {
        for (from, until) in wanted_near(lesson, plan, adult) {
            let what = "in the room: a step asks for an adult near".to_owned();
            rows.push((from, until, Look::Plain, adult.name.clone(), what));
        }
    }
    for gap in &rehearsal.gaps {
        let who = "nobody is free".to_owned();
        rows.push((gap.from, gap.until, Look::Framed, who, gap.words(lesson)));
    }
    rows.sort_by(|a, b| (a.0, a.1, &a.3, &a.4).cmp(&(b.0, b.1, &b.3, &b.4)));
    let columns = [
        ("From", Width::Fit),
        ("Until", Width::Fit),
        ("Who", Width::Fit),
        ("What", Width::Share(1.0)),
    ];
    let mut table = Table::new(&columns);
    for (from, until, look, who, what) in rows {
        let end = if from == until { Cell::Blank } else { Cell::Time(time(lesson, until)) };
        let cells = vec![
            Cell::Time(time(lesson, from)),
            end,
            Cell::Prose(capital(&who)),
            Cell::Prose(capital(&what)),
        ];
        table.row(look, cells);
    }
    let mut blocks = vec![Block::Heading("Adults".to_owned())];
    let there = (0..lesson.adults.len()).map(|i| {
        let card = cards::adult(lesson, plan, AdultId(i), None);
        format!("{}: {}", capital(&card.title), card.under)
    });
    let there: Vec<String> = there.collect();
    if !there.is_empty() {
        blocks.push(Block::List(there));
    }
    if !table.rows.is_empty() {
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
