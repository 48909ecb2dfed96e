//! The tokens of a RON text, as far as its tree needs them.

/// The kind of a token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TokenKind {
    /// An opening bracket, named by the bracket that closes it.
    Open(char),
    /// A closing bracket.
    Close(char),
    /// `,`
    Comma,
    /// `:`
    Colon,
    /// A word, a number or a character.
    Word,
    /// A string.
    Text,
    /// Text that cannot be followed, such as a string without an end.
    Broken,
}

/// A token and where it stands, in bytes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Token<'a> {
    pub kind: TokenKind,
    pub start: usize,
    /// The token as written.
    pub written: &'a str,
    /// The string without its quotes, or the word without its `r#`.
    pub text: &'a str,
    /// Whether escapes in `text` are to be undone.
    escaped: bool,
}

impl Token<'_> {
    /// Where it ends.
    pub fn end(&self) -> usize {
        self.start + self.written.len()
    }

    /// The name of a field or a key, with its escapes undone.
    pub fn name(&self) -> String {
        if self.escaped { unescape(self.text) } else { self.text.to_owned() }
    }
}

/// The tokens of a text. Comments and attributes are left out; after a
/// [`TokenKind::Broken`] nothing follows.
pub(super) fn tokens(text: &str) -> impl Iterator<Item = Token<'_>> {
    let mut scanner = Scanner { text, at: 0 };
    std::iter::from_fn(move || scanner.next())
}

struct Scanner<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Scanner<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn next(&mut self) -> Option<Token<'a>> {
        loop {
            let rest = self.rest();
            let c = rest.chars().next()?;
            if c.is_whitespace() {
                self.at += c.len_utf8();
            } else if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                match comment_length(rest) {
                    Some(length) => self.at += length,
                    None => return Some(self.broken()),
                }
            } else if rest.starts_with('#') {
                match rest.find(']') {
                    Some(end) => self.at += end + 1,
                    None => return Some(self.broken()),
                }
            } else {
                return Some(self.token(c));
            }
        }
    }

    fn token(&mut self, c: char) -> Token<'a> {
        let single = |kind| (kind, 1, 0, 1, false);
        let rest = self.rest();
        let found = match c {
            '(' => Some(single(TokenKind::Open(')'))),
            '[' => Some(single(TokenKind::Open(']'))),
            '{' => Some(single(TokenKind::Open('}'))),
            ')' | ']' | '}' => Some(single(TokenKind::Close(c))),
            ',' => Some(single(TokenKind::Comma)),
            ':' => Some(single(TokenKind::Colon)),
            '\'' => quoted_length(rest, '\'').map(|n| (TokenKind::Word, n, 0, n, false)),
            '"' => quoted_length(rest, '"').map(|n| (TokenKind::Text, n, 1, n - 1, true)),
            _ => prefixed_string(rest).or_else(|| word(rest)),
        };
        let Some((kind, length, from, to, escaped)) = found else { return self.broken() };
        let start = self.at;
        self.at += length;
        let text = rest.get(from..to).unwrap_or("");
        let written = rest.get(..length).unwrap_or("");
        Token { kind, start, written, text, escaped }
    }

    /// Ends the scan.
    fn broken(&mut self) -> Token<'a> {
        let (start, written) = (self.at, self.rest());
        self.at = self.text.len();
        Token { kind: TokenKind::Broken, start, written, text: "", escaped: false }
    }
}

/// Kind, length, the part that counts (from, to), whether it has escapes.
type Scanned = (TokenKind, usize, usize, usize, bool);

/// Length of a block comment, which may hold others.
fn comment_length(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut depth = 0_usize;
    let mut i = 0;
    while i + 1 < bytes.len() {
        match (bytes[i], bytes[i + 1]) {
            (b'/', b'*') => {
                depth += 1;
                i += 2;
            }
            (b'*', b'/') => {
                depth = depth.saturating_sub(1);
                i += 2;
                if depth == 0 {
                    return Some(i);
                }
            }
            _ => i += 1,
        }
    }
    None
}

/// Length of something between quotes with backslash escapes.
fn quoted_length(text: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (i, c) in text.char_indices().skip(1) {
        if escaped {
            escaped = false;
        } else if c == '\\' {
            escaped = true;
        } else if c == quote {
            return Some(i + 1);
        }
    }
    None
}

/// Raw and byte strings: `r"…"`, `r#"…"#`, `b"…"`, `br#"…"#`, `b'…'`.
fn prefixed_string(text: &str) -> Option<Scanned> {
    if text.starts_with("b'") {
        let n = quoted_length(&text[1..], '\'')? + 1;
        return Some((TokenKind::Word, n, 0, n, false));
    }
    if text.starts_with("b\"") {
        let n = quoted_length(&text[1..], '"')? + 1;
        return Some((TokenKind::Text, n, 2, n - 1, true));
    }
    let prefix = if text.starts_with("br") { 2 } else { 1 };
    if !text.starts_with("br") && !text.starts_with('r') {
        return None;
    }
    let hashes = text[prefix..].bytes().take_while(|&b| b == b'#').count();
    let from = prefix + hashes + 1;
    if text.as_bytes().get(from - 1) != Some(&b'"') {
        return None;
    }
    let close = format!("\"{}", "#".repeat(hashes));
    let to = from + text[from..].find(&close)?;
    Some((TokenKind::Text, to + close.len(), from, to, false))
}

/// A run of characters that no bracket, quote, comma, colon or space ends.
/// `r#word` names what `word` names.
fn word(text: &str) -> Option<Scanned> {
    let from = if text.starts_with("r#") { 2 } else { 0 };
    let ends = |c: char| c.is_whitespace() || "()[]{},:\"'/#".contains(c);
    let length = from + text[from..].find(ends).unwrap_or(text.len() - from);
    (length > from).then_some((TokenKind::Word, length, from, length, false))
}

/// Undoes the escapes of a string; one that is none stays as it is.
fn unescape(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('\\') {
        plain.push_str(&rest[..at]);
        let (c, length) = escape(&rest[at + 1..]);
        plain.push(c);
        rest = rest.get(at + 1 + length..).unwrap_or("");
    }
    plain.push_str(rest);
    plain
}

/// The character an escape stands for, and its length after the backslash.
fn escape(text: &str) -> (char, usize) {
    let hex = |digits: &str| u32::from_str_radix(digits, 16).ok().and_then(char::from_u32);
    match text.chars().next() {
        Some('n') => ('\n', 1),
        Some('r') => ('\r', 1),
        Some('t') => ('\t', 1),
        Some('0') => ('\0', 1),
        Some('x') => text.get(1..3).and_then(hex).map_or(('x', 1), |c| (c, 3)),
        Some('u') => {
            let inner = text.strip_prefix("u{").and_then(|t| t.split_once('}')).map(|(d, _)| d);
            inner.and_then(|d| Some((hex(d)?, d.len() + 3))).unwrap_or(('u', 1))
        }
        Some(c) => (c, c.len_utf8()),
        None => ('\\', 0),
    }
}
