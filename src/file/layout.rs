//! Lays a RON text out as a person would: what fits stands on one line.

use super::tree::{Brackets, Entry, Tree, Value};

/// Longest line before brackets are opened out.
const WIDTH: usize = 100;
/// Spaces a level.
const INDENT: usize = 4;

/// Lays out a text that is well formed and without comments.
pub(super) fn laid_out(text: &str) -> String {
    let mut laid_out = String::new();
    match Tree::read(text).whole() {
        Some(value) => write(&mut laid_out, &value, 0, true, 0),
        None => laid_out.push_str(text),
    }
    laid_out.push('\n');
    laid_out
}

/// Lays out a value that stands so many levels in.
pub(super) fn laid_out_at(value: &Value<'_>, level: usize) -> String {
    let mut laid_out = String::new();
    write(&mut laid_out, value, level, false, INDENT * level);
    laid_out
}

/// `180.0` as `180`.
fn plain(word: &str) -> &str {
    word.strip_suffix(".0").filter(|whole| whole.parse::<i64>().is_ok()).unwrap_or(word)
}

/// An entry's name as it stands before the value.
fn name(entry: &Entry<'_>) -> String {
    entry.name_as_written().map(|name| format!("{name}: ")).unwrap_or_default()
}

fn one_line(value: &Value<'_>) -> String {
    let word = plain(value.word_as_written());
    match &value.brackets {
        None => word.to_owned(),
        Some(Brackets { pair: (open, close), entries, .. }) => {
            let entry = |e: &Entry<'_>| name(e) + &one_line(&e.value);
            let entries: Vec<String> = entries.iter().map(entry).collect();
            format!("{word}{open}{}{close}", entries.join(", "))
        }
    }
}

/// Writes a value that begins at column `used`.
fn write(out: &mut String, value: &Value<'_>, level: usize, open_out: bool, used: usize) {
    let line = one_line(value);
    let opened = value.brackets.as_ref().filter(|brackets| {
        !brackets.entries.is_empty() && (open_out || used + line.chars().count() >= WIDTH)
    });
    let Some(Brackets { pair: (open, close), entries, .. }) = opened else {
        out.push_str(&line);
        return;
    };
    out.push_str(plain(value.word_as_written()));
    out.push(*open);
    let inner = INDENT * (level + 1);
    for entry in entries {
        out.push('\n');
        out.push_str(&" ".repeat(inner));
        let name = name(entry);
        out.push_str(&name);
        write(out, &entry.value, level + 1, false, inner + name.chars().count());
        out.push(',');
    }
    out.push('\n');
    out.push_str(&" ".repeat(INDENT * level));
    out.push(*close);
}
