//! From a recipe to the vocabulary that others read.

use serde_json::{Map, Value, json};

use super::ingredients;
use super::instructions;
use super::lasts;
use super::line;
use super::nodes::{Addresses, Node};
use super::read::ingredients_of;
use super::source::read;
use super::{OWN, OWN_TERMS};
use crate::file::format::{IngredientShape, RecipeShape, StatedMinutes, StepShape};
use crate::file::write_recipe;
use crate::finding::{Finding, Path, shortened};

/// Where the vocabulary is told.
const CONTEXT: &str = "https://schema.org";

/// Writes a recipe as JSON-LD. What the vocabulary cannot say stands in a
/// property of our own, so that read again it is the same recipe.
///
/// # Errors
/// If what was kept beside it is no JSON, or it would not read the same again.
pub fn write(recipe: &RecipeShape) -> Result<String, Finding> {
    let fault = |message: String| Finding::error("not-written", Path::root(), message);
    let mut node = node_of(recipe)?;
    let own = write_recipe(recipe).map_err(|e| fault(e.to_string()))?;
    node.insert(OWN.to_owned(), Value::String(own));
    let context = node.remove("@context").unwrap_or_else(|| json!(CONTEXT));
    let mut contexts = match context {
        Value::Array(several) => several,
        one => vec![one],
    };
    let ours = json!({ "ovenbell": OWN_TERMS });
    if !contexts.contains(&ours) {
        contexts.push(ours);
    }
    node.insert("@context".to_owned(), Value::Array(contexts));
    let text = format!("{:#}\n", Value::Object(node));
    match read(&text, None) {
        Ok(again) if again.recipe == *recipe => Ok(text),
        Ok(_) => Err(fault("it would not read the same again".to_owned())),
        Err(findings) => Err(fault(
            findings.into_iter().next().map_or_else(String::new, |finding| finding.message),
        )),
    }
}

/// A recipe as far as the vocabulary can say it, with what was kept beside it.
pub(super) fn node_of(recipe: &RecipeShape) -> Result<Node, Finding> {
    let mut node = match recipe.jsonld.as_deref().map(serde_json::from_str::<Node>) {
        None => Map::new(),
        Some(Ok(node)) => node,
        Some(Err(error)) => {
            let what = shortened(&error.to_string(), 120);
            let message = format!("what was kept beside it is no JSON object: {what}");
            return Err(Finding::error("bad-jsonld", Path::root().field("jsonld"), message)
                .hint("mend it, or leave `jsonld` out of the recipe"));
        }
    };
    if !node.contains_key("@type") && !node.contains_key("type") {
        node.insert("@type".to_owned(), json!("Recipe"));
    }
    node.insert("name".to_owned(), json!(recipe.name));
    let none = Addresses::default();
    let as_it_was = ingredients_of(&node).map(|v| ingredients::lines(v, &none).0);
    let is_same = as_it_was.as_ref().is_some_and(|lines| {
        let same = |(line, of): (&line::Line, &IngredientShape)| {
            line.name == of.name && line.amount.unwrap_or(0.0) == of.amount && line.unit == of.unit
        };
        lines.len() == recipe.ingredients.len() && lines.iter().zip(&recipe.ingredients).all(same)
    });
    let is_nothing = as_it_was.is_none() && recipe.ingredients.is_empty();
    if !is_same && !is_nothing {
        let lines: Vec<String> = recipe.ingredients.iter().map(line_of).collect();
        node.remove("ingredients");
        node.insert("recipeIngredient".to_owned(), json!(lines));
    }
    steps(recipe, &mut node);
    more(recipe, &mut node);
    Ok(node)
}

/// An ingredient as a line.
pub(super) fn line_of(of: &IngredientShape) -> String {
    line::written(&of.name, of.amount, of.unit)
}

/// Instructions: as they were where the steps still have their words.
fn steps(recipe: &RecipeShape, node: &mut Node) {
    let steps: &[StepShape] = recipe.methods.first().map_or(&[], |m| &m.steps);
    let none = Addresses::default();
    let as_it_was = node.get("recipeInstructions").map(|v| instructions::told(v, &none));
    let is_same = as_it_was.as_ref().is_some_and(|told| {
        told.len() == steps.len() && told.iter().zip(steps).all(|(told, of)| told.text == of.words)
    });
    if is_same || (as_it_was.is_none() && steps.is_empty()) {
        return;
    }
    let step = |of: &StepShape| {
        let words = [&of.words, &of.pupil_words, &of.name];
        let text = words.into_iter().find(|w| !w.trim().is_empty()).unwrap_or(&of.name);
        json!({ "@type": "HowToStep", "name": of.name, "text": text })
    };
    let steps: Vec<Value> = steps.iter().map(step).collect();
    node.insert("recipeInstructions".to_owned(), Value::Array(steps));
}

/// What else others can read of it, where nothing was kept that says so.
fn more(recipe: &RecipeShape, node: &mut Node) {
    let mut add = |field: &str, value: Value| {
        node.entry(field.to_owned()).or_insert(value);
    };
    if !recipe.notes.is_empty() {
        add("description", json!(recipe.notes.join("\n")));
    }
    let Some(tin) = recipe.tins.first() else { return };
    let usual = tin.minutes.map(|minutes| match minutes {
        StatedMinutes::Usual(usual) | StatedMinutes::Three(_, usual, _) => usual,
        StatedMinutes::ByBand([_, (_, usual, _), _]) => usual,
    });
    if let Some(minutes) = usual.filter(|m| m.is_finite() && *m > 0.0) {
        add("cookTime", json!(lasts::written(minutes)));
    }
    let mut tools: Vec<&str> = Vec::new();
    for tin in &recipe.tins {
        if !tools.contains(&tin.tin.as_str()) {
            tools.push(&tin.tin);
        }
    }
    add("tool", json!(tools));
}

/// Whether a file is a recipe that was written here.
pub fn is_ours(text: &str) -> bool {
    serde_json::from_str::<Node>(text).is_ok_and(|node| node.contains_key(OWN))
}
