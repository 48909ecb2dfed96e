//! The ingredients of a recipe in their many shapes, as lines.

use serde_json::Value;

use super::MOST;
use super::line::{self, Line};
use super::nodes::{Addresses, Node, is_a, name, one_line, texts};

/// Ingredients nested deeper than this are not gone into.
const DEEPEST: usize = 8;
/// Codes of measures in UN/CEFACT Recommendation 20.
const CODES: [(&str, &str); 8] = [
    ("GRM", "g"),
    ("KGM", "kg"),
    ("MLT", "ml"),
    ("LTR", "l"),
    ("ONZ", "oz"),
    ("LBR", "lb"),
    ("C62", ""),
    ("H87", ""),
];

/// What stands for an ingredient.
enum Entry {
    /// A line of text.
    Text(String),
    /// Something in a shape nobody knows, as it stands.
    Odd(String),
}

/// The lines of a value, and the headings among them.
pub(super) fn lines<'a>(
    value: &'a Value,
    addresses: &'a Addresses<'a>,
) -> (Vec<Line>, Vec<String>) {
    let (mut entries, mut lines, mut headings) = (Vec::new(), Vec::new(), Vec::new());
    gather(addresses.meant(value), 0, &mut entries);
    // One more than a recipe may have, so that it is found out.
    for entry in entries.into_iter().take(MOST + 1) {
        match entry {
            Entry::Text(text) if line::is_heading(&text) => headings.push(text),
            Entry::Text(text) => lines.push(line::read(&text)),
            Entry::Odd(text) => lines.push(line::odd(&text)),
        }
    }
    (lines, headings)
}

fn gather(value: &Value, depth: usize, all: &mut Vec<Entry>) {
    let odd = || Entry::Odd(value.to_string());
    match value {
        Value::Null => {}
        _ if depth > DEEPEST => all.push(odd()),
        Value::Array(list) => list.iter().for_each(|v| gather(v, depth + 1, all)),
        Value::Object(node) if !node.contains_key("@value") => {
            let inside = node.get("itemListElement").or_else(|| node.get("item"));
            match inside.filter(|_| !is_a(node, "HowToSupply")) {
                Some(inside) => gather(inside, depth + 1, all),
                None if node.is_empty() => {}
                None => all.push(of_node(node).map_or_else(odd, Entry::Text)),
            }
        }
        Value::Bool(_) => all.push(odd()),
        other => {
            let text = texts(other).join("\n");
            let lines = text.lines().filter(|l| !one_line(l).is_empty());
            all.extend(lines.map(|l| Entry::Text(l.to_owned())));
        }
    }
}

/// An ingredient whose name and amount stand apart.
fn of_node(node: &Node) -> Option<String> {
    let name = name(node).or_else(|| Some(texts(node.get("text")?).join(" ")));
    let amount = ["requiredQuantity", "amount", "quantity", "value"]
        .iter()
        .find_map(|field| node.get(*field))
        .map(|value| amount(value, node));
    let words = [amount, name].into_iter().flatten().map(|text| one_line(&text));
    let line = words.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ");
    (!line.is_empty()).then_some(line)
}

/// An amount as text, its measure beside it or in what it stands in.
fn amount(value: &Value, within: &Node) -> String {
    if let Some(node) = value.as_object()
        && let Some(figure) = node.get("value").or_else(|| node.get("minValue"))
    {
        let up_to = node.get("maxValue").map(|most| format!(" to {}", texts(most).join(" ")));
        let up_to = up_to.unwrap_or_default();
        return format!("{}{up_to} {}", texts(figure).join(" "), unit(node));
    }
    format!("{} {}", texts(value).join(" "), unit(within))
}

fn unit(node: &Node) -> String {
    let of = |field: &str| node.get(field).map(|v| texts(v).join(" "));
    let code = of("unitCode").map(|code| {
        let known = CODES.iter().find(|(c, _)| *c == code.trim());
        known.map_or(code.clone(), |(_, unit)| (*unit).to_owned())
    });
    of("unitText").or(code).unwrap_or_default()
}
