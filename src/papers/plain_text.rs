//! A sheet as plain text to be pasted: a line a row, a tab between cells, so
//! that it becomes a table where there can be tables.

use std::fmt::Write as _;

use super::head::Head;
use super::sheet::{Block, Sheet};
use super::typeface::printable;

/// A sheet with its head and its foot, each text said in the English that is
/// spoken.
pub fn plain_text(sheet: &Sheet<'_>, head: &Head, said: super::layout::Said<'_>) -> String {
    let told = |words: &str| printable(&said(words));
    let mut text = String::new();
    let mut line = |words: String| {
        // Writing to a string does not fail.
        let _ = writeln!(text, "{words}");
    };
    line(told(&sheet.title()));
    head.lines().iter().for_each(|words| line(told(words)));
    for block in &sheet.blocks {
        match block {
            Block::Heading(words) => line(format!("\n{}", told(words))),
            Block::Big(words) | Block::Prose(words) => line(told(words)),
            Block::List(items) => items.iter().for_each(|item| line(format!("- {}", told(item)))),
            Block::Table(table) => {
                let headings = table.columns.iter().map(|column| told(&column.heading));
                line(format!("\n{}", headings.collect::<Vec<_>>().join("\t")));
                for row in &table.rows {
                    let cells = row.cells.iter().map(|cell| told(cell.words()));
                    line(cells.collect::<Vec<_>>().join("\t"));
                }
            }
            Block::Pictures(_) | Block::WriteOn(_) => {}
            Block::Labels(_, labels) => {
                for label in labels {
                    line(told(&label.name));
                    label.lines.iter().for_each(|(words, _)| line(told(words)));
                }
            }
        }
    }
    line(format!("\n{}", told(Head::CAUTION)));
    let issued = head.issued.format("%-d %B %Y, %H:%M");
    line(told(&format!("Issued {issued}")));
    text
}
