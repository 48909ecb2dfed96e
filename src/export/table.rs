//! A plan as a table of comma-separated values (RFC 4180), for spreadsheets: a
//! line for each step of the class, each step of a group and each setting of an
//! oven, in the order of time.

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::plan::{ClassPlacement, OvenSetting, StepPlacement};
use crate::units::Minute;
use crate::view::words::{clock, shelf};

/// The heads of the columns.
pub const HEADS: [&str; 8] =
    ["begins", "ends", "who", "what", "recipe", "tin", "oven", "place in it"];

/// A line, with the minutes it is ordered by.
type Line = (Minute, Minute, [String; HEADS.len()]);

/// The plan as a table.
///
/// # Errors
/// If a line cannot be written.
pub fn table(lesson: &Lesson, plan: &CheckedPlan) -> csv::Result<Vec<u8>> {
    let mut lines = class_steps(lesson, plan);
    lines.extend(steps(lesson, plan));
    lines.extend(settings(lesson, plan));
    lines.sort_by_key(|line| (line.0, line.1));
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(HEADS)?;
    for (_, _, cells) in lines {
        writer.write_record(cells.iter().map(|cell| harmless(cell)))?;
    }
    writer.into_inner().map_err(|fault| fault.into_error().into())
}

/// A cell that no spreadsheet takes for a formula: one that begins like it gets
/// an apostrophe before it, which shows it as text.
pub fn harmless(cell: &str) -> String {
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        return format!("'{cell}");
    }
    cell.to_owned()
}

/// Whether a text is a table that was made here.
pub fn is_ours(text: &str) -> bool {
    text.trim_start_matches('\u{feff}').lines().next() == Some(&HEADS.join(","))
}

fn at(lesson: &Lesson, minute: Minute) -> String {
    clock(lesson, minute).to_string()
}

fn class_steps(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Line> {
    let line = |placed: &ClassPlacement| {
        let cells = [
            at(lesson, placed.start),
            at(lesson, placed.end),
            "class".to_owned(),
            lesson.class_steps[placed.step.0].name.clone(),
            String::new(),
            String::new(),
            String::new(),
            String::new(),
        ];
        (placed.start, placed.end, cells)
    };
    plan.plan().class_steps.iter().map(line).collect()
}

fn steps(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Line> {
    let told = plan.plan();
    let line = |placed: &StepPlacement| {
        let choice = told.choice(placed.group)?;
        let method = lesson.method_of(placed.group, choice.method);
        let tin = choice.tin.map(|tin| lesson.tin_choice_of(placed.group, tin).label.clone());
        let in_oven = method
            .bake_steps()
            .is_some_and(|(load, bake, out)| [load, bake, out].contains(&placed.step));
        let load = told.loads.iter().find(|l| l.group == placed.group).filter(|_| in_oven);
        let oven = load.map(|l| &lesson.ovens[l.oven.0]);
        let place = load.zip(oven).map(|(l, oven)| shelf(l.shelf.0, oven.shelves.len()));
        let cells = [
            at(lesson, placed.start),
            at(lesson, placed.end),
            lesson.group(placed.group).name.clone(),
            method.steps[placed.step.0].name.clone(),
            lesson.recipe_of(placed.group).name.clone(),
            tin.unwrap_or_default(),
            oven.map(|oven| oven.name.clone()).unwrap_or_default(),
            place.unwrap_or_default(),
        ];
        Some((placed.start, placed.end, cells))
    };
    told.steps.iter().filter_map(line).collect()
}

fn settings(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Line> {
    let line = |s: &OvenSetting| {
        let oven = &lesson.ovens[s.oven.0];
        let cells = [
            at(lesson, s.set_at),
            at(lesson, s.until),
            oven.name.clone(),
            format!("on at {} °C", oven.dial(s.celsius)),
            String::new(),
            String::new(),
            oven.name.clone(),
            String::new(),
        ];
        (s.set_at, s.until, cells)
    };
    plan.plan().settings.iter().map(line).collect()
}
