//! The one place through which words go to the window: everything the program
//! hands to the toolkit is written in British words and goes through [`say`].
//! What the user typed, shown in a field, does not.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::Arc;

use crate::speech::{self, English, KeptNames};

/// Sentences remembered with what is said for them, at most: more than a
/// frame has.
const REMEMBERED: usize = 8_192;

/// A thread's speech and what it has said.
#[derive(Default)]
struct Speech {
    english: English,
    names: Arc<KeptNames>,
    said: HashMap<String, String>,
}

thread_local! {
    static SPEECH: RefCell<Speech> = RefCell::default();
}

/// From here on this thread speaks this English and keeps these names. To be
/// called once a frame; it costs nothing while both are as before.
pub fn speak(english: English, names: &Arc<KeptNames>) {
    SPEECH.with_borrow_mut(|speech| {
        if speech.english != english || !Arc::ptr_eq(&speech.names, names) {
            *speech = Speech { english, names: names.clone(), said: HashMap::new() };
        }
    });
}

/// What is spoken: in which English, and which names are kept.
#[derive(Debug, Clone)]
pub struct Voice(English, Arc<KeptNames>);

impl PartialEq for Voice {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0 && Arc::ptr_eq(&self.1, &other.1)
    }
}

/// What is being spoken on this thread.
pub fn voice() -> Voice {
    SPEECH.with_borrow(|speech| Voice(speech.english, Arc::clone(&speech.names)))
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
