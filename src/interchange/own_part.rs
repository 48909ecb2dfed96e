//! A recipe of ours that comes back: taken whole, and what was changed in it
//! elsewhere on top.

use std::collections::BTreeSet;

use serde_json::Value;

use super::OWN;
use super::ingredients;
use super::instructions;
use super::line::Line;
use super::nodes::{Addresses, Node, name};
use super::read::{Read, Times, ingredients_of, of_node, own_text, shapes};
use super::suggested::mark;
use super::write::{line_of, node_of};
use crate::file::format::{IngredientShape, MethodShape, RecipeShape, ReviewedShape as About};
use crate::file::read_recipe;
use crate::finding::shortened;

/// Reads a thing that has a recipe of ours in it; `None` if it has none.
pub(super) fn read<'a>(node: &'a Node, addresses: &'a Addresses<'a>) -> Option<Read> {
    let own = read_recipe(own_text(node)?);
    let recipe = match own.and_then(|recipe| Ok((node_of(&recipe).map_err(|f| vec![f])?, recipe))) {
        Ok((as_written, recipe)) => changed(recipe, &as_written, node, addresses),
        Err(findings) => {
            // It is told as others tell theirs, and that is all there is.
            let mut read = of_node(node, addresses);
            let why = findings.first().map_or_else(String::new, |f| f.message.clone());
            let why =
                format!("what ovenbell wrote into it cannot be read: {}", shortened(&why, 160));
            mark(&mut read.recipe.review, About::Recipe, "", why);
            return Some(read);
        }
    };
    let lines = recipe.ingredients.iter().map(line).collect();
    let kept = kept(&recipe).keys().cloned().collect();
    Some(Read { recipe, lines, times: Times::default(), kept, warnings: Vec::new() })
}

fn line(of: &IngredientShape) -> Line {
    Line {
        text: line_of(of),
        name: of.name.clone(),
        amount: (of.amount != 0.0).then_some(of.amount),
        unit: of.unit,
        doubts: Vec::new(),
    }
}

fn kept(recipe: &RecipeShape) -> Node {
    let text = recipe.jsonld.as_deref().unwrap_or("{}");
    serde_json::from_str(text).unwrap_or_default()
}

/// The recipe with what is now otherwise than it was written.
fn changed<'a>(
    mut recipe: RecipeShape,
    as_written: &Node,
    node: &'a Node,
    addresses: &'a Addresses<'a>,
) -> RecipeShape {
    let fields: BTreeSet<&String> = as_written.keys().chain(node.keys()).collect();
    let is_other = |field: &&String| as_written.get(*field) != node.get(*field);
    let others: Vec<&String> = fields
        .into_iter()
        .filter(|f| !["@context", OWN].contains(&f.as_str()))
        .filter(is_other)
        .collect();
    if others.is_empty() {
        return recipe;
    }
    let mut rest = kept(&recipe);
    for field in others {
        match (field.as_str(), node.get(field)) {
            ("name", _) => rename(&mut recipe, node),
            (field, Some(value)) => {
                rest.insert(field.to_owned(), value.clone());
            }
            (field, None) => {
                rest.remove(field);
            }
        }
        match field.as_str() {
            "recipeIngredient" | "ingredients" => {
                other_ingredients(&mut recipe, as_written, node, addresses)
            }
            "recipeInstructions" => other_steps(&mut recipe, node, addresses),
            _ => {}
        }
    }
    recipe.jsonld = (!rest.is_empty()).then(|| Value::Object(rest).to_string());
    recipe
}

fn rename(recipe: &mut RecipeShape, node: &Node) {
    if let Some(name) = name(node) {
        let why = format!("renamed elsewhere; it was \"{}\"", shortened(&recipe.name, 60));
        mark(&mut recipe.review, About::Name, &name, why);
        recipe.name = name;
    }
}

/// The lines that stand as they were written keep what we know of them.
fn other_ingredients<'a>(
    recipe: &mut RecipeShape,
    as_written: &Node,
    node: &'a Node,
    addresses: &'a Addresses<'a>,
) {
    let (lines, _) =
        ingredients_of(node).map(|v| ingredients::lines(v, addresses)).unwrap_or_default();
    let none = Addresses::default();
    let before = ingredients_of(as_written).map(|v| ingredients::lines(v, &none).0);
    let before = before.unwrap_or_default();
    let mut review = std::mem::take(&mut recipe.review);
    let mut all = Vec::new();
    for line in lines {
        let known = before.iter().position(|b| b.text == line.text);
        match known.and_then(|at| recipe.ingredients.get(at)) {
            Some(known) => all.push(known.clone()),
            None => {
                mark(&mut review, About::Ingredient, &line.text, "changed elsewhere");
                all.extend(shapes(&[line], &mut review));
            }
        }
    }
    recipe.ingredients = all;
    mark(&mut review, About::Ingredient, "", "ingredients were changed elsewhere");
    recipe.review = review;
}

/// Steps that were changed are one more method: those we know have links, kit
/// and minutes that nobody elsewhere could see.
fn other_steps<'a>(recipe: &mut RecipeShape, node: &'a Node, addresses: &'a Addresses<'a>) {
    let told = node.get("recipeInstructions").map(|v| instructions::told(v, addresses));
    let told = told.unwrap_or_default();
    let mut name = "as changed elsewhere".to_owned();
    let mut number = 2;
    while recipe.methods.iter().any(|m| m.name == name) {
        name = format!("as changed elsewhere {number}");
        number += 1;
    }
    let why = format!("the steps were changed elsewhere: compare them with the method \"{name}\"");
    mark(&mut recipe.review, About::Step, "", why);
    if !told.is_empty() {
        recipe.methods.push(MethodShape {
            name,
            steps: instructions::named(&told),
            links: Vec::new(),
            holds: Vec::new(),
            tin_held: None,
        });
    }
}
