//! From a file or a page to a recipe.

use std::path::Path as FilePath;

use serde_json::Value;

use super::ingredients;
use super::instructions;
use super::line::{LONGEST_NAME, Line};
use super::nodes::{Addresses, Node, name, one_line, recipes, texts, turns};
use super::own_part;
use super::page;
use super::suggested::{mark, minutes_stated, suggest};
use super::{MOST, OWN};
use crate::file::format::{IngredientShape, MethodShape, RecipeShape, ReviewShape};
use crate::file::{LARGEST_FILE, library, text_of_file, write_recipe};
use crate::finding::{Finding, Path, Place, shortened};
use crate::setup::roles::Roles;

/// A file larger than this, in bytes, is not read.
pub const LARGEST_PAGE: u64 = 50_000_000;
/// Most of what is kept beside a recipe, in bytes of JSON: a recipe's file must
/// stay one that can be read.
const MOST_KEPT: usize = 500_000;
/// Names of recipes that are told of a page with several.
const TOLD: usize = 20;

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

/// Reads the recipe of a file, or the one of that name.
///
/// # Errors
/// What is wrong with the file; that it holds no recipe, or several and none is
/// asked for.
pub fn load(path: &FilePath, wanted: Option<&str>) -> Result<Read, Vec<Finding>> {
    let text = text_of_file(path, LARGEST_PAGE).map_err(|f| vec![f])?;
    read(&text, wanted)
}

/// Reads the recipe of a text: JSON-LD, or a page with blocks of it.
///
/// # Errors
/// As [`load`].
pub fn read(text: &str, wanted: Option<&str>) -> Result<Read, Vec<Finding>> {
    let (documents, mut warnings) = documents(text)?;
    let addresses = Addresses::of(&documents);
    let (all, mentioned) = recipes(&documents);
    let node = match one_of(&all, &mentioned, wanted) {
        Ok(node) => node,
        Err(finding) => {
            warnings.push(finding);
            return Err(warnings);
        }
    };
    let mut read = match own_part::read(node, &addresses) {
        Some(read) => read,
        None => of_node(node, &addresses),
    };
    let too_many = |what: &str, how_many: usize| {
        let message =
            format!("there are more than {MOST} {what}, which is more than can be handled");
        (how_many > MOST).then(|| {
            Finding::error("too-many", Path::root().field("Recipe"), message)
                .hint("part it into several recipes first")
        })
    };
    let steps = read.recipe.methods.iter().map(|m| m.steps.len()).max().unwrap_or(0);
    let errors: Vec<Finding> =
        [too_many("steps", steps), too_many("ingredients", read.recipe.ingredients.len())]
            .into_iter()
            .flatten()
            .collect();
    if !errors.is_empty() {
        return Err(errors);
    }
    let size = write_recipe(&read.recipe).map_or(0, |text| text.len());
    if u64::try_from(size).is_ok_and(|size| size > LARGEST_FILE) {
        let message =
            format!("the recipe's file would be {size} bytes long, more than can be read");
        return Err(vec![
            Finding::error("too-large", Path::root().field("Recipe"), message)
                .hint("this is hardly a recipe"),
        ]);
    }
    warnings.append(&mut read.warnings);
    Ok(Read { warnings, ..read })
}

/// The documents of a text, and what is wrong with further ones.
fn documents(text: &str) -> Result<(Vec<Value>, Vec<Finding>), Vec<Finding>> {
    let text = text.trim_start_matches('\u{feff}').trim_start();
    if !text.starts_with('<') {
        return json(text).map(|one| (vec![one], Vec::new())).map_err(|f| vec![f]);
    }
    let blocks = page::blocks(text);
    if blocks.is_empty() {
        let message = "the page has no block of JSON-LD, in which recipes are told to programs";
        let hint = "save the page itself, whole, or look for its recipe elsewhere";
        return Err(vec![Finding::error("no-json-ld", Path::root(), message).hint(hint)]);
    }
    let (mut documents, mut wrong) = (Vec::new(), Vec::new());
    for (i, block) in blocks.iter().enumerate() {
        match json(without_shell(block)) {
            Ok(document) => documents.push(document),
            // A place in a block is none in the page.
            Err(of) => wrong.push(
                Finding::warning("not-json", Path::root().field("script").index(i), of.message)
                    .hint("this block of the page is left aside"),
            ),
        }
    }
    if documents.is_empty() { Err(wrong) } else { Ok((documents, wrong)) }
}

/// A block without what old pages hide it in.
fn without_shell(block: &str) -> &str {
    let mut block = block.trim();
    for (open, close) in [("<!--", "-->"), ("//<![CDATA[", "//]]>"), ("<![CDATA[", "]]>")] {
        block = block.strip_prefix(open).unwrap_or(block).trim();
        block = block.strip_suffix(close).unwrap_or(block).trim();
    }
    block.trim_end_matches(';')
}

fn json(text: &str) -> Result<Value, Finding> {
    let error = match serde_json::from_str(text) {
        Ok(value) => return Ok(value),
        Err(error) => error,
    };
    // Many pages have lines end within a text, which JSON does not allow.
    let repaired: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    serde_json::from_str(&repaired).map_err(|_| {
        let what = error.to_string();
        let what = what.split(" at line ").next().unwrap_or_default();
        let message = format!("is not JSON: {}", shortened(what, 120));
        let place = Place { line: error.line().max(1), column: error.column().max(1) };
        Finding::error("not-json", Path::root(), message)
            .hint("give a file of JSON-LD, or a saved web page")
            .at(place)
    })
}

/// The recipe that is meant.
fn one_of<'a>(
    all: &[&'a Node],
    mentioned: &[String],
    wanted: Option<&str>,
) -> Result<&'a Node, Finding> {
    let name_of = |node: &Node| name(node).unwrap_or_default();
    let names = || {
        let mut names: Vec<String> =
            all.iter().take(TOLD).map(|n| format!("\"{}\"", shortened(&name_of(n), 80))).collect();
        if all.len() > TOLD {
            names.push(format!("and {} more", all.len() - TOLD));
        }
        names.join(", ")
    };
    let root = Path::root();
    if all.is_empty() {
        let message = if mentioned.is_empty() {
            "holds no recipe: nothing in it is of type Recipe with ingredients or instructions"
                .to_owned()
        } else {
            let few: Vec<String> =
                mentioned.iter().take(TOLD).map(|n| format!("\"{}\"", shortened(n, 80))).collect();
            format!("only mentions recipes that stand elsewhere: {}", few.join(", "))
        };
        let hint = "save the page on which the recipe itself stands";
        return Err(Finding::error("no-recipe", root, message).hint(hint));
    }
    let Some(wanted) = wanted else {
        return match all {
            [only] => Ok(*only),
            _ => {
                let message = format!("holds {} recipes: {}", all.len(), names());
                let hint = "say which with --recipe NAME";
                Err(Finding::error("several-recipes", root, message).hint(hint))
            }
        };
    };
    let is_it = |node: &&&Node| name_of(node).to_lowercase() == one_line(wanted).to_lowercase();
    let found: Vec<&&Node> = all.iter().filter(is_it).collect();
    match found.as_slice() {
        [only] => Ok(**only),
        [] => {
            let message = format!("holds no recipe \"{}\"", shortened(wanted, 80));
            Err(Finding::error("unknown-name", root, message)
                .hint(format!("there are: {}", names())))
        }
        _ => {
            let message = format!("holds {} recipes \"{}\"", found.len(), shortened(wanted, 80));
            let hint = "leave all but one of them out of the file";
            Err(Finding::error("several-recipes", root, message).hint(hint))
        }
    }
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
        mark(&mut review, &heading, "taken for a heading among the ingredients, and left out");
    }
    let told = node.get("recipeInstructions").map(|v| instructions::told(v, addresses));
    let told = told.unwrap_or_default();
    let shapes = shapes(&lines, &mut review);
    if shapes.is_empty() {
        mark(&mut review, "", "no ingredients are stated");
    }
    for step in &told {
        for doubt in &step.doubts {
            mark(&mut review, &step.text, doubt.as_str());
        }
    }
    if told.is_empty() {
        mark(&mut review, "", "no steps are stated: write them");
    }
    let shown = ["name", "recipeIngredient", "ingredients", "recipeInstructions"];
    if shown.iter().filter_map(|field| node.get(*field)).any(|v| turns(&v.to_string())) {
        mark(
            &mut review,
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
        mark(review, "", "the recipe has no name: give it one");
        return "recipe without a name".to_owned();
    };
    if name.chars().count() <= LONGEST_NAME {
        return name;
    }
    mark(review, &name, format!("a name is at most {LONGEST_NAME} characters long, and is cut"));
    shortened(&name, LONGEST_NAME - 1)
}

/// The ingredients of lines; what is unsure of them is marked.
pub(super) fn shapes(lines: &[Line], review: &mut Vec<ReviewShape>) -> Vec<IngredientShape> {
    let roles = Roles::of_library();
    let mut any_role = false;
    let mut shapes = Vec::new();
    for line in lines {
        if !line.doubts.is_empty() {
            mark(review, &line.text, line.doubts.join("; "));
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
        mark(review, "", "what ingredients do in the mixture (`role`) is taken from their names");
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
