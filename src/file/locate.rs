//! Where in a RON text something stands.
//!
//! The RON library tells the place of its own first error only. Findings of
//! meaning carry a [`Path`], which is looked up in the text's tree. A path into
//! a part that could not be read gives the place of its deepest known part.

use crate::finding::{Path, Place, Segment};

use super::tokens::{Token, TokenKind, tokens};
use super::tree::{Entry, Tree, Value};

/// The places of everything in one text.
#[derive(Debug, Clone)]
pub(super) struct Locator<'a> {
    text: &'a str,
    /// Byte offset at which each line starts.
    lines: Vec<usize>,
    tree: Tree<'a>,
}

impl<'a> Locator<'a> {
    /// Reads a text.
    pub fn new(text: &'a str) -> Self {
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1));
        Self { text, lines: lines.collect(), tree: Tree::read(text) }
    }

    /// Whether the whole text was one value with all its brackets closed.
    pub fn is_whole(&self) -> bool {
        self.tree.is_whole && self.root().is_some()
    }

    /// The place of what a path names, or of the deepest part of the path
    /// that is there. A field or a key is shown at its name.
    pub fn place(&self, path: &Path) -> Place {
        let Some(mut here) = self.root() else { return self.place_of_byte(0) };
        let mut shown_at = here.start;
        for segment in &path.0 {
            let Some((at, child)) = child(here, segment) else { break };
            (shown_at, here) = (at, child);
        }
        self.place_of_byte(shown_at)
    }

    /// The text of the value a path names, if it is there.
    pub fn value(&self, path: &Path) -> Option<&'a str> {
        let mut here = self.root()?;
        for segment in &path.0 {
            (_, here) = child(here, segment)?;
        }
        self.text.get(here.start..here.end)
    }

    /// The place of the innermost bracketed value round a byte offset.
    pub fn enclosing(&self, byte: usize) -> Place {
        let is_bracketed = |v: &Value<'_>| {
            self.text.get(v.start..v.end).is_some_and(|t| t.ends_with([')', ']', '}']))
        };
        let mut start = 0;
        let mut next = self.root();
        while let Some(round) = next.filter(|v| v.start < byte && byte < v.end) {
            if is_bracketed(round) {
                start = round.start;
            }
            let mut values = round.entries().iter().map(|e| &e.value);
            next = values.find(|v| v.start < byte && byte < v.end);
        }
        self.place_of_byte(start)
    }

    /// The outermost value; a word by itself has no places.
    fn root(&self) -> Option<&Value<'a>> {
        self.tree.root.as_ref().filter(|v| v.brackets.is_some())
    }

    /// Whether some text stands at a byte offset.
    pub fn starts_with(&self, byte: usize, text: &str) -> bool {
        self.text.get(byte..).is_some_and(|rest| rest.starts_with(text))
    }

    /// Where the quote opens that is not closed where it was meant to be, if that
    /// is why nothing can be read from a byte offset on: the text it opens ends
    /// there, right before a word, or nowhere.
    pub fn unclosed_quote(&self, byte: usize) -> Option<usize> {
        let before_word = self.text.get(byte..)?.starts_with(char::is_alphanumeric);
        let opens = |t: &Token<'_>| match t.kind {
            TokenKind::Text => before_word && t.end() == byte,
            TokenKind::Broken => t.written.starts_with('"'),
            _ => false,
        };
        tokens(self.text).find(opens).map(|t| t.start)
    }

    /// Line and column of a byte offset.
    pub fn place_of_byte(&self, byte: usize) -> Place {
        let line = self.lines.partition_point(|&start| start <= byte).max(1);
        let start = self.lines[line - 1];
        let before = self.text.get(start..byte).unwrap_or("");
        Place { line, column: before.chars().count() + 1 }
    }

    /// The byte offset of a line and column, both from 1.
    pub fn byte_of_place(&self, place: Place) -> usize {
        let start = self.lines.get(place.line.saturating_sub(1)).copied();
        let Some(start) = start else { return self.text.len() };
        let rest = &self.text[start..];
        let column = rest.char_indices().nth(place.column.saturating_sub(1));
        start + column.map_or(rest.len(), |(i, _)| i)
    }
}

/// Where an entry of a value is shown, and its value.
fn child<'t, 'a>(mut value: &'t Value<'a>, segment: &Segment) -> Option<(usize, &'t Value<'a>)> {
    // `Some(x)` stands for x.
    while let (true, [only]) = (value.word.is_some_and(|w| w.text == "Some"), value.entries()) {
        value = &only.value;
    }
    let fits = |&(i, entry): &(usize, &Entry<'a>)| match (segment, entry.name) {
        (Segment::Index(index), None) => *index == i,
        (Segment::Field(name) | Segment::Key(name), Some(found)) => *name == found.name(),
        _ => false,
    };
    // The last of several: a duplicate is shown where it is one too many.
    let (_, entry) = value.entries().iter().enumerate().rev().find(fits)?;
    Some((entry.start(), &entry.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r##"#![enable(implicit_some)]
// a lesson, "not a string
(
    format: 1, /* nested /* ( */ comment */
    title: "a \"quoted\" ( title",
    raw: r#"with "quotes" and ("#,
    letter: '\'', other: ')',
    room: (kit: {"sink": 5, "hob ring": (count: 3)}),
    groups: [(name: "é", tins: ["x", "y"]), (name: "b")],
    form: Round(across_mm: 180),
    held: Some(("mix", "cool")),
    minutes: [(1, 2, 3), (4, 5, 6)],
)
"##;

    fn place(path: Path) -> (usize, usize) {
        let place = Locator::new(TEXT).place(&path);
        (place.line, place.column)
    }

    #[test]
    fn everything_is_found() {
        let root = Path::root();
        assert!(Locator::new(TEXT).is_whole());
        assert_eq!(place(root.clone()), (3, 1));
        assert_eq!(place(root.field("format")), (4, 5));
        assert_eq!(place(root.field("raw")), (6, 5));
        assert_eq!(place(root.field("other")), (7, 19));
        assert_eq!(place(root.field("room").field("kit").key("hob ring")), (8, 29));
        assert_eq!(place(root.field("room").field("kit").key("hob ring").field("count")), (8, 42));
        assert_eq!(place(root.field("groups").index(0).field("tins").index(1)), (9, 38));
        assert_eq!(place(root.field("groups").index(1)), (9, 45));
        assert_eq!(place(root.field("form").field("across_mm")), (10, 17));
        assert_eq!(place(root.field("held").index(1)), (11, 24));
        assert_eq!(place(root.field("minutes").index(1).index(2)), (12, 33));
        assert_eq!(Locator::new(TEXT).value(&root.field("format")), Some("1"));
    }

    #[test]
    fn what_is_not_there_is_shown_at_its_deepest_known_part() {
        let root = Path::root();
        assert_eq!(place(root.field("groups").index(1).field("pace")), (9, 45));
        assert_eq!(place(root.field("groups").index(7).field("pace")), (9, 5));
        assert_eq!(place(root.field("nothing")), (3, 1));
    }

    #[test]
    fn any_text_is_taken() {
        for text in
            ["", "(", ")", "((", "(a", "(a:", "\"", "/*", "'", "r#\"", "#", "(]", "(a: 1) 2"]
        {
            let locator = Locator::new(text);
            assert!(!locator.is_whole(), "{text}");
            locator.place(&Path::root().field("a").index(3));
        }
        let deep = "[".repeat(100_000);
        assert!(!Locator::new(&deep).is_whole());
        let deep = format!("{}{}", "(a:".repeat(100_000), ")".repeat(100_000));
        assert!(!Locator::new(&deep).is_whole());
    }

    #[test]
    fn bytes_and_places_agree() {
        let text = "(\n é: 1)";
        let locator = Locator::new(text);
        let place = Place { line: 2, column: 3 };
        assert_eq!(locator.place_of_byte(locator.byte_of_place(place)), place);
    }
}
