//! Names that are the user's own and are said as they were given.

use std::collections::HashMap;

use crate::model::Lesson;
use crate::words::{capital, plural};

/// The user's own names, to be kept. Names without a letter are none.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct KeptNames {
    /// By their first character, the longest first.
    names: HashMap<char, Vec<String>>,
}

/// The shortest beginning of a name that is known by its ellipsis, in letters.
const CUT: usize = 3;

impl KeptNames {
    /// These names, and the forms in which sentences have them: many of them,
    /// and at the beginning of a sentence.
    pub fn new<T: AsRef<str>>(names: impl IntoIterator<Item = T>) -> Self {
        let mut kept: HashMap<char, Vec<String>> = HashMap::new();
        for name in names {
            let name = name.as_ref().trim();
            if !name.chars().any(char::is_alphabetic) {
                continue;
            }
            for form in [name.to_owned(), plural(2, name), capital(name), capital(&plural(2, name))]
            {
                if let Some(first) = form.chars().next() {
                    kept.entry(first).or_default().push(form);
                }
            }
        }
        for list in kept.values_mut() {
            list.sort_by(|a, b| b.len().cmp(&a.len()).then_with(|| a.cmp(b)));
            list.dedup();
        }
        Self { names: kept }
    }

    /// The length in bytes of the longest name with which a text begins, as a
    /// whole word or cut short by an ellipsis.
    pub(super) fn at(&self, text: &str) -> Option<usize> {
        let list = self.names.get(&text.chars().next()?)?;
        let whole = list.iter().find(|name| {
            let rest = text.strip_prefix(name.as_str());
            rest.is_some_and(|r| !r.chars().next().is_some_and(char::is_alphanumeric))
        });
        if let Some(name) = whole {
            return Some(name.len());
        }
        let cut = text.find('…')?;
        let begun = text[..cut].trim_end();
        let is_cut = begun.chars().count() >= CUT && list.iter().any(|n| n.starts_with(begun));
        is_cut.then_some(cut)
    }
}

/// A sentence, and the names in it that are not touched.
#[derive(Clone, Copy)]
pub(super) struct Said<'a> {
    pub(super) text: &'a str,
    pub(super) names: &'a KeptNames,
}

impl Said<'_> {
    /// Whether a word begins at a place.
    pub(super) fn begins_word(self, at: usize) -> bool {
        !self.text[..at].chars().next_back().is_some_and(char::is_alphanumeric)
    }

    /// The length in bytes of the name that begins at a place.
    pub(super) fn name_at(self, at: usize) -> Option<usize> {
        if self.begins_word(at) { self.names.at(&self.text[at..]) } else { None }
    }
}

/// The names in a lesson, as far as plans and boards say them.
pub fn names_in(lesson: &Lesson) -> Vec<&str> {
    let mut names: Vec<&str> = vec![&lesson.title, &lesson.class.name];
    names.extend(lesson.periods.iter().map(|p| p.name.as_str()));
    names.extend(lesson.class_steps.iter().map(|s| s.name.as_str()));
    names.extend(lesson.rooms.iter().map(|r| r.name.as_str()));
    names.extend(lesson.units.iter().map(|u| u.name.as_str()));
    names.extend(lesson.ovens.iter().map(|o| o.name.as_str()));
    names.extend(lesson.kit_kinds.iter().map(|k| k.name.as_str()));
    names.extend(lesson.tins.iter().map(|t| t.name.as_str()));
    names.extend(lesson.adults.iter().map(|a| a.name.as_str()));
    for recipe in &lesson.recipes {
        names.push(&recipe.name);
        names.extend(recipe.tins.iter().map(|t| t.label.as_str()));
        for method in &recipe.methods {
            names.push(&method.name);
            names.extend(method.steps.iter().map(|s| s.name.as_str()));
        }
    }
    for group in &lesson.groups {
        names.push(&group.name);
        names.extend(group.needs.iter().map(String::as_str));
    }
    names
}
