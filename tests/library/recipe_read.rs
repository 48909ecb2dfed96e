//! Recipes from elsewhere, read into the lesson at work without a window.

use crate::common::how_many::FEW_PLANS;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ovenbell::file::RealDisk;
use ovenbell::file::format::ReviewedShape as About;
use ovenbell::interchange::LARGEST_PAGE;
use ovenbell::session::{Clock, Command, Event, Question, Session, SessionStart};

const BUNS: &str = r#"{"@type": "Recipe", "name": "Pier buns", "recipeYield": "12",
"recipeIngredient": ["200 g flour", "2–3 eggs", "a pinch of salt"],
"recipeInstructions": ["Mix all.", "Bake in a 12-hole bun tray at 180C for 14 minutes."]}"#;

struct Place {
    folder: tempfile::TempDir,
    session: Session,
}

impl Place {
    fn begun_with(file: impl FnOnce(&Path) -> Option<PathBuf>) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut session = Session::new(SessionStart {
            wake: Arc::new(|| {}),
            disk: Arc::new(RealDisk),
            clock: Clock::default(),
            outcomes: None,
            data: Some(folder.path().join("data")),
            documents: None,
            runs: None,
            decodings: Some(FEW_PLANS),
        });
        session.begin(file(folder.path()), None);
        session.events();
        Self { folder, session }
    }

    fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    }

    fn open(&mut self, path: &Path) {
        self.session.apply(Command::Open(path.to_owned()));
    }

    fn recipes(&self) -> Vec<String> {
        let file = self.session.document().unwrap().file();
        file.recipes.iter().map(|r| r.name.clone()).collect()
    }
}

#[test]
fn a_recipe_comes_in_as_one_change_with_all_its_doubts() {
    let mut place = Place::begun_with(|_| None);
    let path = place.file("buns.jsonld", BUNS);
    let (lesson, before) = (place.session.document().unwrap().id(), place.recipes());
    place.open(&path);
    assert_eq!(place.session.document().unwrap().id(), lesson, "the lesson stays open");
    assert_eq!(place.session.events(), [Event::RecipeRead(before.len())]);
    let file = place.session.document().unwrap().file().clone();
    let recipe = file.recipes.last().unwrap();
    assert_eq!(recipe.name, "Pier buns");
    assert_eq!(recipe.ingredients[2].amount, 0.0, "nobody said how much");
    assert!(recipe.review.iter().any(|of| of.about == About::Ingredient && of.text == "2–3 eggs"));
    assert!(recipe.jsonld.as_ref().unwrap().contains("recipeYield"));
    assert!(file.tins.iter().any(|tin| tin.name == recipe.tins[0].tin), "with its kind of tin");
    // Read once more it is another recipe and takes nothing's place.
    place.open(&path);
    let file = place.session.document().unwrap().file();
    let again = file.recipes.last().unwrap();
    assert_eq!((file.recipes.len(), again.name.as_str()), (before.len() + 2, "Pier buns 2"));
    assert!(again.review.iter().any(|of| of.about == About::Name));
    place.session.apply(Command::Undo);
    place.session.apply(Command::Undo);
    assert_eq!(place.recipes(), before);
    assert_eq!(fs::read_to_string(&path).unwrap(), BUNS);
}

#[test]
fn of_several_recipes_one_is_asked_for() {
    let mut place = Place::begun_with(|_| None);
    let names = ["Buns", "Loaf", "Scones", "Rolls", "Tart"];
    let all: Vec<String> = names.iter().map(|n| BUNS.replace("Pier buns", n)).collect();
    let path = place.file("five.json", &format!("[{}]", all.join(",")));
    let before = place.recipes();
    place.open(&path);
    let asked = Question::WhichRecipe(path.clone(), names.map(str::to_owned).to_vec());
    assert_eq!(place.session.question(), Some(&asked));
    assert_eq!(place.recipes(), before);
    place.session.answered(true);
    place.session.apply(Command::ReadRecipe(path, Some(2)));
    assert_eq!(place.recipes().last().unwrap(), "Scones");
}

#[test]
fn what_cannot_be_read_changes_nothing_and_is_told() {
    let mut place = Place::begun_with(|_| None);
    let before = place.session.document().unwrap().file().clone();
    for (name, text, told) in [
        ("list.json", "[1, 2]", "holds no recipe"),
        ("half.json", "{\"@type\": \"Recipe\"", "is not JSON"),
        ("page.html", "<p>Buns</p>", "tells no recipe"),
    ] {
        let path = place.file(name, text);
        place.open(&path);
        let message = place.session.message().unwrap_or_default();
        assert!(message.contains(told) && message.contains(name), "{message}");
        place.session.apply(Command::Dismiss);
    }
    place.open(Path::new("nowhere.json"));
    assert!(place.session.message().is_some());
    let large = place.file("large.html", "<");
    fs::File::options().write(true).open(&large).unwrap().set_len(LARGEST_PAGE + 1).unwrap();
    place.open(&large);
    let message = place.session.message().unwrap_or_default();
    assert!(message.contains("large.html") && message.contains("50"), "{message}");
    assert_eq!(*place.session.document().unwrap().file(), before);
    assert!(place.session.broken().is_none() && place.session.events().is_empty());
}

#[test]
fn a_program_begun_with_a_recipe_makes_a_lesson_of_it() {
    let mut place = Place::begun_with(|folder| {
        let path = folder.join("buns.jsonld");
        fs::write(&path, BUNS).unwrap();
        Some(path)
    });
    assert_eq!(place.recipes(), ["Pier buns"]);
    place.session.apply(Command::Undo);
    assert!(place.recipes().is_empty());
}
