//! Sheets that are printed again: what is new on them stands on top.
//!
//! Changes are found between the sheets themselves, so that a sheet that hangs on
//! a wall tells of nothing that it would not tell anyway.

use chrono::NaiveDateTime;

use super::sheet::{Block, Form, Label, Sheet};
use crate::view::words::list;

/// More changes than this are not listed one by one.
const MOST: usize = 6;

/// How a sheet stands to what was printed, or kept, before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// There is nothing before it.
    First,
    /// It says the same as before.
    Unchanged,
    /// It says something else.
    Changed,
}

/// Compares a sheet with those of before; one that says something else lists
/// that on top, with when the others were printed.
pub fn compare(sheet: &mut Sheet<'_>, before: &[Sheet<'_>], since: NaiveDateTime) -> Standing {
    let same = |old: &&Sheet<'_>| (old.part, &old.of) == (sheet.part, &sheet.of);
    let (was, is) = (before.iter().find(same).map(lines), lines(sheet));
    let Some(was) = was else {
        mark(sheet, since, vec!["This sheet is new.".to_owned()]);
        return Standing::Changed;
    };
    if was == is {
        return Standing::Unchanged;
    }
    let only = |one: &[String], other: &[String]| -> Vec<String> {
        one.iter().filter(|line| !other.contains(line)).cloned().collect()
    };
    let (new, gone) = (only(&is, &was), only(&was, &is));
    let changes = if new.len() + gone.len() > MOST {
        vec!["Much has changed: go by this sheet alone.".to_owned()]
    } else {
        let new = new.into_iter().map(|line| format!("Now: {line}"));
        new.chain(gone.into_iter().map(|line| format!("No longer: {line}"))).collect()
    };
    mark(sheet, since, changes);
    Standing::Changed
}

/// "18 November, 15:40".
pub fn when(since: NaiveDateTime) -> String {
    since.format("%-d %B, %H:%M").to_string()
}

fn mark(sheet: &mut Sheet<'_>, since: NaiveDateTime, changes: Vec<String>) {
    // What is cut up has no top.
    if sheet.form == Form::CutUp {
        return;
    }
    sheet.blocks.insert(0, Block::Heading(format!("Changed since {}", when(since))));
    sheet.blocks.insert(1, Block::List(changes));
}

/// All that a sheet says, a line a row or a sentence.
fn lines(sheet: &Sheet<'_>) -> Vec<String> {
    let each = sheet.blocks.iter().flat_map(|block| match block {
        Block::Heading(words) | Block::Big(words) | Block::Prose(words) => vec![words.clone()],
        Block::List(items) => items.clone(),
        Block::Table(table) => {
            let rows = table.rows.iter();
            let row = |cells: Vec<&str>| {
                let cells = cells.into_iter().filter(|words| !words.is_empty());
                cells.map(|words| words.trim_end_matches('.')).collect::<Vec<_>>().join(", ")
            };
            rows.map(|of| row(of.cells.iter().map(|cell| cell.words()).collect())).collect()
        }
        Block::Pictures(pictures) => pictures.iter().map(|p| p.spoken.clone()).collect(),
        Block::Labels(_, labels) => {
            let words = |(words, _): &(String, bool)| words.clone();
            let all = |l: &Label| {
                let lines: Vec<String> = l.lines.iter().map(words).collect();
                format!("{}: {}", l.name, list(&lines))
            };
            labels.iter().map(all).collect()
        }
        Block::WriteOn(_) => Vec::new(),
    });
    each.filter(|line| !line.is_empty()).collect()
}
