//! Recipes from elsewhere: read into the lesson on screen, to be looked through there.

use std::path::Path;

use super::{Event, Question, Session};
use crate::edit::{Edit, FileChange};
use crate::file::format::{RecipeShape, ReviewShape, ReviewedShape};
use crate::file::library;
use crate::finding::{Finding, Path as Where};
use crate::interchange::{Read, Source, Wanted};
use crate::setup::{SetUp, starter};
use crate::speech::say_of_library;

/// How the names of files end that recipes are read from.
pub const RECIPE_ENDINGS: [&str; 5] = ["jsonld", "json", "html", "htm", "xhtml"];

/// Whether a file is one to read a recipe from, by its name.
pub(super) fn is_recipe(path: &Path) -> bool {
    let ending = path.extension().and_then(|e| e.to_str()).map(str::to_lowercase);
    ending.is_some_and(|ending| RECIPE_ENDINGS.contains(&ending.as_str()))
}

impl Session {
    /// Reads the recipe of a file, or the one at that place among several, into the
    /// lesson on screen; without one, into a new lesson.
    pub(super) fn read_recipe(&mut self, path: &Path, which: Option<usize>) {
        let source = match Source::load(path) {
            Ok(source) => source,
            Err(findings) => return self.is_not_read(path, &findings),
        };
        let names = source.names();
        let wanted = match which {
            None if names.len() > 1 => {
                self.questions.before_writing =
                    Some(Question::WhichRecipe(path.to_path_buf(), names));
                return;
            }
            None => Wanted::Only,
            Some(place) => Wanted::At(place),
        };
        match source.read(wanted) {
            Ok(read) => self.take_read(path, read),
            Err(findings) => self.is_not_read(path, &findings),
        }
    }

    /// Nothing of the lesson has changed.
    fn is_not_read(&mut self, path: &Path, findings: &[Finding]) {
        // What was left aside before it is not what stopped it.
        let Some(of) = findings.last() else { return };
        let at = of.place.map_or(String::new(), |at| format!(", line {}", at.line));
        let hint = if of.hint.is_empty() { String::new() } else { format!("; {}", of.hint) };
        self.tell(format!("No recipe was read: {}{at} {}{hint}.", named(path), of.message));
    }

    /// What was read comes in as one change; all that is unsure stays marked in it.
    fn take_read(&mut self, path: &Path, read: Read) {
        if self.doc.is_none() {
            self.new_lesson();
        }
        let Some(doc) = &self.doc else { return };
        let mut recipe = read.recipe;
        let tins = self.tins_for(&mut recipe);
        let taken = |name: &str| starter::has_recipe(doc.file(), name);
        if taken(&recipe.name) {
            let there = recipe.name.clone();
            let free = (2..).map(|i| format!("{there} {i}")).find(|name| !taken(name));
            recipe.name = free.unwrap_or_default();
            let why = format!("the lesson has a recipe \"{there}\" already: call it as you like");
            let about = ReviewedShape::Name;
            recipe.review.push(ReviewShape { about, text: there, why });
        }
        let place = doc.file().recipes.len();
        let change = SetUp::Recipe { recipe: &recipe, tins: &tins };
        let Ok(file) = change.made(doc.file()) else { return };
        let what = format!("{}, read from {}", recipe.name, named(path));
        let (at, file) = (Where::root(), Box::new(file));
        self.edit(&Edit::Enter { what, at, typing: false, file });
        let is_in = |doc: &super::Document| starter::has_recipe(doc.file(), &recipe.name);
        if !self.doc.as_ref().is_some_and(is_in) {
            return;
        }
        self.broken = None;
        self.leave_week();
        self.tell_more(
            read.warnings.iter().map(|of| format!("Look at: {}; {}.", of.message, of.hint)),
        );
        self.events.push(Event::RecipeRead(place));
    }

    /// Kinds of tins it may bring. Those of the library have the names they have in
    /// this English.
    fn tins_for(&self, recipe: &mut RecipeShape) -> Vec<crate::file::format::TinShape> {
        let british = library::tins().unwrap_or_default();
        let english = self.library.english();
        for choice in &mut recipe.tins {
            if british.iter().any(|tin| tin.name == choice.tin) {
                choice.tin = say_of_library(&choice.tin, english).into_owned();
            }
        }
        self.library.all_tins()
    }
}

fn named(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}
