//! A recipe from elsewhere, read in and looked through by mouse, by keys alone and by
//! the accessibility tree: what nobody said is right stays marked.

use std::path::PathBuf;

use crate::common::hands::{Hands, How};
use egui::Key;
use ovenbell::app::Command;
use ovenbell::file::format::RecipeShape;
use ovenbell::session::Command as LessonCommand;

const BUNS: &str = r#"{"@type": "Recipe", "name": "Pier buns", "author": "K. T.",
"recipeIngredient": ["200 g flour", "2–3 eggs", "a pinch of salt"],
"recipeInstructions": ["Mix all.", "Bake in a 12-hole bun tray at 180C for 14 minutes."]}"#;

fn recipe(hands: &Hands) -> RecipeShape {
    hands.app().document().unwrap().file().recipes.last().unwrap().clone()
}

fn read_in(how: How, size: [f32; 2], text: &str, name: &str) -> (Hands, PathBuf) {
    let mut hands = Hands::sized(how, size, |_| {});
    let path = hands.file(name);
    std::fs::write(&path, text).unwrap();
    hands.apply(Command::AskRecipe);
    hands.wait(2);
    hands.fill("Read a recipe from this file:", path.to_str().unwrap());
    hands.press("Read it in");
    hands.wait(4);
    (hands, path)
}

#[test]
fn what_is_unsure_is_put_right_and_said_to_be_right() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let (mut hands, path) = read_in(how, [1280.0, 1000.0], BUNS, "buns.jsonld");
        assert!(hands.says("Pier buns, as it was read"), "{:?}", hands.heard());
        let marked = recipe(&hands).review.len();
        assert!(marked >= 5, "{:?}", recipe(&hands).review);
        // Eggs are right as they are.
        hands.press("It is right, 2–3 eggs: 2 to 3: the less is taken");
        assert_eq!(recipe(&hands).review.len(), marked - 1);
        // How much salt nobody knows yet.
        let heard = hands.heard();
        let salt = heard.iter().find(|h| h.starts_with("It is right, a pinch of salt")).unwrap();
        hands.click(salt);
        assert_eq!(recipe(&hands).review.len(), marked - 1, "an amount is wanted first");
        hands.fill("salt, amount, g", "1");
        hands.wait(8);
        assert_eq!(recipe(&hands).ingredients[2].amount, 1.0);
        assert_eq!(recipe(&hands).review.len(), marked - 1, "what was put right stays marked");
        hands.press(salt);
        assert_eq!(recipe(&hands).review.len(), marked - 2);
        assert!(recipe(&hands).review.iter().all(|of| of.text != "a pinch of salt"));
        // Each is one step of undo, and so is the recipe.
        for _ in 0..4 {
            hands.apply(LessonCommand::Undo);
        }
        let file = hands.app().document().unwrap().file();
        assert!(file.recipes.iter().all(|r| r.name != "Pier buns"), "{:?}", hands.told());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), BUNS);
    }
}

#[test]
fn a_page_with_five_recipes_asks_which() {
    let names = ["Pier buns", "Quay loaf", "Harbour scones", "Tower rolls", "Dock tart"];
    let all: Vec<String> = names.iter().map(|name| BUNS.replace("Pier buns", name)).collect();
    let page =
        format!("<html><script type=\"application/ld+json\">[{}]</script></html>", all.join(","));
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let (mut hands, _) = read_in(how, [1092.0, 614.0], &page, "five.html");
        assert!(hands.says("five.html has 5 recipes"), "{:?}", hands.heard());
        hands.press("Tower rolls");
        hands.wait(4);
        assert_eq!(recipe(&hands).name, "Tower rolls");
        assert!(hands.says("Tower rolls, as it was read"), "{:?}", hands.heard());
        // From the recipe's own page one comes back to it.
        hands.press("To the recipe");
        hands.press("Look through them");
        hands.wait(2);
        assert!(hands.says("Tower rolls, as it was read"));
    }
    let (mut hands, _) = read_in(How::Keyboard, [1092.0, 614.0], &page, "five.html");
    hands.key(Key::Escape);
    hands.wait(2);
    let recipes = &hands.app().document().unwrap().file().recipes;
    assert!(recipes.iter().all(|r| !names.contains(&r.name.as_str())), "none was chosen");
}
