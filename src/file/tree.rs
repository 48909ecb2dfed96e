//! The tree of a RON text, with the bytes at which everything stands.
//!
//! Any text is taken. What cannot be followed ends the tree there; the
//! brackets open by then reach to the end of the text.

use super::tokens::{Token, TokenKind, tokens};

/// Brackets nested deeper than this are not followed.
const DEEPEST: usize = 200;

/// A value in a text: a word, or brackets with entries.
#[derive(Debug, Clone)]
pub(super) struct Value<'a> {
    /// Where it stands, in bytes.
    pub start: usize,
    pub end: usize,
    /// The word before its brackets, as `Some` or `Round`, or the whole of it.
    pub word: Option<Token<'a>>,
    pub brackets: Option<Brackets<'a>>,
}

/// A pair of brackets and what is in it.
#[derive(Debug, Clone)]
pub(super) struct Brackets<'a> {
    /// The opening bracket and the one that closes it.
    pub pair: (char, char),
    /// After the opening bracket.
    pub from: usize,
    /// At the closing bracket.
    pub to: usize,
    pub entries: Vec<Entry<'a>>,
}

/// A field of a struct, an entry of a map, or one of a list.
#[derive(Debug, Clone)]
pub(super) struct Entry<'a> {
    /// The field or the key; `None` in a list.
    pub name: Option<Token<'a>>,
    pub value: Value<'a>,
    /// After its comma, if there is one.
    pub comma: Option<usize>,
}

/// The tree of a text, as far as that could be followed.
#[derive(Debug, Clone)]
pub(super) struct Tree<'a> {
    /// The outermost value; `None` if there is nothing of it.
    pub root: Option<Value<'a>>,
    /// Whether the text is one value with all its brackets closed.
    pub is_whole: bool,
}

impl<'a> Tree<'a> {
    /// Reads a text.
    pub fn read(text: &'a str) -> Self {
        let mut reader = TreeReader { tokens: tokens(text), end: text.len(), is_whole: true };
        let root = reader.root();
        Self { root, is_whole: reader.is_whole }
    }

    /// The outermost value, if the text could be followed to its end.
    pub fn whole(self) -> Option<Value<'a>> {
        self.root.filter(|_| self.is_whole)
    }
}

impl<'a> Value<'a> {
    /// Whether two say the same, however they are laid out.
    pub fn is_like(&self, other: &Value<'_>) -> bool {
        self.word_as_written() == other.word_as_written()
            && match (&self.brackets, &other.brackets) {
                (None, None) => true,
                (Some(a), Some(b)) => a.is_like(b),
                _ => false,
            }
    }

    /// Its word; empty if it has none.
    pub fn word_as_written(&self) -> &'a str {
        self.word.map_or("", |w| w.written)
    }

    /// The entries in its brackets; none if it has none.
    pub fn entries(&self) -> &[Entry<'a>] {
        self.brackets.as_ref().map_or(&[], |b| &b.entries)
    }

    fn of_word(word: Token<'a>) -> Self {
        Self { start: word.start, end: word.end(), word: Some(word), brackets: None }
    }
}

impl Brackets<'_> {
    fn is_like(&self, other: &Brackets<'_>) -> bool {
        self.pair == other.pair
            && self.entries.len() == other.entries.len()
            && self.entries.iter().zip(&other.entries).all(|(a, b)| {
                a.name_as_written() == b.name_as_written() && a.value.is_like(&b.value)
            })
    }
}

impl<'a> Entry<'a> {
    /// Where its name begins, or its value if it has none.
    pub fn start(&self) -> usize {
        self.name.map_or(self.value.start, |n| n.start)
    }

    /// Its name, with the quotes of a key.
    pub fn name_as_written(&self) -> Option<&'a str> {
        self.name.map(|n| n.written)
    }
}

struct TreeReader<Tokens> {
    tokens: Tokens,
    /// Length of the text.
    end: usize,
    is_whole: bool,
}

/// How far a pair of brackets was read.
enum Read {
    /// To its closing bracket.
    Closed,
    /// To something that cannot be followed, or to the end of the text.
    Stopped,
}

impl<'a, Tokens: Iterator<Item = Token<'a>>> TreeReader<Tokens> {
    fn root(&mut self) -> Option<Value<'a>> {
        let mut word: Option<Token<'a>> = None;
        while let Some(token) = self.tokens.next() {
            match token.kind {
                TokenKind::Word | TokenKind::Text => word = Some(token),
                TokenKind::Open(close) => {
                    let (value, read) = self.bracketed(word, token, close, 1);
                    if matches!(read, Read::Stopped) || self.tokens.next().is_some() {
                        self.is_whole = false;
                    }
                    return Some(value);
                }
                _ => {
                    self.is_whole = false;
                    return None;
                }
            }
        }
        word.map(Value::of_word)
    }

    /// The value whose opening bracket was read last.
    fn bracketed(
        &mut self,
        word: Option<Token<'a>>,
        open: Token<'a>,
        close: char,
        depth: usize,
    ) -> (Value<'a>, Read) {
        let open_bracket = open.written.chars().next().unwrap_or('(');
        let mut inner = Inner { entries: Vec::new(), name: None, pending: None };
        let (to, end, read) = self.entries(&mut inner, close, depth);
        let brackets =
            Brackets { pair: (open_bracket, close), from: open.end(), to, entries: inner.entries };
        let start = word.map_or(open.start, |w| w.start);
        (Value { start, end, word, brackets: Some(brackets) }, read)
    }

    /// Reads to the closing bracket; where that begins and ends.
    fn entries(
        &mut self,
        inner: &mut Inner<'a>,
        close: char,
        depth: usize,
    ) -> (usize, usize, Read) {
        let stopped = (self.end, self.end, Read::Stopped);
        while let Some(token) = self.tokens.next() {
            match token.kind {
                TokenKind::Close(found) => {
                    inner.settle();
                    let read = if found == close { Read::Closed } else { Read::Stopped };
                    return (token.start, token.end(), read);
                }
                TokenKind::Comma => inner.comma(token.end()),
                TokenKind::Colon => inner.name = inner.pending.take(),
                TokenKind::Word | TokenKind::Text => {
                    // A comma is missing: go on as if it stood there.
                    if inner.pending.is_some() {
                        inner.settle();
                        inner.name = None;
                        self.is_whole = false;
                    }
                    inner.pending = Some(token);
                }
                TokenKind::Open(_) if depth == DEEPEST => return stopped,
                TokenKind::Open(close) => {
                    let word = inner.pending.take();
                    let (value, read) = self.bracketed(word, token, close, depth + 1);
                    inner.push(value);
                    match read {
                        Read::Closed => {}
                        Read::Stopped => return stopped,
                    }
                }
                TokenKind::Broken => return stopped,
            }
        }
        inner.settle();
        stopped
    }
}

/// Brackets while they are read.
struct Inner<'a> {
    entries: Vec<Entry<'a>>,
    /// The name read before a colon.
    name: Option<Token<'a>>,
    /// A word, number or string of which is not yet known what it is.
    pending: Option<Token<'a>>,
}

impl<'a> Inner<'a> {
    /// Makes the pending word an entry.
    fn settle(&mut self) {
        if let Some(word) = self.pending.take() {
            self.push(Value::of_word(word));
        }
    }

    fn push(&mut self, value: Value<'a>) {
        self.entries.push(Entry { name: self.name, value, comma: None });
    }

    fn comma(&mut self, end: usize) {
        self.settle();
        self.name = None;
        if let Some(last) = self.entries.last_mut() {
            last.comma = Some(end);
        }
    }
}
