//! The shapes of the examples on schema.org's own page of Recipe: the fields
//! and types are the standard's, the recipes are not.

use serde_json::json;

use super::{amounts, is_marked, of, steps};
use ovenbell::file::format::{MeasureShape, StatedMinutes, StepKindShape};

/// One thing with a plain text of instructions.
#[test]
fn a_recipe_whose_method_is_one_text() {
    let read = of(&json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "author": "A. Harbour",
        "cookTime": "PT1H",
        "datePublished": "2026-05-08",
        "description": "A loaf from the school's own kitchen.",
        "image": "loaf.jpg",
        "recipeIngredient": ["3 or 4 apples", "1 egg", "3/4 US cup of sugar"],
        "interactionStatistic": {
            "@type": "InteractionCounter",
            "interactionType": "https://schema.org/Comment",
            "userInteractionCount": "140"
        },
        "name": "Apple loaf",
        "nutrition": {"@type": "NutritionInformation", "calories": "240 calories"},
        "prepTime": "PT15M",
        "recipeInstructions": "Heat the oven to 180C. Mix all in a bowl. Bake for one hour.",
        "recipeYield": "1 loaf",
        "suitableForDiet": "https://schema.org/LowFatDiet"
    }));
    let recipe = &read.recipe;
    assert_eq!(recipe.name, "Apple loaf");
    assert_eq!(
        amounts(recipe),
        [
            ("apples", 0.0, None),
            ("egg", 1.0, Some(MeasureShape::Egg)),
            ("sugar", 0.75, Some(MeasureShape::UsCup)),
        ]
    );
    assert!(is_marked(recipe, "by number") && is_marked(recipe, "part it into steps"));
    assert_eq!((read.times.prep, read.times.cook), (Some(15.0), Some(60.0)));
    assert!(read.kept.iter().any(|field| field == "suitableForDiet"));
    assert!(read.kept.iter().any(|field| field == "interactionStatistic"));
}

/// Instructions as steps, directions and tips, in sections, with times.
#[test]
fn a_recipe_of_sections_steps_directions_and_tips() {
    let read = of(&json!({
        "@context": "https://schema.org/",
        "@type": "Recipe",
        "name": "Filled buns",
        "totalTime": "PT1H10M",
        "supply": [{"@type": "HowToSupply", "name": "paper cases"}],
        "tool": [{"@type": "HowToTool", "name": "12-hole bun tray"}],
        "recipeIngredient": ["100 g self-raising flour"],
        "recipeInstructions": [
            {
                "@type": "HowToSection",
                "name": "Buns",
                "itemListElement": [
                    {
                        "@type": "HowToStep",
                        "itemListElement": [
                            {"@type": "HowToDirection", "text": "Beat everything."},
                            {"@type": "HowToTip", "text": "Soft fat is quicker."}
                        ]
                    },
                    {"@type": "HowToStep", "text": "Bake at 180C for 12 to 15 minutes."}
                ]
            },
            {
                "@type": "HowToSection",
                "name": "Filling:",
                "itemListElement": {"@type": "HowToStep", "name": "Whip",
                    "text": "Whip the cream.", "performTime": "PT4M"}
            }
        ]
    }));
    let recipe = &read.recipe;
    let wanted = [
        "Beat everything. Soft fat is quicker.",
        "Bake at 180C for 12 to 15 minutes.",
        "Whip the cream.",
    ];
    assert_eq!(steps(recipe), wanted);
    let method = &recipe.methods[0];
    let names: Vec<&str> = method.steps.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["Buns: Beat everything", "bake", "Filling: Whip"]);
    assert_eq!(method.steps[1].kind, StepKindShape::Bake);
    assert_eq!(method.steps[2].minutes, Some(StatedMinutes::Usual(4.0)));
    assert!(method.steps.iter().all(|s| s.after.is_none()), "a chain, for the teacher to link");
    let [tin] = recipe.tins.as_slice() else { panic!("{:?}", recipe.tins) };
    assert_eq!((tin.tin.as_str(), tin.celsius), ("12-hole bun tray", Some(180.0)));
    assert_eq!(tin.minutes, Some(StatedMinutes::Three(12.0, 13.5, 15.0)));
    for why in ["taken for the bake", "read as 180 °C", "measure your own", "has no minutes"] {
        assert!(is_marked(recipe, why), "{why}: {:?}", recipe.review);
    }
}
