//! Lays a RON text out as a person would: what fits stands on one line.

use super::tokens::{Token, TokenKind, tokens};

/// Longest line before brackets are opened out.
const WIDTH: usize = 100;
/// Spaces a level.
const INDENT: usize = 4;

enum Item {
    Atom(String),
    /// Word before it, brackets, entries with their names.
    Bracket(String, (char, char), Vec<(Option<String>, Item)>),
}

/// Lays out a text that is well formed and without comments.
pub(super) fn laid_out(text: &str) -> String {
    let mut tokens = tokens(text).peekable();
    let mut laid_out = String::new();
    let item = item(text, &mut tokens);
    write(&mut laid_out, &item, 0, true, 0);
    laid_out.push('\n');
    laid_out
}

/// Lays out a part of such a text that stands so many levels in.
pub(super) fn laid_out_at(text: &str, level: usize) -> String {
    let mut tokens = tokens(text).peekable();
    let item = item(text, &mut tokens);
    let mut laid_out = String::new();
    write(&mut laid_out, &item, level, false, INDENT * level);
    laid_out
}

fn item<'a>(text: &str, tokens: &mut std::iter::Peekable<impl Iterator<Item = Token<'a>>>) -> Item {
    let mut word = String::new();
    loop {
        let Some(&token) = tokens.peek() else { return Item::Atom(word) };
        match token.kind {
            TokenKind::Word | TokenKind::Text => {
                tokens.next();
                word = plain(text.get(token.start..token.end).unwrap_or(""));
            }
            TokenKind::Open(close) => {
                tokens.next();
                let open = text.get(token.start..token.end).unwrap_or("(");
                let open = open.chars().next().unwrap_or('(');
                return Item::Bracket(word, (open, close), entries(text, tokens));
            }
            _ => return Item::Atom(word),
        }
    }
}

fn entries<'a>(
    text: &str,
    tokens: &mut std::iter::Peekable<impl Iterator<Item = Token<'a>>>,
) -> Vec<(Option<String>, Item)> {
    let mut entries = Vec::new();
    let mut name = None;
    while let Some(&token) = tokens.peek() {
        match token.kind {
            TokenKind::Close(_) => {
                tokens.next();
                break;
            }
            TokenKind::Comma => {
                tokens.next();
            }
            TokenKind::Broken | TokenKind::Colon => {
                tokens.next();
            }
            _ => {
                let found = item(text, tokens);
                let named = tokens.peek().is_some_and(|t| t.kind == TokenKind::Colon);
                match found {
                    Item::Atom(word) if named => name = Some(word),
                    found => entries.push((name.take(), found)),
                }
            }
        }
    }
    entries
}

/// `180.0` as `180`.
fn plain(word: &str) -> String {
    match word.strip_suffix(".0") {
        Some(whole) if whole.parse::<i64>().is_ok() => whole.to_owned(),
        _ => word.to_owned(),
    }
}

fn one_line(item: &Item) -> String {
    match item {
        Item::Atom(word) => word.clone(),
        Item::Bracket(word, (open, close), entries) => {
            let entry = |(name, item): &(Option<String>, Item)| match name {
                Some(name) => format!("{name}: {}", one_line(item)),
                None => one_line(item),
            };
            let entries: Vec<String> = entries.iter().map(entry).collect();
            format!("{word}{open}{}{close}", entries.join(", "))
        }
    }
}

/// Writes an item that begins at column `used`.
fn write(out: &mut String, item: &Item, level: usize, open_out: bool, used: usize) {
    let line = one_line(item);
    let Item::Bracket(word, (open, close), entries) = item else {
        out.push_str(&line);
        return;
    };
    if entries.is_empty() || (!open_out && used + line.chars().count() < WIDTH) {
        out.push_str(&line);
        return;
    }
    out.push_str(word);
    out.push(*open);
    let inner = INDENT * (level + 1);
    for (name, item) in entries {
        out.push('\n');
        out.push_str(&" ".repeat(inner));
        let mut used = inner;
        if let Some(name) = name {
            out.push_str(name);
            out.push_str(": ");
            used += name.chars().count() + 2;
        }
        write(out, item, level + 1, false, used);
        out.push(',');
    }
    out.push('\n');
    out.push_str(&" ".repeat(INDENT * level));
    out.push(*close);
}
