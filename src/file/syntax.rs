//! RON texts read and written, with what the library reports in a teacher's
//! words.

use ron::Options;
use ron::error::{Error, SpannedError};
use ron::extensions::Extensions;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::layout::laid_out;
use super::locate::Locator;
use super::understand::names::nearest;
use crate::finding::{Finding, Path, Place, shortened};

/// How files are read and written: `Some` need not be written. The library
/// refuses brackets nested deeper than its limit of 128.
pub(super) fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads the shapes of a text.
///
/// # Errors
/// The first fault of the text.
pub(super) fn read<T: DeserializeOwned>(text: &str, locator: &Locator<'_>) -> Result<T, Finding> {
    options().from_str(text).map_err(|error| friendly(&error, locator))
}

/// The text of shapes, laid out.
///
/// # Errors
/// If the library refuses to write them.
pub(super) fn written<T: Serialize>(shapes: &T) -> Result<String, ron::Error> {
    Ok(laid_out(&options().to_string(shapes)?))
}

/// A text without the byte order mark that some editors begin it with.
pub(super) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// The finding that tells of the library's error.
fn friendly(error: &SpannedError, locator: &Locator<'_>) -> Finding {
    let place_of = |p: ron::error::Position| Place { line: p.line, column: p.col };
    let (start, end) = (place_of(error.span.start), place_of(error.span.end));
    let fraction =
        error.code == Error::ExpectedComma && locator.starts_with(locator.byte_of_place(end), ".");
    let (code, message, hint) = words(if fraction { &Error::ExpectedInteger } else { &error.code });
    if code == "syntax"
        && let Some(opens) = locator.unclosed_quote(locator.byte_of_place(end))
    {
        let message = "the quote that opens here is not closed where it should be";
        let hint = format!("from here on nothing can be made out up to line {}", end.line);
        let hint = format!("{hint}: close it after the words it is for");
        let place = locator.place_of_byte(opens);
        return Finding::error("syntax", Path::root(), message).hint(hint).at(place);
    }
    let place = match error.code {
        Error::MissingStructField { .. } => locator.enclosing(locator.byte_of_place(end)),
        Error::NoSuchStructField { .. }
        | Error::NoSuchEnumVariant { .. }
        | Error::DuplicateStructField { .. } => start,
        _ => end,
    };
    Finding::error(code, Path::root(), message).hint(hint).at(place)
}

fn words(error: &Error) -> (&'static str, String, String) {
    let bracket =
        "check that every bracket and every quote is closed and commas stand between entries";
    match error {
        Error::NoSuchStructField { expected, found, .. } => (
            "unknown-field",
            format!("there is no field \"{}\" here", shortened(found, 40)),
            choices(found, expected),
        ),
        Error::NoSuchEnumVariant { expected, found, .. } => (
            "unknown-word",
            format!("\"{}\" is not known here", shortened(found, 40)),
            choices(found, expected),
        ),
        Error::MissingStructField { field, .. } => (
            "missing-field",
            format!("the field \"{field}\" is missing here"),
            format!("add `{field}: …`"),
        ),
        Error::DuplicateStructField { field, .. } => (
            "duplicate-field",
            format!("the field \"{field}\" stands here twice"),
            "leave one of them out".into(),
        ),
        Error::ExceededRecursionLimit => (
            "syntax",
            "brackets are nested too deeply".into(),
            "a lesson needs far fewer brackets inside one another".into(),
        ),
        Error::Eof | Error::UnclosedBlockComment => {
            ("syntax", "the file ends in the middle of something".into(), bracket.into())
        }
        Error::TrailingCharacters => {
            ("syntax", "something stands after the end of the file's value".into(), bracket.into())
        }
        Error::InvalidValueForType { expected, found } => (
            "wrong-kind",
            format!("expected {}, found {}", kind_of(expected), kind_of(found)),
            String::new(),
        ),
        Error::Message(message) => ("wrong-kind", shortened(message, 200), String::new()),
        Error::ExpectedDifferentLength { expected, found } => (
            "wrong-kind",
            format!("expected {}, found {found} entries", kind_of(expected)),
            String::new(),
        ),
        Error::IntegerOutOfBounds => {
            ("wrong-kind", "this number is not possible here".into(), String::new())
        }
        Error::ExpectedInteger => ("wrong-kind", "expected a whole number".into(), String::new()),
        Error::ExpectedFloat => ("wrong-kind", "expected a number".into(), String::new()),
        Error::ExpectedBoolean => ("wrong-kind", "expected true or false".into(), String::new()),
        Error::ExpectedString => {
            ("wrong-kind", "expected a text in quotes".into(), "write it like \"this\"".into())
        }
        other => {
            let (expected, example) = expected(other);
            let hint = if example.is_empty() { bracket.to_owned() } else { example.to_owned() };
            ("syntax", expected, hint)
        }
    }
}

/// What should stand there instead, without the names that shapes have in the program;
/// and how that is written, where it is not plain.
fn expected(error: &Error) -> (String, &'static str) {
    let (words, example) = match error {
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedDifferentStructName { .. }
        | Error::ExpectedStructName(_) => {
            ("fields in round brackets", "write them like (name: \"…\", minutes: 5)")
        }
        Error::ExpectedArray => ("a list in square brackets", "write it like [ …, … ]"),
        Error::ExpectedMap => {
            ("entries in curly brackets", "write them like {\"flour\": 200, \"sugar\": 100}")
        }
        Error::ExpectedStructLikeEnd => ("a comma, or the closing )", ""),
        Error::ExpectedArrayEnd => ("a comma, or the closing ]", ""),
        Error::ExpectedMapEnd => ("a comma, or the closing }", ""),
        Error::ExpectedMapColon => ("a colon after the name", "write it like name: \"…\""),
        Error::ExpectedComma => ("a comma", ""),
        Error::ExpectedIdentifier
        | Error::InvalidIdentifier(_)
        | Error::SuggestRawIdentifier(_) => ("a word without quotes", "write it like Bake or name"),
        Error::ExpectedStringEnd => ("the quote that closes a text", ""),
        Error::InvalidEscape(_) => {
            return (
                "what stands after a \\ means nothing here".to_owned(),
                "write \\\\ for a backslash and \\\" for a quote within a text",
            );
        }
        Error::UnexpectedChar(letter) => {
            return (format!("\"{letter}\" cannot stand here"), "");
        }
        Error::Utf8Error(_) => {
            return ("letters here are not written as UTF-8".to_owned(), "save the file as UTF-8");
        }
        _ => ("something else", ""),
    };
    (format!("expected {words}"), example)
}

/// A kind of value as a teacher writes it, not as the program calls it.
fn kind_of(named: &str) -> String {
    for (called, words) in [
        ("struct ", "fields in round brackets"),
        ("enum ", "one of the words that are known here"),
        ("a sequence", "a list in square brackets"),
        ("sequence", "a list in square brackets"),
        ("a map", "entries in curly brackets"),
        ("map", "entries in curly brackets"),
        ("a unit", "a word, or empty brackets"),
        ("unit", "a word, or empty brackets"),
        ("an array", "a list in square brackets"),
        ("an optional", "nothing"),
        ("Option value", "nothing"),
    ] {
        if named.starts_with(called) {
            return words.to_owned();
        }
    }
    shortened(named, 120)
}

fn choices(found: &str, expected: &[&str]) -> String {
    let listed = expected.join(", ");
    match nearest(found, expected.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"? Possible are: {listed}"),
        None => format!("possible are: {listed}"),
    }
}
