//! From what the vocabulary tells of a recipe to a recipe.

use serde_json::Value;

use super::OWN;
use super::ingredients;
use super::instructions;
use super::line::{LONGEST_NAME, Line};
use super::nodes::{Addresses, Node, name, texts, turns};
use super::suggested::{mark, minutes_stated, suggest};
use crate::file::format::{
    IngredientShape, MethodShape, RecipeShape, ReviewShape, ReviewedShape as About,
};
use crate::file::library;
use crate::finding::{Finding, Path, shortened};
use crate::setup::roles::Roles;

/// Most of what is kept beside a recipe, in bytes of JSON: a recipe's file must
/// stay one that can be read.
const MOST_KEPT: usize = 500_000;

/// Minutes that are stated for all of a recipe; `None` where none are, or none
/// that make sense.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Times {
    /// Before the bake.
    pub prep: Option<f64>,
    /// Of the bake.
    pub cook: Option<f64>,
    /// From the beginning to the end.
    pub total: Option<f64>,
}

/// A recipe that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// The recipe, with what is to be reviewed in it.
    pub recipe: RecipeShape,
    /// The lines of its ingredients, in the order of the recipe's.
    pub lines: Vec<Line>,
    /// Its times.
    pub times: Times,
    /// Fields that were kept beside it, by name.
    pub kept: Vec<String>,
    /// What should be known of the file.
    pub warnings: Vec<Finding>,
}

/// The ingredients of a thing: as they are called now, or as they were.
pub(super) fn ingredients_of(node: &Node) -> Option<&Value> {
    node.get("recipeIngredient").or_else(|| node.get("ingredients"))
}

/// The recipe that a thing tells in words of the vocabulary.
pub(super) fn of_node<'a>(node: &'a Node, addresses: &'a Addresses<'a>) -> Read {
    let mut review = Vec::new();
    let (lines, headings) =
        ingredients_of(node).map(|v| ingredients::lines(v, addresses)).unwrap_or_default();
    for heading in headings {
        mark(
            &mut review,
            About::Ingredient,
            &heading,
            "taken for a heading among the ingredients, and left out",
        );
    }
    let told = node.get("recipeInstructions").map(|v| instructions::told(v, addresses));
    let told = told.unwrap_or_default();
    let shapes = shapes(&lines, &mut review);
    if shapes.is_empty() {
        mark(&mut review, About::Ingredient, "", "no ingredients are stated");
    }
    for step in &told {
        for doubt in &step.doubts {
            mark(&mut review, About::Step, &step.text, doubt.as_str());
        }
    }
    if told.is_empty() {
        mark(&mut review, About::Step, "", "no steps are stated: write them");
    }
    let shown = ["name", "recipeIngredient", "ingredients", "recipeInstructions"];
    if shown.iter().filter_map(|field| node.get(*field)).any(|v| turns(&v.to_string())) {
        mark(
            &mut review,
            About::Recipe,
            "",
            "marks that turn the direction of writing were taken out of its words",
        );
    }
    let times = times(node, &mut review);
    let mut recipe = RecipeShape {
        name: name_for(node, &mut review),
        ingredients: shapes,
        methods: vec![MethodShape {
            name: "usual way".to_owned(),
            steps: instructions::named(&told),
            links: Vec::new(),
            holds: Vec::new(),
            tin_held: None,
        }],
        review,
        ..RecipeShape::default()
    };
    let tools = node.get("tool").map(|v| words_of(v).join(", ")).unwrap_or_default();
    suggest(&mut recipe, &told, (times.cook, &library::tins().unwrap_or_default(), &tools));
    let mut rest = node.clone();
    rest.remove("name");
    if rest.get("@context").is_some_and(is_plain_context) {
        rest.remove("@context");
    }
    let warnings = small_enough(&mut rest);
    let kept = rest.keys().cloned().collect();
    recipe.jsonld = (!rest.is_empty()).then(|| Value::Object(rest).to_string());
    Read { recipe, lines, times, kept, warnings }
}

/// Whether a context says no more than that the vocabulary is schema.org's.
fn is_plain_context(context: &Value) -> bool {
    context.as_str().is_some_and(|c| {
        let c = c.trim_end_matches('/');
        c.ends_with("://schema.org") || c.ends_with("://www.schema.org")
    })
}

/// The names or texts of things.
fn words_of(value: &Value) -> Vec<String> {
    match value {
        Value::Array(list) => list.iter().flat_map(words_of).collect(),
        Value::Object(node) => name(node).into_iter().collect(),
        other => texts(other),
    }
}

fn name_for(node: &Node, review: &mut Vec<ReviewShape>) -> String {
    let Some(name) = name(node) else {
        mark(review, About::Name, "", "the recipe has no name: give it one");
        return "recipe without a name".to_owned();
    };
    if name.chars().count() <= LONGEST_NAME {
        return name;
    }
    let why = format!("a name is at most {LONGEST_NAME} characters long, and is cut");
    mark(review, About::Name, &name, why);
    shortened(&name, LONGEST_NAME - 1)
}

/// The ingredients of lines; what is unsure of them is marked.
pub(super) fn shapes(lines: &[Line], review: &mut Vec<ReviewShape>) -> Vec<IngredientShape> {
    let roles = Roles::of_library();
    let mut any_role = false;
    let mut shapes = Vec::new();
    for line in lines {
        if !line.doubts.is_empty() {
            mark(review, About::Ingredient, &line.text, line.doubts.join("; "));
        }
        let head = line.name.split([',', '(']).next().unwrap_or_default();
        let role = roles.of(head);
        any_role |= role.is_some();
        shapes.push(IngredientShape {
            name: line.name.clone(),
            amount: line.amount.unwrap_or(0.0),
            unit: line.unit,
            role,
            allergens: None,
        });
    }
    if any_role {
        let why = "what ingredients do in the mixture is taken from their names";
        mark(review, About::Roles, "", why);
    }
    shapes
}

fn times(node: &Node, review: &mut Vec<ReviewShape>) -> Times {
    let mut of = |field: &str| -> Option<f64> {
        let stated = texts(node.get(field)?).into_iter().find(|t| !t.trim().is_empty())?;
        minutes_stated(field, &stated, review)
    };
    Times { prep: of("prepTime"), cook: of("cookTime"), total: of("totalTime") }.within_reason()
}

impl Times {
    /// Nought says nothing of how long something takes.
    fn within_reason(self) -> Times {
        let more_than_none = |minutes: Option<f64>| minutes.filter(|m| *m > 0.0);
        let Times { prep, cook, total } = self;
        Times {
            prep: more_than_none(prep),
            cook: more_than_none(cook),
            total: more_than_none(total),
        }
    }
}

/// Leaves the largest fields out of what is kept, as far as it is too much.
fn small_enough(rest: &mut Node) -> Vec<Finding> {
    let mut left_out = Vec::new();
    let mut sizes: Vec<(usize, String)> =
        rest.iter().map(|(field, value)| (value.to_string().len(), field.clone())).collect();
    sizes.sort();
    let mut all: usize = sizes.iter().map(|(size, field)| size + field.len()).sum();
    while all > MOST_KEPT
        && let Some((size, field)) = sizes.pop()
    {
        all -= size + field.len();
        rest.remove(&field);
        let message = format!("{} is {size} bytes long, and is not kept", shortened(&field, 60));
        left_out.push(
            Finding::warning("not-kept", Path::root().field("Recipe").field(&field), message)
                .hint("what it says of other than the recipe's making is lost in the new file"),
        );
    }
    left_out
}

/// What a file is told to be that holds a recipe of ours.
pub(super) fn own_text(node: &Node) -> Option<&str> {
    node.get(OWN)?.as_str()
}
