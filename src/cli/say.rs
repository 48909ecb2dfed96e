//! What the command line says, in the English that was asked for. JSON is for
//! programs and does not pass through here, nor do conversions, whose measures
//! were asked for.

use std::cell::RefCell;

use crate::file::format::LessonFile;
use crate::file::own_words;
use crate::finding::Finding;
use crate::speech::{English, KeptNames, say};

thread_local! {
    /// The English, and the names that are the user's own.
    static SPEECH: RefCell<(English, KeptNames)> = RefCell::default();
}

/// From here on this English is spoken.
pub(super) fn speak(english: English) {
    SPEECH.with_borrow_mut(|speech| speech.0 = english);
}

/// From here on the names of a lesson are kept.
pub(super) fn keep(file: &LessonFile) {
    keep_names(|| own_words::of_lesson(file));
}

/// From here on some names are kept, which are gathered if that matters.
pub(super) fn keep_names(names: impl FnOnce() -> Vec<String>) {
    SPEECH.with_borrow_mut(|(english, kept)| {
        if *english != English::British {
            *kept = KeptNames::new(names());
        }
    });
}

/// The English that is spoken.
pub(super) fn english() -> English {
    SPEECH.with_borrow(|speech| speech.0)
}

/// A text in the English that is spoken.
pub(super) fn said(text: &str) -> String {
    SPEECH.with_borrow(|(english, kept)| say(text, *english, kept).into_owned())
}

/// Prints a text for people.
pub(super) fn tell(text: &str) {
    super::print(&said(text));
}

/// A finding whose sentences are said; its place in the file stays.
pub(super) fn of_finding(finding: &Finding) -> Finding {
    Finding { message: said(&finding.message), hint: said(&finding.hint), ..finding.clone() }
}
