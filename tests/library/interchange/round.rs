//! Out and in again: nothing is changed; and what others change on the way is
//! taken over and marked.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::{is_marked, of, of_text};
use crate::common::how_many::how_many_lessons;
use ovenbell::file::format::{
    Entries, IngredientShape, LinkShape, MeasureShape, MethodShape, RecipeShape, ReviewShape,
    ReviewedShape, RoleShape, StatedMinutes, StepKindShape, StepShape, TinChoiceShape,
};
use ovenbell::file::{library, read_recipe, write_recipe};
use ovenbell::interchange::write;

fn again(recipe: &RecipeShape) -> RecipeShape {
    of_text(&write(recipe).unwrap()).recipe
}

#[test]
fn recipes_of_the_library_come_back_as_they_went() {
    for recipe in library::recipes().unwrap() {
        assert_eq!(again(&recipe), recipe, "{}", recipe.name);
    }
}

fn words() -> impl Strategy<Value = String> {
    // What files, JSON and markup each treat apart.
    "[a-zA-Zäß½ \"\\\\<>&{}()/:,.\\-\u{202e}粉\n]{1,24}"
}

fn minutes() -> impl Strategy<Value = StatedMinutes> {
    let one = || (1u32..4000).prop_map(|n| f64::from(n) / 7.0);
    prop_oneof![
        one().prop_map(StatedMinutes::Usual),
        (one(), one(), one()).prop_map(|(q, u, s)| StatedMinutes::Three(q, u, s)),
        (one(), one(), one()).prop_map(|(q, u, s)| StatedMinutes::ByBand([(q, u, s); 3])),
    ]
}

fn ingredient() -> impl Strategy<Value = IngredientShape> {
    let unit = prop_oneof![
        Just(None),
        Just(Some(MeasureShape::Egg)),
        Just(Some(MeasureShape::UsCup)),
        Just(Some(MeasureShape::Teaspoon)),
    ];
    let role = prop_oneof![Just(None), Just(Some(RoleShape::Flour)), Just(Some(RoleShape::Other))];
    let allergens = proptest::option::of(proptest::collection::vec(words(), 0..3));
    (words(), 0u32..9000, unit, role, allergens).prop_map(|(name, n, unit, role, allergens)| {
        IngredientShape { name, amount: f64::from(n) / 9.0, unit, role, allergens }
    })
}

fn step() -> impl Strategy<Value = StepShape> {
    let kind = prop_oneof![
        Just(StepKindShape::Hand),
        Just(StepKindShape::Wait),
        Just(StepKindShape::Bake),
        Just(StepKindShape::Cool),
    ];
    let after = proptest::option::of(proptest::collection::vec(words(), 0..2));
    let texts = (words(), words(), "[a-z ]{0,9}");
    (texts, kind, proptest::option::of(minutes()), after, any::<bool>()).prop_map(
        |((name, words, pupil_words), kind, minutes, after, everyone)| StepShape {
            name,
            words,
            pupil_words,
            kind,
            minutes,
            after,
            everyone,
            kit: Entries(vec![("ring".to_owned(), 1)]),
            ..StepShape::default()
        },
    )
}

fn method() -> impl Strategy<Value = MethodShape> {
    (words(), proptest::collection::vec(step(), 0..4), words()).prop_map(|(name, steps, to)| {
        let link = LinkShape { from: name.clone(), to, least: Some(0.1), longest: None };
        MethodShape { name, steps, links: vec![link], holds: Vec::new(), tin_held: None }
    })
}

fn recipe() -> impl Strategy<Value = RecipeShape> {
    let tin = (words(), proptest::option::of(minutes()), proptest::option::of(1i64..4)).prop_map(
        |(tin, minutes, count)| TinChoiceShape {
            minutes,
            count,
            ..TinChoiceShape::new(&tin, 180.0)
        },
    );
    let about = prop_oneof![
        Just(ReviewedShape::Recipe),
        Just(ReviewedShape::Ingredient),
        Just(ReviewedShape::Tin)
    ];
    let review =
        (about, words(), words()).prop_map(|(about, text, why)| ReviewShape { about, text, why });
    let kept = proptest::option::of((words(), words(), any::<bool>())).prop_map(|kept| {
        kept.map(|(field, text, old)| {
            let field = if old { "recipeInstructions".to_owned() } else { format!("x{field}") };
            json!({"@type": "Recipe", "recipeIngredient": ["1 egg", 3], field: [text]}).to_string()
        })
    });
    (
        (words(), proptest::collection::vec(words(), 0..3)),
        proptest::collection::vec(ingredient(), 0..5),
        proptest::collection::vec(method(), 1..3),
        proptest::collection::vec(tin, 0..3),
        proptest::collection::vec(review, 0..3),
        kept,
    )
        .prop_map(|((name, notes), ingredients, methods, tins, review, jsonld)| RecipeShape {
            name,
            notes,
            ingredients,
            methods,
            tins,
            review,
            jsonld,
            ..RecipeShape::default()
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(how_many_lessons(24) as u32))]

    #[test]
    fn out_and_in_changes_nothing(recipe in recipe()) {
        prop_assert_eq!(&again(&recipe), &recipe);
        // And by way of the recipe's own file.
        let text = write_recipe(&recipe).unwrap();
        prop_assert_eq!(&read_recipe(&text).unwrap(), &recipe);
    }
}

/// A document that was read, written, and read by a program of others.
fn published() -> Value {
    json!({
        "@context": ["https://schema.org", {"shop": "https://example.org/shop#"}],
        "@type": ["Recipe", "CreativeWork"],
        "@id": "https://example.org/buns",
        "name": "Buns",
        "shop:price": {"shop:amount": 2.5},
        "aggregateRating": {"@type": "AggregateRating", "ratingValue": "4.5"},
        "recipeIngredient": ["100g/4oz butter", "2–3 eggs"],
        "recipeInstructions": [
            {"@type": "HowToStep", "text": "Mix.", "image": "mix.jpg"},
            {"@type": "HowToStep", "text": "Bake for 20 minutes."},
        ],
    })
}

#[test]
fn what_the_format_has_no_place_for_is_written_out_again() {
    let read = of(&published());
    let out: Value = serde_json::from_str(&write(&read.recipe).unwrap()).unwrap();
    for field in published().as_object().unwrap().keys().filter(|f| *f != "@context") {
        assert_eq!(out[field], published()[field], "{field}");
    }
    let contexts = out["@context"].as_array().unwrap();
    assert_eq!(contexts[..2], published()["@context"].as_array().unwrap()[..]);
    // An amount that was put right is told as it is now, the steps as they were.
    let mut recipe = read.recipe;
    recipe.ingredients[1].amount = 3.0;
    let out: Value = serde_json::from_str(&write(&recipe).unwrap()).unwrap();
    assert_eq!(out["recipeIngredient"], json!(["100 g butter", "3 eggs"]));
    assert_eq!(out["recipeInstructions"], published()["recipeInstructions"]);
    assert_eq!(again(&recipe), recipe);
}

#[test]
fn what_others_change_is_taken_over_and_marked() {
    let mut recipe = library::recipe("Tower scones").unwrap().unwrap();
    recipe.review.clear();
    let mut out: Value = serde_json::from_str(&write(&recipe).unwrap()).unwrap();
    out["name"] = json!("Pier scones");
    out["recipeIngredient"][1] = json!("60 g butter");
    out["recipeInstructions"][0]["text"] = json!("Weigh it all.");
    out["keywords"] = json!("tea");
    let read = of(&out);
    let changed = &read.recipe;
    assert_eq!(changed.name, "Pier scones");
    assert_eq!(changed.ingredients[0], recipe.ingredients[0]);
    assert_eq!(
        (changed.ingredients[1].name.as_str(), changed.ingredients[1].amount),
        ("butter", 60.0)
    );
    assert_eq!(changed.ingredients[2..], recipe.ingredients[2..]);
    let before = recipe.methods.len();
    assert_eq!(changed.methods[..before], recipe.methods[..]);
    assert_eq!(changed.methods[before].steps[0].words, "Weigh it all.");
    assert_eq!(changed.tins, recipe.tins);
    for why in ["renamed elsewhere", "ingredients were changed elsewhere", "steps were changed"] {
        assert!(is_marked(changed, why), "{why}: {:?}", changed.review);
    }
    assert!(read.kept.contains(&"keywords".to_owned()));
    // What came of it goes out and in again, too.
    assert_eq!(again(changed), *changed);
}

#[test]
fn a_part_of_ours_that_cannot_be_read_is_told() {
    let mut out = published();
    out["ovenbell:recipe"] = json!("(name: \"Buns\", colour: red)");
    let read = of(&out);
    assert_eq!(read.recipe.ingredients.len(), 2);
    assert!(is_marked(&read.recipe, "what ovenbell wrote into it cannot be read"));
}
