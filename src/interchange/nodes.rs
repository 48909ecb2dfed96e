//! The recipes of a JSON-LD document, wherever in it they stand.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::{OWN, page};

/// A thing of a document.
pub(super) type Node = Map<String, Value>;

/// What stands before a type's own name where it is written out.
const VOCABULARY: [&str; 4] =
    ["http://schema.org/", "https://schema.org/", "http://www.schema.org/", "schema:"];

/// Fields one of which a recipe has that is more than mentioned.
const HELD: [&str; 4] = ["recipeIngredient", "ingredients", "recipeInstructions", OWN];

/// The type's own names of a thing: "Recipe", "HowToStep".
pub(super) fn types(node: &Node) -> Vec<&str> {
    let of = node.get("@type").or_else(|| node.get("type"));
    let all: Vec<&str> = match of {
        Some(Value::String(one)) => vec![one],
        Some(Value::Array(several)) => several.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    let own = |name: &'_ str| VOCABULARY.iter().find_map(|v| name.strip_prefix(v)).map(str::len);
    all.into_iter().map(|name| &name[name.len() - own(name).unwrap_or(name.len())..]).collect()
}

/// Whether a thing is of a type.
pub(super) fn is_a(node: &Node, name: &str) -> bool {
    types(node).contains(&name)
}

/// Every thing of a document that has an address of its own, by it.
#[derive(Debug, Default)]
pub(super) struct Addresses<'a>(BTreeMap<&'a str, &'a Node>);

impl<'a> Addresses<'a> {
    /// Those of some documents.
    pub fn of(documents: &'a [Value]) -> Self {
        let mut all = Self::default();
        for document in documents {
            visit(document, &mut |node| {
                if let Some(address) = node.get("@id").and_then(Value::as_str)
                    && node.len() > 1
                {
                    all.0.entry(address).or_insert(node);
                }
            });
        }
        all
    }

    /// What a mere address stands for, or the value itself.
    pub fn meant(&self, value: &'a Value) -> &'a Value {
        let address = value.as_object().filter(|n| n.len() == 1).and_then(|n| n.get("@id"));
        let node = address.and_then(Value::as_str).and_then(|a| self.0.get(a));
        // The words of a step that is told elsewhere.
        node.and_then(|n| n.get("text").or_else(|| n.get("itemListElement"))).unwrap_or(value)
    }
}

/// Calls `each` for every thing of a value, outer ones first.
fn visit<'a>(value: &'a Value, each: &mut dyn FnMut(&'a Node)) {
    match value {
        Value::Array(list) => list.iter().for_each(|v| visit(v, each)),
        Value::Object(node) => {
            each(node);
            node.values().for_each(|v| visit(v, each));
        }
        _ => {}
    }
}

/// All recipes of some documents, each once; and the names of those that are
/// only mentioned.
pub(super) fn recipes(documents: &[Value]) -> (Vec<&Node>, Vec<String>) {
    let mut all: Vec<&Node> = Vec::new();
    let mut mentioned = Vec::new();
    for document in documents {
        visit(document, &mut |node| {
            if !is_a(node, "Recipe") {
                return;
            }
            let has = |field: &&str| node.get(*field).is_some_and(|v| !is_empty(v));
            if !HELD.iter().any(has) {
                mentioned.extend(name(node));
            } else if !all.iter().any(|other| is_same(other, node)) {
                all.push(node);
            }
        });
    }
    (all, mentioned)
}

fn is_same(one: &Node, other: &Node) -> bool {
    let fields = ["name", "recipeIngredient", "ingredients", "recipeInstructions"];
    fields.iter().all(|field| one.get(*field) == other.get(*field))
}

fn is_empty(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::String(text) => text.trim().is_empty(),
        Value::Array(list) => list.is_empty(),
        _ => false,
    }
}

/// The name of a thing, in one line.
pub(super) fn name(node: &Node) -> Option<String> {
    let words = ["name", "headline"].iter().filter_map(|field| node.get(*field)).flat_map(texts);
    words.map(|text| one_line(&text)).find(|text| !text.is_empty())
}

/// The texts of a value, without markup.
pub(super) fn texts(value: &Value) -> Vec<String> {
    match value {
        Value::String(text) => vec![page::plain(text).into_owned()],
        Value::Number(number) => vec![number.to_string()],
        Value::Array(list) => list.iter().flat_map(texts).collect(),
        Value::Object(node) => node.get("@value").map(texts).unwrap_or_default(),
        _ => Vec::new(),
    }
}

/// A text in one line, without marks that cannot be seen.
pub(super) fn one_line(text: &str) -> String {
    let seen: String = text.chars().filter(|c| !is_unseen(*c)).collect();
    seen.split(|c: char| c.is_whitespace() || c.is_control())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Marks without width: joiners, and those that turn the direction of what
/// follows (Unicode Standard Annex 9), which mislead in a list of ingredients.
fn is_unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// Whether a text has marks that turn the direction of what follows.
pub(super) fn turns(text: &str) -> bool {
    text.contains(|c| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}'))
}
