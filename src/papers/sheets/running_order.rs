//! The running order: what is called when. It hangs on a wall.

use super::words::{names, time};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, StepId};
use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::units::Minute;
use crate::view::bake_times::{BakeTimes, bake_times};
use crate::view::board::{BarId, Board, Work};
use crate::view::class_view::{Call, ClassView};
use crate::view::collected::{collected, collecting};
use crate::view::rows::COLLECTED_LATER;
use crate::view::words::{capital, in_short, list};

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Option<Sheet<'a>> {
    let (lesson, plan) = (matter.lesson, matter.plan?);
    let mut blocks = vec![Block::Big(finish(lesson))];
    blocks.push(Block::Table(calls(lesson, plan)));
    blocks.extend(bakes(lesson, plan));
    blocks.extend(clearing(lesson, plan));
    blocks.push(Block::List(
        [
            "Done test first, then out. Not done: shut the door, look again in a minute or two.",
            "Box with the lid ajar. Label: bake, date, unit, allergens.",
            "Unit check: hob and oven off, sink, bin, floor, kit counted, cloths away.",
        ]
        .map(str::to_owned)
        .to_vec(),
    ));
    Some(Sheet { part: Part::RunningOrder, of: None, blocks, form: Form::Poster })
}

/// "Out by 11:05": the last bell, which everything leads up to.
fn finish(lesson: &Lesson) -> String {
    let ends: Vec<String> = lesson.periods.iter().map(|p| time(lesson, p.end)).collect();
    format!("Out by {}", list(&ends))
}

/// All calls in their order, the checkpoint among them.
pub(super) fn calls(lesson: &Lesson, plan: &CheckedPlan) -> Table {
    let columns = [("Time", Width::Fit), ("What", Width::Share(3.0)), ("Who", Width::Share(2.0))];
    let mut table = Table::new(&columns);
    let first = lesson.periods.iter().map(|p| p.start).min().unwrap_or_default();
    let mut minute = first - crate::units::Minutes::new(1);
    let filled = filled_by(lesson, plan);
    while let Some(next) = ClassView::of(lesson, plan, minute).next {
        minute = minute + crate::units::Minutes::new(next.wait);
        let at = next.at.to_string();
        if filled == Some(minute) {
            let words = format!("By {at} everything is filled");
            let cells = vec![Cell::Time(at.clone()), Cell::Strong(words), Cell::Name("all".into())];
            table.row(Look::Framed, cells);
        }
        for call in next.calls {
            let (look, what, who) = match &call {
                Call::Class { name, until } => {
                    (Look::Shaded, format!("{}, until {until}", capital(name)), "all".to_owned())
                }
                Call::Door { into, groups, places, .. } => {
                    let way = if *into { "IN:" } else { "OUT:" };
                    (Look::Plain, format!("{way} {}", list(places)), list(&in_short(groups)))
                }
                Call::Bell => (Look::Shaded, "Bell".to_owned(), "all".to_owned()),
            };
            table.row(look, vec![Cell::Time(at.clone()), Cell::Strong(what), Cell::Name(who)]);
        }
        for (steps, groups) in collected_at(lesson, plan, minute) {
            let what = format!("{}: {}", capital(COLLECTED_LATER), list(&steps));
            let who = Cell::Name(names(lesson, &groups));
            table.row(Look::Plain, vec![Cell::Time(at.clone()), Cell::Strong(what), who]);
        }
    }
    table
}

/// What is done after a bell for those who fetch their bakes later, groups with the same
/// steps together.
fn collected_at(
    lesson: &Lesson,
    plan: &CheckedPlan,
    bell: Minute,
) -> Vec<(Vec<String>, Vec<GroupId>)> {
    let mut together: Vec<(Vec<String>, Vec<GroupId>)> = Vec::new();
    for id in collecting(lesson, plan) {
        if lesson.periods[lesson.group(id).period.0].end != bell {
            continue;
        }
        let steps = collected(lesson, plan, id);
        match together.iter_mut().find(|(same, _)| *same == steps) {
            Some((_, groups)) => groups.push(id),
            None => together.push((steps, vec![id])),
        }
    }
    together
}

/// The checkpoint: the minute at which the last tins go in.
fn filled_by(lesson: &Lesson, plan: &CheckedPlan) -> Option<Minute> {
    let period = |g: GroupId| &lesson.periods[lesson.group(g).period.0];
    let loads = plan.plan().loads.iter();
    let loads = loads.filter(|l| l.start >= period(l.group).start && l.start < period(l.group).end);
    loads.map(|l| l.start).max()
}

/// IN, CHECK FROM and OUT of every bake, groups with the same times together.
fn bakes(lesson: &Lesson, plan: &CheckedPlan) -> Option<Block<'static>> {
    let mut together: Vec<(BakeTimes, Vec<GroupId>)> = Vec::new();
    for id in (0..lesson.groups.len()).map(GroupId) {
        let Some(times) = bake_times(lesson, plan, id) else { continue };
        match together.iter_mut().find(|(same, _)| *same == times) {
            Some((_, groups)) => groups.push(id),
            None => together.push((times, vec![id])),
        }
    }
    together.sort_by_key(|(times, groups)| (times.load, times.take_out, groups.clone()));
    let columns = [
        ("Who", Width::Share(1.0)),
        ("IN", Width::Fit),
        ("CHECK FROM", Width::Fit),
        ("OUT expected", Width::Fit),
    ];
    let mut table = Table::new(&columns);
    for (times, groups) in &together {
        let at = |minute| Cell::Time(time(lesson, minute));
        let who = Cell::Name(names(lesson, groups));
        let cells = vec![who, at(times.load), at(times.check_from), at(times.take_out)];
        table.row(Look::Plain, cells);
    }
    (!table.rows.is_empty()).then_some(Block::Table(table))
}

/// Steps of clearing away: from the first group's start to the last one's end.
fn clearing(lesson: &Lesson, plan: &CheckedPlan) -> Option<Block<'static>> {
    let board = Board::of(lesson, plan);
    let mut steps: Vec<(String, Minute, Minute)> = Vec::new();
    for bar in board.rows.iter().flat_map(|row| &row.bars).filter(|b| b.work == Work::Clear) {
        let BarId::Step(group, step) = bar.id else { continue };
        let Some(name) = step_name(lesson, plan, group, step) else { continue };
        match steps.iter_mut().find(|(same, ..)| *same == name) {
            Some((_, from, until)) => {
                *from = (*from).min(bar.from);
                *until = (*until).max(bar.until);
            }
            None => steps.push((name, bar.from, bar.until)),
        }
    }
    steps.sort_by_key(|(_, from, until)| (*from, *until));
    let columns =
        [("While it bakes", Width::Share(1.0)), ("from", Width::Fit), ("done by", Width::Fit)];
    let mut table = Table::new(&columns);
    for (name, from, until) in steps {
        let at = |minute| Cell::Time(time(lesson, minute));
        table.row(Look::Plain, vec![Cell::Name(capital(&name)), at(from), at(until)]);
    }
    (!table.rows.is_empty()).then_some(Block::Table(table))
}

fn step_name(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, step: StepId) -> Option<String> {
    let choice = plan.plan().choice(group)?;
    let step = lesson.method_of(group, choice.method).steps.get(step.0)?;
    Some(step.name.clone())
}
