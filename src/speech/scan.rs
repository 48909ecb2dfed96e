//! Goes through a sentence word by word.

use std::borrow::Cow;

use super::kept::Said;
use super::table::{self, Row, Text};
use super::{English, KeptNames, dates, measures};

/// A sentence in an English other than British.
pub(super) fn scan<'a>(
    text: &'a str,
    (english, of): (English, Text),
    names: &KeptNames,
) -> Cow<'a, str> {
    let sentence = Said { text, names };
    let mut said: Option<String> = None;
    let mut at = 0;
    while let Some(first) = text[at..].chars().next() {
        let kept = sentence.name_at(at).or_else(|| quoted(&text[at..], first));
        let changed = if kept.is_some() || !sentence.begins_word(at) {
            None
        } else {
            change(sentence, at, first, (english, of))
        };
        match changed {
            Some((length, words)) => {
                let said = said.get_or_insert_with(|| text[..at].to_owned());
                mend_article(said, &words);
                said.push_str(&words);
                at += length;
            }
            None => {
                let length = kept.unwrap_or_else(|| run(&text[at..], first));
                if let Some(said) = &mut said {
                    said.push_str(&text[at..at + length]);
                }
                at += length;
            }
        }
    }
    said.map_or(Cow::Borrowed(text), Cow::Owned)
}

/// What stands in the other English for what begins at a place, and how many
/// bytes of the British it is for.
fn change(
    sentence: Said<'_>,
    at: usize,
    first: char,
    (english, of): (English, Text),
) -> Option<(usize, String)> {
    if first.is_alphabetic() {
        if let Some(row) = word(sentence.text, at, (english, of)) {
            return Some(row);
        }
    } else if english.is_customary()
        && first.is_ascii_digit()
        && let Some(date) = dates::at(sentence, at)
    {
        return Some(date);
    }
    if english.is_customary() { measures::at(sentence, at, first) } else { None }
}

fn word(text: &str, at: usize, (english, of): (English, Text)) -> Option<(usize, String)> {
    let rest = &text[at..];
    let mut rows = table::beginning_with(english, of, first_word(rest));
    let (row, length) = rows.find_map(|row| same(rest, row).map(|length| (row, length)))?;
    if in_a_compound(text, at, at + length) {
        return None;
    }
    Some((length, like(&rest[..length], &row.to)))
}

fn first_word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_alphanumeric()).unwrap_or(text.len());
    &text[..end]
}

/// The length in bytes of a row's British words where a text begins with them,
/// whatever its capitals and whatever space is between the words.
fn same(text: &str, row: &Row) -> Option<usize> {
    let mut letters = text.char_indices();
    for wanted in row.from.chars() {
        let (_, found) = letters.next()?;
        let is = if wanted == ' ' {
            found.is_whitespace()
        } else {
            found.to_ascii_lowercase() == wanted
        };
        if !is {
            return None;
        }
    }
    match letters.next() {
        Some((_, next)) if next.is_alphanumeric() => None,
        Some((end, _)) => Some(end),
        None => Some(text.len()),
    }
}

/// Words with the capitals of others.
fn like(british: &str, words: &str) -> String {
    let capitals = british.chars().filter(|c| c.is_uppercase()).count();
    let letters = british.chars().filter(|c| c.is_alphabetic()).count();
    let first = british.chars().next().is_some_and(char::is_uppercase);
    if letters > 1 && capitals == letters {
        words.to_uppercase()
    } else if first {
        crate::words::capital(words)
    } else {
        words.to_owned()
    }
}

/// Makes "a" of an "an" before other words, or the other way round.
fn mend_article(said: &mut String, next: &str) {
    let Some(before) = said.strip_suffix(' ') else { return };
    let start = before.rfind(|c: char| !c.is_alphanumeric()).map_or(0, |i| i + 1);
    let Some(article) = before.get(start..).filter(|w| matches!(*w, "a" | "an" | "A" | "An"))
    else {
        return;
    };
    // Of figures, only those of eight, eleven and eighteen begin with a vowel.
    let digits: String = next.chars().take_while(char::is_ascii_digit).collect();
    let vowel = next.starts_with(['a', 'e', 'i', 'o', 'A', 'E', 'I', 'O'])
        || digits.starts_with('8')
        || matches!(digits.as_str(), "11" | "18");
    let wanted = match (article.starts_with('A'), vowel) {
        (true, true) => "An ",
        (true, false) => "A ",
        (false, true) => "an ",
        (false, false) => "a ",
    };
    said.truncate(start);
    said.push_str(wanted);
}

/// Whether a stretch is part of a name of a rule, a file or a path.
fn in_a_compound(text: &str, from: usize, until: usize) -> bool {
    let mut before = text[..from].chars().rev();
    let mut after = text[until..].chars();
    let joins = |c: char| matches!(c, '-' | '_' | '/' | '\\');
    let (last, next) = (before.next(), after.next());
    let second = after.next();
    let dotted = next == Some('.') && second.is_some_and(char::is_alphanumeric);
    let bracketed = last == Some('[') && next == Some(']');
    last.is_some_and(joins)
        || (next.is_some_and(joins) && second.is_some_and(char::is_alphanumeric))
        || (last == Some('.') && before.next().is_some_and(char::is_alphanumeric))
        || dotted
        || bracketed
}

/// The length of what is quoted at the beginning of a text, marks and all.
fn quoted(text: &str, mark: char) -> Option<usize> {
    if !matches!(mark, '"' | '`') {
        return None;
    }
    text[1..].find(mark).map(|end| end + 2)
}

/// The length of what is passed over unchanged: the rest of a word, or one
/// character.
fn run(text: &str, first: char) -> usize {
    if first.is_alphanumeric() {
        first_word(text).len().max(first.len_utf8())
    } else {
        first.len_utf8()
    }
}
