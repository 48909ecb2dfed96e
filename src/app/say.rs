//! The one place through which words go to the window: everything the program
//! hands to the toolkit is written in British words and goes through [`say`].
//! What the user typed, shown in a field, does not.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::shell::App;
use crate::file::own_words;
use crate::model::Lesson;
use crate::speech::{self, English, Kept, names_in};

/// Sentences remembered with what is said for them, at most: more than a
/// frame has.
const REMEMBERED: usize = 8_192;

/// What is being spoken on this thread.
#[derive(Default)]
struct Speech {
    english: English,
    names: Arc<Kept>,
    said: HashMap<String, String>,
}

thread_local! {
    static SPEECH: RefCell<Speech> = RefCell::default();
}

/// From here on this thread speaks this English and keeps these names. To be
/// called once a frame; it costs nothing while both are as before.
pub fn speak(english: English, names: &Arc<Kept>) {
    SPEECH.with_borrow_mut(|speech| {
        if speech.english != english || !Arc::ptr_eq(&speech.names, names) {
            *speech = Speech { english, names: names.clone(), said: HashMap::new() };
        }
    });
}

/// The English that is spoken.
pub fn english() -> English {
    SPEECH.with_borrow(|speech| speech.english)
}

/// A sentence of the program's in the English that is spoken.
pub fn say<'a>(text: impl Into<Cow<'a, str>>) -> Cow<'a, str> {
    let text = text.into();
    SPEECH.with_borrow_mut(|speech| {
        if speech.english == English::British {
            return text;
        }
        if let Some(said) = speech.said.get(text.as_ref()) {
            return Cow::Owned(said.clone());
        }
        let said = match speech::say(&text, speech.english, &speech.names) {
            Cow::Borrowed(_) => return text,
            Cow::Owned(said) => said,
        };
        if speech.said.len() >= REMEMBERED {
            speech.said.clear();
        }
        speech.said.insert(text.into_owned(), said.clone());
        Cow::Owned(said)
    })
}

/// The same for a name that the program gives to a thing of the lesson, which
/// from then on is the user's.
pub fn name(text: &str) -> String {
    speech::say_of_library(text, english()).into_owned()
}

/// The user's own names, gathered anew when what they stand in changes.
#[derive(Default)]
pub struct Names {
    of: Option<Of>,
    kept: Arc<Kept>,
}

/// What names were gathered from.
#[derive(PartialEq, Eq)]
struct Of {
    revision: Option<u64>,
    path: Option<PathBuf>,
    /// Lessons, by where they are: the one planned and the one before.
    lessons: [usize; 2],
    /// Entries of the user's own library.
    own: u64,
    /// Files in the list of recent ones.
    recent: usize,
}

impl App {
    /// Speaks as the settings say, keeping the names on screen.
    pub(super) fn speak(&mut self) {
        if self.prefs.english != English::British {
            self.gather();
        }
        self.entering.shelves.speak(self.prefs.english);
        speak(self.prefs.english, &self.names.kept);
    }

    fn gather(&mut self) {
        let before = self.before.as_ref().map(|other| other.lesson());
        let place = |lesson: Option<&Arc<Lesson>>| lesson.map_or(0, |l| Arc::as_ptr(l) as usize);
        let of = Of {
            revision: self.doc.as_ref().map(|d| d.revision),
            path: self.doc.as_ref().and_then(|d| d.path.clone()),
            lessons: [place(self.planned.as_ref()), place(before)],
            own: self.entering.shelves.changes(),
            recent: self.prefs.recent.len() + self.caring.left.len(),
        };
        if self.names.of.as_ref() == Some(&of) {
            return;
        }
        let mut names: Vec<String> = self.entering.shelves.own_words();
        names.extend(self.doc.iter().flat_map(|doc| own_words::of_lesson(doc.file())));
        for lesson in self.planned.iter().chain(before) {
            names.extend(names_in(lesson).into_iter().map(str::to_owned));
        }
        let doc = self.doc.as_ref().and_then(|d| d.path.as_ref());
        let left = self.caring.left.iter().map(|copy| &copy.path);
        for path in self.prefs.recent.iter().chain(left).chain(doc) {
            names.push(path.to_string_lossy().into_owned());
            names.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
        }
        self.names = Names { of: Some(of), kept: Arc::new(Kept::new(names)) };
    }
}
