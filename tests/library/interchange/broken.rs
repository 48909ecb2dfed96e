//! Files that are none, or none that makes sense: a finding each.

use serde_json::{Value, json};

use super::{is_marked, of};
use ovenbell::interchange::read;

fn code(text: &str) -> &'static str {
    read(text, None).unwrap_err()[0].code
}

#[test]
fn what_holds_no_recipe_is_told() {
    for (text, wanted) in [
        ("", "not-json"),
        ("Dear all", "not-json"),
        ("{\"@type\": \"Recipe\"", "not-json"),
        ("3", "no-recipe"),
        ("null", "no-recipe"),
        ("[]", "no-recipe"),
        ("{\"name\": \"Buns\"}", "no-recipe"),
        ("{\"@type\": 7, \"recipeIngredient\": [\"1 egg\"]}", "no-recipe"),
        ("{\"@type\": \"Recipe\", \"name\": \"Buns\"}", "no-recipe"),
        (
            "{\"@type\": \"Recipe\", \"recipeIngredient\": [], \"recipeInstructions\": \" \"}",
            "no-recipe",
        ),
        ("<html><p>Buns</p>", "no-json-ld"),
        ("<html><script type=application/ld+json>{</script>", "not-json"),
    ] {
        assert_eq!(code(text), wanted, "{text}");
    }
    let deep = format!("{}{}", "[".repeat(5000), "]".repeat(5000));
    assert_eq!(code(&deep), "not-json");
    let place = read("{\n  \"a\": tea\n}", None).unwrap_err()[0].place.unwrap();
    assert_eq!(place.line, 2);
}

#[test]
fn fields_of_the_wrong_shape_are_marked_and_kept() {
    for (field, value) in [
        ("recipeIngredient", json!({"a": {"b": 3}})),
        ("recipeIngredient", json!([7, true, null, [], {}])),
        ("recipeInstructions", json!(true)),
        ("recipeInstructions", json!({"@type": "HowToStep"})),
        ("recipeInstructions", json!([{"@type": "HowToSection", "itemListElement": {}}])),
        ("recipeInstructions", json!([{"@id": "#nowhere"}])),
        ("name", json!({"a": 1})),
        ("cookTime", json!({"@type": "Duration"})),
        ("cookTime", json!("PT-25M")),
        ("tool", json!([null, 3, {"name": {}}])),
    ] {
        let mut recipe = json!({
            "@type": "Recipe", "name": "x", "recipeIngredient": ["1 egg"],
            "recipeInstructions": ["Mix."],
        });
        recipe[field] = value.clone();
        let read = of(&recipe);
        assert!(!read.recipe.review.is_empty(), "{field}: {value}");
        let kept: Value = serde_json::from_str(read.recipe.jsonld.as_deref().unwrap()).unwrap();
        if field != "name" {
            assert_eq!(kept[field], value);
        }
    }
}

/// Nothing is looked into without end, and nothing comes of it that could not
/// be read again.
#[test]
fn texts_without_end_are_not_looked_into() {
    let long = "12 (3 to ".repeat(20_000);
    let read = of(&json!({"@type": "Recipe", "name": "x", "recipeIngredient": [long, "1 egg"],
        "recipeInstructions": [long, "Mix."], "prepTime": long}));
    assert!(is_marked(&read.recipe, "too long for an ingredient"));
    assert!(is_marked(&read.recipe, "too long to be looked through"));
    assert_eq!(read.recipe.ingredients[1].amount, 1.0);
    let endless = "Mix. ".repeat(500_000);
    assert_eq!(
        code(&json!({"@type": "Recipe", "name": "x", "recipeInstructions": [endless]}).to_string()),
        "too-large"
    );
    let many = vec!["1 egg"; 100_000];
    assert_eq!(
        code(&json!({"@type": "Recipe", "name": "x", "recipeIngredient": many}).to_string()),
        "too-many"
    );
}

/// What stands in a shape nobody knows is neither taken nor dropped unsaid.
#[test]
fn odd_entries_are_shown_as_they_stand() {
    let read = of(&json!({"@type": "Recipe", "name": "x",
        "recipeIngredient": ["1 egg", {"note": "200 g flour"}, false],
        "recipeInstructions": ["Mix.", 3, {"tip": "Cool."}]}));
    let names: Vec<&str> = read.recipe.ingredients.iter().map(|i| i.name.as_str()).collect();
    assert_eq!(names, ["egg", "{\"note\":\"200 g flour\"}", "false"]);
    assert!(read.recipe.ingredients[1..].iter().all(|i| i.amount == 0.0));
    assert_eq!(read.recipe.methods[0].steps.len(), 3);
    assert!(is_marked(&read.recipe, "a step without words"));
}

#[test]
fn too_many_steps_or_ingredients_are_refused() {
    let many = |field: &str, n: usize| {
        let mut recipe = json!({"@type": "Recipe", "name": "x", "recipeInstructions": ["Mix."]});
        recipe[field] = (0..n).map(|i| json!(format!("Stir {i} times."))).collect();
        recipe.to_string()
    };
    assert_eq!(code(&many("recipeInstructions", 500)), "too-many");
    assert_eq!(code(&many("recipeIngredient", 201)), "too-many");
    assert!(read(&many("recipeInstructions", 200), None).is_ok());
}

#[test]
fn negative_amounts_are_marked_and_not_taken() {
    let read = of(&json!({"@type": "Recipe", "name": "x", "recipeIngredient": [
        "-50 g flour", {"@type": "PropertyValue", "name": "sugar", "value": -20, "unitText": "g"}
    ]}));
    assert!(read.recipe.ingredients.iter().all(|i| i.amount == 0.0));
    assert!(is_marked(&read.recipe, "below nought"));
}

#[test]
fn marks_that_turn_the_direction_are_taken_out_and_told() {
    let read = of(&json!({"@type": "Recipe", "name": "עוגה\u{202e}",
        "recipeIngredient": ["200 גרם קמח", "\u{202e}eggs 2\u{202c}", "‏100 g סוכר"],
        "recipeInstructions": ["לערבב.", "לאפות."]}));
    let recipe = &read.recipe;
    assert_eq!(recipe.name, "עוגה");
    assert!(is_marked(recipe, "direction of writing"));
    assert_eq!(recipe.ingredients[2].amount, 100.0);
    assert_eq!(recipe.ingredients[2].name, "סוכר");
    assert_eq!(recipe.methods[0].steps[1].words, "לאפות.");
    let turning = |text: &str| text.contains(['\u{202e}', '\u{202c}', '\u{200f}']);
    assert!(recipe.ingredients.iter().all(|i| !turning(&i.name)));
}

#[test]
fn what_is_too_much_to_keep_is_told() {
    let read = of(&json!({"@type": "Recipe", "name": "x", "recipeIngredient": ["1 egg"],
        "keywords": "small", "review": vec!["A long remark. "; 60_000]}));
    let [warning] = read.warnings.as_slice() else { panic!("{:?}", read.warnings) };
    assert_eq!(warning.code, "not-kept");
    assert!(warning.message.contains("review"), "{}", warning.message);
    assert!(read.kept.contains(&"keywords".to_owned()));
}
