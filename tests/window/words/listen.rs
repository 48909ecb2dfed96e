//! All words of a window, those heard and those painted, and what is left of
//! them without the names in its lesson.

use std::collections::BTreeSet;

use egui::Shape;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::App;
use ovenbell::file::own_words;
use ovenbell::words::{capital, plural};

/// Texts, each once.
pub type Texts = BTreeSet<String>;

fn painted(shape: &Shape, texts: &mut Texts) {
    match shape {
        Shape::Text(text) => {
            texts.insert(text.galley.job.text.clone());
        }
        Shape::Vec(shapes) => shapes.iter().for_each(|s| painted(s, texts)),
        _ => {}
    }
}

/// What is heard and painted in this frame.
pub fn listen(harness: &Harness<'static, App>, texts: &mut Texts) {
    for node in harness.root().query_all_by(|_| true) {
        let node = node.accesskit_node();
        // Lines of what is told as a whole beside them.
        if node.role() == egui::accesskit::Role::TextRun {
            continue;
        }
        let hint = node.placeholder().map(str::to_owned);
        let told = [node.label(), node.value(), node.description(), hint];
        texts.extend(told.into_iter().flatten());
    }
    for clipped in &harness.output().shapes {
        painted(&clipped.shape, texts);
    }
}

/// The names in a window's lesson, with what they are in sentences; the
/// longest first.
pub fn names(app: &App) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    if let Some(doc) = app.document() {
        names.extend(own_words::of_lesson(doc.file()));
        names.extend(doc.path.iter().map(|path| path.to_string_lossy().into_owned()));
    }
    let mut all = Texts::new();
    for name in names.iter().filter(|n| n.chars().any(char::is_alphabetic)) {
        all.extend([name.clone(), plural(2, name), capital(name), capital(&plural(2, name))]);
    }
    let mut all: Vec<String> = all.into_iter().collect();
    all.sort_by_key(|name| std::cmp::Reverse(name.len()));
    all
}

/// A text without those names, and without what is quoted.
pub fn without(text: &str, names: &[String]) -> String {
    let mut left = text.to_owned();
    for name in names {
        let mut from = 0;
        while let Some(at) = left[from..].find(name.as_str()).map(|at| from + at) {
            let end = at + name.len();
            let apart = |c: Option<char>| !c.is_some_and(char::is_alphanumeric);
            if apart(left[..at].chars().next_back()) && apart(left[end..].chars().next()) {
                left.replace_range(at..end, "~");
                from = at + 1;
            } else {
                from = at + name.chars().next().unwrap().len_utf8();
            }
        }
    }
    while let Some(cut) = left.find('…') {
        let before = left[..cut].to_owned();
        let begun = before.char_indices().map(|(at, _)| at).find(|&at| {
            before.len() - at > 2 && names.iter().any(|n| n.starts_with(before[at..].trim_end()))
        });
        left.replace_range(begun.unwrap_or(cut)..cut + '…'.len_utf8(), "~");
    }
    let quoted: Vec<&str> = left.split('"').collect();
    quoted.iter().step_by(2).copied().collect::<Vec<_>>().join("~")
}

/// Whether a text has these words, as whole words.
pub fn has(text: &str, words: &str) -> bool {
    let (text, words) = (text.to_lowercase(), words.to_lowercase());
    text.match_indices(&words).any(|(at, _)| {
        let end = at + words.len();
        let apart = |c: Option<char>| !c.is_some_and(|c| c.is_alphanumeric() || c == '-');
        apart(text[..at].chars().next_back()) && apart(text[end..].chars().next())
    })
}

#[test]
fn names_are_found_and_nothing_else() {
    let names: Vec<String> = ["18 cm tin", "tin"].map(String::from).into();
    assert_eq!(without("an 18 cm tin, a tin, tins", &names), "an ~, a ~, tins");
    assert_eq!(without("18 cm t…, a shelf", &names), "~, a shelf");
    assert_eq!(without("a \"tin\" here", &names), "a ~ here");
    assert!(has("A Tin.", "tin") && !has("setting", "tin") && !has("tin-method", "tin"));
}
