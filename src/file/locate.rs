//! Where in a RON text something stands.
//!
//! The RON library tells the place of its own first error only. Findings of
//! meaning carry a [`Path`]; this scanner reads the text once into a tree of
//! places, in which paths are then looked up. It takes any text: what it
//! cannot follow ends the tree there, and a path into the part not read gives
//! the place of its deepest known part.

use crate::finding::{Path, Place, Segment};

use super::tokens::{Token, TokenKind, tokens};

/// Brackets nested deeper than this are not followed.
pub const DEEPEST: usize = 200;

/// What a node of the tree is called in its parent.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Label {
    /// The n-th entry of a list or tuple.
    Nth(usize),
    /// A field of a struct or a key of a map.
    Named(String),
}

#[derive(Debug, Clone)]
struct Node {
    label: Label,
    /// Byte offset of its label if it has a name, else of its value.
    shown_at: usize,
    /// Byte offsets of its value.
    start: usize,
    end: usize,
    /// The word before the bracket, as `Some` or `Round`.
    is_some: bool,
    children: Vec<usize>,
}

/// The places of everything in one text.
#[derive(Debug, Clone)]
pub struct Locator<'a> {
    text: &'a str,
    /// Byte offset at which each line starts.
    lines: Vec<usize>,
    /// The first is the whole; children stand after their parents.
    nodes: Vec<Node>,
    whole: bool,
}

/// A bracket not yet closed.
struct Open<'a> {
    node: usize,
    bracket: char,
    /// The name read before a colon, and where.
    name: Option<(String, usize)>,
    /// A word, number or string of which is not yet known what it is.
    pending: Option<Token<'a>>,
}

impl<'a> Locator<'a> {
    /// Reads a text.
    pub fn new(text: &'a str) -> Self {
        let lines = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1));
        let mut locator = Self { text, lines: lines.collect(), nodes: Vec::new(), whole: false };
        locator.whole = locator.read();
        locator
    }

    /// Whether the whole text was one value with all its brackets closed.
    pub fn is_whole(&self) -> bool {
        self.whole
    }

    /// The place of what a path names, or of the deepest part of the path
    /// that is there. A field or a key is shown at its name.
    pub fn place(&self, path: &Path) -> Place {
        let mut here = 0;
        for segment in &path.0 {
            match self.child(here, segment) {
                Some(child) => here = child,
                None => break,
            }
        }
        self.place_of_byte(self.nodes.get(here).map_or(0, |n| n.shown_at))
    }

    /// The text of the value a path names, if it is there.
    pub fn value(&self, path: &Path) -> Option<&'a str> {
        let mut here = 0;
        for segment in &path.0 {
            here = self.child(here, segment)?;
        }
        let node = self.nodes.get(here)?;
        self.text.get(node.start..node.end)
    }

    /// The place of the innermost bracketed value round a byte offset.
    pub fn enclosing(&self, byte: usize) -> Place {
        let round = self
            .nodes
            .iter()
            .filter(|n| n.start < byte && byte < n.end && self.is_bracketed(n))
            .max_by_key(|n| n.start);
        self.place_of_byte(round.map_or(0, |n| n.start))
    }

    fn is_bracketed(&self, node: &Node) -> bool {
        self.text.get(node.start..node.end).is_some_and(|t| t.ends_with([')', ']', '}']))
    }

    /// Whether some text stands at a byte offset.
    pub fn starts_with(&self, byte: usize, text: &str) -> bool {
        self.text.get(byte..).is_some_and(|rest| rest.starts_with(text))
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

    fn child(&self, node: usize, segment: &Segment) -> Option<usize> {
        let mut node = self.nodes.get(node)?;
        // `Some(x)` stands for x.
        while node.is_some && node.children.len() == 1 {
            node = self.nodes.get(node.children[0])?;
        }
        let fits = |&&child: &&usize| match (segment, &self.nodes[child].label) {
            (Segment::Index(index), Label::Nth(n)) => index == n,
            (Segment::Field(name) | Segment::Key(name), Label::Named(label)) => name == label,
            _ => false,
        };
        // The last of several: a duplicate is shown where it is one too many.
        node.children.iter().rev().find(fits).copied()
    }

    /// Builds the tree; `false` if the text could not be followed to its end.
    fn read(&mut self) -> bool {
        let mut open: Vec<Open<'a>> = Vec::new();
        let mut top: Option<Token<'a>> = None;
        let mut slips = 0;
        for token in tokens(self.text) {
            let done = !self.nodes.is_empty() && open.is_empty();
            match token.kind {
                TokenKind::Broken => return false,
                _ if done => return false,
                TokenKind::Open(bracket) => {
                    if open.len() >= DEEPEST {
                        return false;
                    }
                    let before = open.last_mut().map_or(&mut top, |o| &mut o.pending).take();
                    let node = self.add(&mut open, before.as_ref(), &token);
                    open.push(Open { node, bracket, name: None, pending: None });
                }
                TokenKind::Close(bracket) => {
                    let Some(mut closed) = open.pop() else { return false };
                    self.settle(&mut closed);
                    self.nodes[closed.node].end = token.end;
                    if closed.bracket != bracket {
                        return false;
                    }
                }
                TokenKind::Comma => {
                    let Some(inner) = open.last_mut() else { return false };
                    self.settle(inner);
                    inner.name = None;
                }
                TokenKind::Colon => {
                    let Some(inner) = open.last_mut() else { return false };
                    inner.name = inner.pending.take().map(|t| (t.name(), t.start));
                }
                TokenKind::Word | TokenKind::Text => {
                    // A comma is missing: go on as if it stood there.
                    if let Some(inner) = open.last_mut()
                        && inner.pending.is_some()
                    {
                        self.settle(inner);
                        inner.name = None;
                        slips += 1;
                    }
                    *open.last_mut().map_or(&mut top, |o| &mut o.pending) = Some(token);
                }
            }
        }
        while let Some(mut left_open) = open.pop() {
            self.settle(&mut left_open);
            self.nodes[left_open.node].end = self.text.len();
            if open.is_empty() {
                return false;
            }
        }
        slips == 0 && !self.nodes.is_empty()
    }

    /// Makes a bracket's pending word an entry.
    fn settle(&mut self, inner: &mut Open<'a>) {
        if let Some(token) = inner.pending.take() {
            let child = self.attach(inner, token.start, token.end);
            self.nodes[inner.node].children.push(child);
        }
    }

    /// Adds the value that begins with a bracket.
    fn add(
        &mut self,
        open: &mut [Open<'a>],
        word: Option<&Token<'a>>,
        bracket: &Token<'a>,
    ) -> usize {
        let start = word.map_or(bracket.start, |w| w.start);
        let id = match open.last_mut() {
            Some(inner) => {
                let id = self.attach(inner, start, self.text.len());
                self.nodes[inner.node].children.push(id);
                id
            }
            None => {
                let end = self.text.len();
                let label = Label::Nth(0);
                let children = Vec::new();
                self.nodes.push(Node {
                    label,
                    shown_at: start,
                    start,
                    end,
                    is_some: false,
                    children,
                });
                self.nodes.len() - 1
            }
        };
        self.nodes[id].is_some = word.is_some_and(|w| w.text == "Some");
        id
    }

    fn attach(&mut self, inner: &Open<'a>, start: usize, end: usize) -> usize {
        let (label, shown_at) = match &inner.name {
            Some((name, at)) => (Label::Named(name.clone()), *at),
            None => (Label::Nth(self.nodes[inner.node].children.len()), start),
        };
        self.nodes.push(Node { label, shown_at, start, end, is_some: false, children: Vec::new() });
        self.nodes.len() - 1
    }
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
