//! Names: unique, of reasonable length, and looked up with "did you mean".

use std::collections::HashMap;

use super::findings::{Findings, listed, quoted};
use crate::finding::{Path, shortened};

/// Longest name in characters.
pub(in crate::file) const LONGEST_NAME: usize = 200;

/// Names of things of one kind, in the order of their ids.
#[derive(Debug, Clone)]
pub(in crate::file) struct Names {
    /// The word for one of them: "oven", "recipe".
    what: &'static str,
    names: Vec<String>,
    first: HashMap<String, usize>,
}

impl Names {
    pub fn new(what: &'static str) -> Self {
        Self { what, names: Vec::new(), first: HashMap::new() }
    }

    /// Adds a name; reports it if it is empty, too long or there already.
    pub fn add(&mut self, findings: &mut Findings, path: &Path, name: &str) {
        check_name(findings, path, self.what, name);
        if self.first.contains_key(name) && !name.trim().is_empty() {
            let message = format!("there is another {} {}", self.what, quoted(name));
            findings.error("duplicate-name", path, message, "give one of them another name");
        }
        self.add_unchecked(name);
    }

    /// Adds a name that was checked elsewhere.
    pub fn add_unchecked(&mut self, name: &str) {
        self.first.entry(name.to_owned()).or_insert(self.names.len());
        self.names.push(name.to_owned());
    }

    /// The position of a name.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.first.get(name).copied()
    }

    /// The position of a name; reports one that is not there.
    pub fn find(&self, findings: &mut Findings, path: &Path, name: &str) -> Option<usize> {
        let found = self.position(name);
        if found.is_none() {
            self.report_unknown(findings, path, name);
        }
        found
    }

    /// Reports a name that is not there.
    pub fn report_unknown(&self, findings: &mut Findings, path: &Path, name: &str) {
        let message = format!("there is no {} {}", self.what, quoted(name));
        findings.error("unknown-name", path, message, self.suggest(name));
    }

    /// "did you mean" for a name that is not there.
    pub fn suggest(&self, name: &str) -> String {
        let all = || self.names.iter().map(String::as_str);
        match nearest(name, all()) {
            Some(near) => format!("did you mean {}?", quoted(near)),
            None if self.names.is_empty() => format!("no {} is defined", self.what),
            None => format!("there are: {}", listed(all())),
        }
    }

    /// The names, in order.
    pub fn all(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(String::as_str)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.names.len()
    }
}

/// Reports a name that is empty or too long.
pub(in crate::file) fn check_name(findings: &mut Findings, path: &Path, what: &str, name: &str) {
    if name.trim().is_empty() {
        findings.error("empty-name", path, format!("this {what} has no name"), "give it a name");
    }
    let length = name.chars().count();
    if length > LONGEST_NAME {
        let message = format!(
            "the name of this {what}, \"{}\", is {length} characters long; {LONGEST_NAME} at most",
            shortened(name, 20)
        );
        findings.error("long-name", path, message, "give it a shorter name");
    }
}

/// The name that was probably meant.
pub(in crate::file) fn nearest<'a>(
    name: &str,
    among: impl Iterator<Item = &'a str>,
) -> Option<&'a str> {
    let short = |text: &str| -> String {
        text.chars().take(LONGEST_NAME).flat_map(char::to_lowercase).collect()
    };
    let name = short(name);
    let near = |other: &'a str| {
        let other_short = short(other);
        let distance = strsim::damerau_levenshtein(&name, &other_short);
        let longer = name.chars().count().max(other_short.chars().count());
        (distance * 3 <= longer.max(3)).then_some((distance, other))
    };
    among.take(1000).filter_map(near).min_by_key(|(distance, _)| *distance).map(|(_, n)| n)
}

/// "Oven" and a count of 5 give "Oven 1" to "Oven 5"; no count gives "Oven".
/// Things without a name stay without one.
pub(in crate::file) fn expand(name: &str, count: Option<u32>) -> Vec<String> {
    match count {
        Some(count) if !name.trim().is_empty() => {
            (1..=count).map(|n| format!("{name} {n}")).collect()
        }
        _ => vec![name.to_owned(); count.unwrap_or(1) as usize],
    }
}
