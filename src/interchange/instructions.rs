//! Instructions in their many shapes, as steps one after another.

use std::collections::BTreeSet;

use serde_json::Value;

use super::MOST;
use super::lasts;
use super::nodes::{Addresses, Node, is_a, name, one_line, texts};
use crate::file::format::StepShape;
use crate::finding::shortened;

/// Instructions nested deeper than this are not gone into.
const DEEPEST: usize = 12;
/// Longest name that is made from a step's words, in characters.
const LONGEST_NAME: usize = 48;
/// Names that belong to the three steps of a bake.
const OF_A_BAKE: [&str; 3] = ["load", "bake", "take out"];

/// A step as it is told.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Told {
    /// The heading it stands under.
    pub section: Option<String>,
    /// Its own heading.
    pub name: Option<String>,
    /// What is to be done.
    pub text: String,
    /// Minutes that are stated beside its words.
    pub minutes: Option<f64>,
    /// What is unsure of it.
    pub doubts: Vec<String>,
}

/// Where a reader of instructions is.
struct At<'a> {
    addresses: &'a Addresses<'a>,
    section: Option<String>,
    depth: usize,
}

impl<'a> At<'a> {
    fn below(&self, section: Option<String>) -> At<'a> {
        let section = section.or_else(|| self.section.clone());
        At { addresses: self.addresses, section, depth: self.depth + 1 }
    }
}

/// The steps that a value tells, in its order.
pub(super) fn told<'a>(value: &'a Value, addresses: &'a Addresses<'a>) -> Vec<Told> {
    let mut all = Vec::new();
    gather(value, &At { addresses, section: None, depth: 0 }, &mut all);
    // One more than a recipe may have, so that it is found out.
    all.truncate(MOST + 1);
    if let [only] = all.as_mut_slice()
        && sentences(&only.text) > 1
        && only.doubts.is_empty()
    {
        only.doubts.push("all of the method is one paragraph: part it into steps".to_owned());
    }
    all
}

fn sentences(text: &str) -> usize {
    text.split(['.', '!', '?', '։', '。']).filter(|s| s.trim().chars().count() > 3).count()
}

fn gather<'a>(value: &'a Value, at: &At<'a>, all: &mut Vec<Told>) {
    let without_words = || Told {
        section: at.section.clone(),
        doubts: vec!["a step without words: write what is done".to_owned()],
        ..Told::default()
    };
    if at.depth > DEEPEST {
        all.push(without_words());
        return;
    }
    match at.addresses.meant(value) {
        Value::Array(list) => in_order(list).for_each(|v| gather(v, &at.below(None), all)),
        Value::Object(node) => of_node(node, at, all),
        text @ Value::String(_) => {
            for line in texts(text).iter().flat_map(|t| t.lines()) {
                let text = without_number(&one_line(line)).to_owned();
                if !text.is_empty() {
                    all.push(Told { section: at.section.clone(), text, ..Told::default() });
                }
            }
        }
        Value::Null => {}
        _ => all.push(without_words()),
    }
}

/// The entries of a list, by their positions where all state one.
fn in_order(list: &[Value]) -> impl Iterator<Item = &Value> {
    let position = |v: &Value| {
        v.get("position").and_then(|p| {
            p.as_f64().or_else(|| p.as_str().and_then(|text| text.trim().parse().ok()))
        })
    };
    let mut all: Vec<(Option<f64>, &Value)> = list.iter().map(|v| (position(v), v)).collect();
    if all.iter().all(|(at, _)| at.is_some()) {
        all.sort_by(|(a, _), (b, _)| a.unwrap_or(0.0).total_cmp(&b.unwrap_or(0.0)));
    }
    all.into_iter().map(|(_, v)| v)
}

fn of_node<'a>(node: &'a Node, at: &At<'a>, all: &mut Vec<Told>) {
    let inside = ["itemListElement", "steps", "step"].iter().find_map(|field| node.get(*field));
    let of = |field: &str| -> Option<String> {
        let text = one_line(&node.get(field).map(texts)?.join(" "));
        Some(without_number(&text).to_owned()).filter(|text| !text.is_empty())
    };
    if let Some(item) = node.get("item") {
        return gather(item, &at.below(None), all);
    }
    if is_a(node, "HowToSection") {
        let section = name(node).map(|name| name.trim_end_matches(':').to_owned());
        if let Some(inside) = inside {
            return gather(inside, &at.below(section), all);
        }
        if let Some(text) = node.get("text") {
            return gather(text, &at.below(section), all);
        }
    }
    let is_step = ["HowToStep", "HowToDirection", "HowToTip"].iter().any(|t| is_a(node, t));
    if let Some(inside) = inside.filter(|_| !is_step) {
        return gather(inside, &at.below(None), all);
    }
    // The directions within a step are its words.
    let directions = inside.filter(|_| of("text").is_none()).map(|inside| {
        let mut parts = Vec::new();
        gather(inside, &at.below(None), &mut parts);
        parts.into_iter().map(|part| part.text).collect::<Vec<_>>().join(" ")
    });
    let heading = name(node);
    let text = of("text").or(directions.filter(|d| !d.is_empty())).or_else(|| of("description"));
    let text = text.or_else(|| of("name"));
    let mut told = Told { section: at.section.clone(), ..Told::default() };
    match text {
        Some(text) => {
            told.name = heading.filter(|heading| *heading != text);
            told.text = text;
        }
        None => told.doubts.push("a step without words: write what is done".to_owned()),
    }
    for field in ["totalTime", "performTime", "timeRequired"] {
        let Some(stated) = of(field) else { continue };
        match lasts::minutes(&stated) {
            Some(minutes) if minutes > 0.0 => told.minutes = told.minutes.or(Some(minutes)),
            _ => told.doubts.push(format!("{field} is no length of time: {stated}")),
        }
    }
    all.push(told);
}

/// A line without the number it begins with: "1. ", "2) ", "Step 3: ".
fn without_number(line: &str) -> &str {
    let at = line.get(..4).filter(|s| s.eq_ignore_ascii_case("step")).map_or(0, |_| 4);
    let rest = line.get(at..).unwrap_or(line).trim_start();
    let after = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    let digits = rest.len() - after.len();
    if digits == 0 || digits > 3 {
        return line.trim_start_matches(['•', '▢', '*', ' ']);
    }
    match after.strip_prefix(['.', ')', ':']) {
        // "1.5 hours later" is no number of a line.
        Some(text) if !text.starts_with(|c: char| c.is_ascii_digit()) => text.trim_start(),
        None if at > 0 => after.trim_start(),
        _ => line,
    }
}

/// Steps with names, each a name of its own.
pub(super) fn named(told: &[Told]) -> Vec<StepShape> {
    let mut taken: BTreeSet<String> = OF_A_BAKE.map(str::to_owned).into();
    let mut steps = Vec::new();
    for (i, of) in told.iter().enumerate() {
        let own = of.name.as_deref().unwrap_or(&of.text);
        let mut short = short(own).unwrap_or_else(|| format!("step {}", i + 1));
        if let Some(section) = &of.section {
            short = format!("{}: {short}", shortened(section, LONGEST_NAME));
        }
        let mut name = short.clone();
        let mut number = 2;
        while !taken.insert(name.clone()) {
            name = format!("{short} {number}");
            number += 1;
        }
        steps.push(StepShape { name, words: of.text.clone(), ..StepShape::default() });
    }
    steps
}

/// The beginning of a step's words, up to where a clause ends or a few words on.
fn short(text: &str) -> Option<String> {
    let end = text.char_indices().find(|(i, c)| {
        let after = text.get(i + c.len_utf8()..).and_then(|t| t.chars().next());
        ",;:(–—!?".contains(*c) || (*c == '.' && after.is_none_or(char::is_whitespace))
    });
    let clause = text.get(..end.map_or(text.len(), |(i, _)| i))?.trim();
    let mut name = String::new();
    for word in clause.split_whitespace() {
        if !name.is_empty() && name.chars().count() + word.chars().count() >= LONGEST_NAME {
            break;
        }
        if !name.is_empty() {
            name.push(' ');
        }
        name.push_str(word);
    }
    let name = shortened(&name, LONGEST_NAME);
    (!name.is_empty()).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_lines_go_and_others_stay() {
        for (line, text) in [
            ("1. Mix.", "Mix."),
            ("2) Bake.", "Bake."),
            ("Step 3: Cool.", "Cool."),
            ("STEP 4 Serve.", "Serve."),
            ("1.5 hours later knead.", "1.5 hours later knead."),
            ("12 minutes will do.", "12 minutes will do."),
            ("• Mix.", "Mix."),
            ("Stepwise add milk.", "Stepwise add milk."),
        ] {
            assert_eq!(without_number(line), text);
        }
    }

    #[test]
    fn names_are_short_and_each_once() {
        let of = |text: &str| Told { text: text.to_owned(), ..Told::default() };
        let told = [
            of("Rub in the fat, then stir in the sugar."),
            of("Rub in the fat. Rest."),
            of("bake"),
            of("(…)"),
            of(
                "Line a 20.5 cm tin with paper and then with more paper, and then grease all of it.",
            ),
        ];
        let names: Vec<String> = named(&told).into_iter().map(|s| s.name).collect();
        let wanted = [
            "Rub in the fat",
            "Rub in the fat 2",
            "bake 2",
            "step 4",
            "Line a 20.5 cm tin with paper and then with more",
        ];
        assert_eq!(names, wanted);
    }
}
