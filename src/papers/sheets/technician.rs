//! The technician's day: what is done by when, for one lesson or several.

use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::view::technicians_day::{Duty, ForLesson, TechniciansDay};

/// Of all lessons that have a plan; nothing without any.
pub(super) fn sheet(matters: &[Matter<'_>]) -> Option<Sheet<'static>> {
    let planned = matters.iter().filter_map(|of| {
        let (lesson, set_out) = (of.lesson, of.set_out);
        of.plan.map(|plan| ForLesson { lesson, plan, set_out })
    });
    let planned: Vec<_> = planned.collect();
    if planned.is_empty() {
        return None;
    }
    let day = TechniciansDay::of(&planned);
    let mut blocks = Vec::new();
    if !day.clashes.is_empty() {
        blocks.push(Block::Heading("Cannot be as it stands".to_owned()));
        blocks.push(Block::List(day.clashes.iter().map(|words| format!("{words}.")).collect()));
    }
    let several = planned.len() > 1;
    let mut dates: Vec<_> = day.duties.iter().map(|duty| duty.date).collect();
    dates.dedup();
    for date in &dates {
        if dates.len() > 1 {
            let words = date.map(|date| date.format("%A %-d %B %Y").to_string());
            blocks.push(Block::Heading(words.unwrap_or_else(|| "Without a date".to_owned())));
        }
        let of_date = day.duties.iter().filter(|duty| duty.date == *date);
        blocks.push(Block::Table(table(of_date, several)));
    }
    if day.duties.is_empty() {
        blocks.push(Block::Prose("Nothing is asked of the technician.".to_owned()));
    } else {
        blocks.push(Block::Prose(
            "Each begins by its time at the latest. Minutes are those that the recipes have for \
             pupils."
                .to_owned(),
        ));
    }
    Some(Sheet { part: Part::TechniciansDay, of: None, blocks, form: Form::Hand })
}

fn table<'d>(duties: impl Iterator<Item = &'d Duty>, several: bool) -> Table {
    let mut columns = vec![
        ("Start by", Width::Fit),
        ("Minutes", Width::Fit),
        ("What", Width::Share(2.0)),
        ("Room", Width::Fit),
    ];
    if several {
        columns.push(("Lesson", Width::Share(0.8)));
    }
    columns.push(("Done", Width::Fit));
    let mut table = Table::new(&columns);
    for duty in duties {
        let lacks = duty.who_lacks().map_or_else(String::new, |lacks| format!(" ({lacks})"));
        let mut cells = vec![
            Cell::Time(duty.start_by.to_string()),
            Cell::Name(duty.length.replace(" min", "")),
            Cell::Prose(format!("{}{lacks}", duty.what)),
            Cell::Prose(duty.room.clone()),
        ];
        if several {
            cells.push(Cell::Prose(duty.lesson.clone()));
        }
        cells.push(Cell::Tick);
        table.row(Look::Plain, cells);
    }
    table
}
