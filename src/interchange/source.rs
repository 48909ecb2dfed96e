//! Files and saved pages that recipes are read from, and which of theirs is meant.

use std::path::Path as FilePath;

use serde_json::Value;

use super::MOST;
use super::microdata;
use super::nodes::{Addresses, Node, name, one_line, recipes};
use super::own_part;
use super::page;
use super::read::{Read, of_node};
use crate::file::{LARGEST_FILE, text_of_file, write_recipe};
use crate::finding::{Finding, Path, Place, shortened};

/// A file larger than this, in bytes, is not read.
pub const LARGEST_PAGE: u64 = 50_000_000;
/// Names of recipes that are told of a page with several.
const TOLD: usize = 20;

/// Which of a file's recipes is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted<'a> {
    /// The only one there is.
    Only,
    /// The one of that name, whatever its capitals.
    Called(&'a str),
    /// The one at that place of [`Source::names`].
    At(usize),
}

/// What a file or page tells to programs.
#[derive(Debug)]
pub struct Source {
    documents: Vec<Value>,
    warnings: Vec<Finding>,
}

/// Reads the recipe of a file, or the one of that name.
///
/// # Errors
/// What is wrong with the file; that it holds no recipe, or several and none is
/// asked for.
pub fn load(path: &FilePath, wanted: Option<&str>) -> Result<Read, Vec<Finding>> {
    Source::load(path)?.read(wanted.map_or(Wanted::Only, Wanted::Called))
}

/// Reads the recipe of a text: JSON-LD, or a page that carries it.
///
/// # Errors
/// As [`load`].
pub fn read(text: &str, wanted: Option<&str>) -> Result<Read, Vec<Finding>> {
    Source::of(text)?.read(wanted.map_or(Wanted::Only, Wanted::Called))
}

impl Source {
    /// That of a file.
    ///
    /// # Errors
    /// If it cannot be read, or tells nothing to programs.
    pub fn load(path: &FilePath) -> Result<Self, Vec<Finding>> {
        let text = text_of_file(path, LARGEST_PAGE).map_err(|f| vec![f])?;
        Self::of(&text)
    }

    /// That of a text: JSON-LD, or a page that carries it.
    ///
    /// # Errors
    /// If it tells nothing to programs.
    pub fn of(text: &str) -> Result<Self, Vec<Finding>> {
        let text = text.trim_start_matches('\u{feff}').trim_start();
        if text.starts_with('<') {
            return of_page(text);
        }
        let document = json(text).map_err(|f| vec![f])?;
        Ok(Self { documents: vec![document], warnings: Vec::new() })
    }

    /// The names of its recipes; empty where one has none.
    pub fn names(&self) -> Vec<String> {
        recipes(&self.documents).0.into_iter().map(name_of).collect()
    }

    /// Reads one of its recipes.
    ///
    /// # Errors
    /// If it is not there, or there are several and none is asked for.
    pub fn read(self, wanted: Wanted<'_>) -> Result<Read, Vec<Finding>> {
        let Self { documents, mut warnings } = self;
        let addresses = Addresses::of(&documents);
        let (all, mentioned) = recipes(&documents);
        let node = match one_of(&all, &mentioned, wanted) {
            Ok(node) => node,
            Err(finding) => {
                warnings.push(finding);
                return Err(warnings);
            }
        };
        let mut read =
            own_part::read(node, &addresses).unwrap_or_else(|| of_node(node, &addresses));
        within_bounds(&read)?;
        warnings.append(&mut read.warnings);
        Ok(Read { warnings, ..read })
    }
}

/// A recipe that a lesson's file could not hold is refused.
fn within_bounds(read: &Read) -> Result<(), Vec<Finding>> {
    let at = || Path::root().field("Recipe");
    let too_many = |what: &str, how_many: usize| {
        let message =
            format!("there are more than {MOST} {what}, which is more than can be handled");
        (how_many > MOST).then(|| {
            Finding::error("too-many", at(), message).hint("part it into several recipes first")
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
            Finding::error("too-large", at(), message).hint("this is hardly a recipe"),
        ]);
    }
    Ok(())
}

/// What a page tells in blocks of JSON-LD, or else in its markup.
fn of_page(text: &str) -> Result<Source, Vec<Finding>> {
    let (mut documents, mut wrong) = (Vec::new(), Vec::new());
    for (i, block) in page::blocks(text).iter().enumerate() {
        match json(without_shell(block)) {
            Ok(document) => documents.push(document),
            // A place in a block is none in the page.
            Err(of) => wrong.push(
                Finding::warning("not-json", Path::root().field("script").index(i), of.message)
                    .hint("this block of the page is left aside"),
            ),
        }
    }
    if recipes(&documents).0.is_empty() {
        documents.extend(microdata::items(text));
    }
    if documents.is_empty() && wrong.is_empty() {
        let message = "the page tells no recipe to programs: it has no block of JSON-LD, and no \
                       microdata in its markup";
        let hint = "save the page itself, whole, or look for its recipe elsewhere";
        return Err(vec![Finding::error("no-json-ld", Path::root(), message).hint(hint)]);
    }
    if documents.is_empty() {
        return Err(wrong);
    }
    Ok(Source { documents, warnings: wrong })
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

fn name_of(node: &Node) -> String {
    name(node).unwrap_or_default()
}

/// The first of some names, quoted, and how many more there are.
fn few(names: &[String]) -> String {
    let mut few: Vec<String> =
        names.iter().take(TOLD).map(|name| format!("\"{}\"", shortened(name, 80))).collect();
    if names.len() > TOLD {
        few.push(format!("and {} more", names.len() - TOLD));
    }
    few.join(", ")
}

/// The recipe that is meant.
fn one_of<'a>(
    all: &[&'a Node],
    mentioned: &[String],
    wanted: Wanted<'_>,
) -> Result<&'a Node, Finding> {
    let names: Vec<String> = all.iter().map(|node| name_of(node)).collect();
    let root = Path::root();
    if all.is_empty() {
        let message = if mentioned.is_empty() {
            "holds no recipe: nothing in it is of type Recipe with ingredients or instructions"
                .to_owned()
        } else {
            format!("only mentions recipes that stand elsewhere: {}", few(mentioned))
        };
        let hint = "save the page on which the recipe itself stands";
        return Err(Finding::error("no-recipe", root, message).hint(hint));
    }
    let wanted = match (wanted, all) {
        (Wanted::Only, [only]) => return Ok(*only),
        (Wanted::Only, _) => {
            let message = format!("holds {} recipes: {}", all.len(), few(&names));
            let hint = "say which with --recipe NAME";
            return Err(Finding::error("several-recipes", root, message).hint(hint));
        }
        (Wanted::At(place), _) => {
            let message = "does not hold that recipe any more";
            return all.get(place).copied().ok_or_else(|| {
                Finding::error("unknown-name", root, message)
                    .hint(format!("there are: {}", few(&names)))
            });
        }
        (Wanted::Called(wanted), _) => wanted,
    };
    let is_it = |name: &String| name.to_lowercase() == one_line(wanted).to_lowercase();
    let found: Vec<&&Node> =
        all.iter().zip(&names).filter(|(_, name)| is_it(name)).map(|(node, _)| node).collect();
    match found.as_slice() {
        [only] => Ok(**only),
        [] => {
            let message = format!("holds no recipe \"{}\"", shortened(wanted, 80));
            Err(Finding::error("unknown-name", root, message)
                .hint(format!("there are: {}", few(&names))))
        }
        _ => {
            let message = format!("holds {} recipes \"{}\"", found.len(), shortened(wanted, 80));
            let hint = "leave all but one of them out of the file";
            Err(Finding::error("several-recipes", root, message).hint(hint))
        }
    }
}
