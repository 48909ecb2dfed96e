//! What is written to the terminal, or to wherever the output goes: never as a
//! command to it, and never lost unsaid.

use std::fmt::Write as _;
use std::io::{self, ErrorKind, Write};
use std::sync::atomic::{AtomicBool, Ordering};

/// Some of the answer could not be written.
static LOST: AtomicBool = AtomicBool::new(false);

/// Writes an answer, and a line's end.
pub(super) fn print(text: &str) {
    let text = harmless(text.trim_end_matches('\n'));
    let mut out = io::stdout().lock();
    if let Err(error) = writeln!(out, "{text}").and_then(|()| out.flush()) {
        // A closed pipe is the reader's choice.
        if error.kind() != ErrorKind::BrokenPipe {
            LOST.store(true, Ordering::Relaxed);
            wrong(&format!("the answer could not be written: {error}"));
        }
    }
}

/// Writes what is wrong, to the stream for that, and a line's end.
pub fn wrong(text: &str) {
    // There is nobody left to tell.
    let _ = writeln!(io::stderr().lock(), "{}", harmless(text.trim_end_matches('\n')));
}

/// Whether some of the answer could not be written.
pub(super) fn is_lost() -> bool {
    LOST.load(Ordering::Relaxed)
}

/// A text with whatever a terminal would obey written out: control characters,
/// and marks that turn the direction of what follows (Unicode Standard Annex
/// 9). The same letters stand for them in JSON.
fn harmless(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if is_obeyed(c) {
            // Writing to a string does not fail.
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

fn is_obeyed(c: char) -> bool {
    let turns = matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    turns || (c.is_control() && c != '\n' && c != '\t')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_obeys_is_written_out() {
        assert_eq!(harmless("Lem\u{1b}[2Jon\r\u{9b}"), "Lem\\u001b[2Jon\\u000d\\u009b");
        assert_eq!(harmless("a\u{202e}b\u{2069}"), "a\\u202eb\\u2069");
        assert_eq!(harmless("°C — ½\n\tgâteau"), "°C — ½\n\tgâteau");
    }

    #[test]
    fn json_says_the_same_with_them_written_out() {
        let said = serde_json::json!({ "name": "a\u{202e}b\u{1b}\u{7f}\u{9b}" });
        let read: serde_json::Value =
            serde_json::from_str(&harmless(&format!("{said:#}"))).unwrap_or_default();
        assert_eq!(read, said);
    }
}
