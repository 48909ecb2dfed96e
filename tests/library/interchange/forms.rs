//! Forms in which recipes are told on pages and by programs: each a document
//! of its own that copies a variety of shapes and nobody's words.

use serde_json::{Value, json};

use super::{amounts, is_marked, of, of_text, steps};
use ovenbell::file::format::MeasureShape::{Egg, Millilitre, Teaspoon};
use ovenbell::interchange::read;

const LINES: [&str; 3] = ["200 g flour", "2 eggs", "1 tsp baking powder"];
const STEPS: [&str; 2] = ["Mix all.", "Cool on a rack."];

/// The same recipe, however it is told.
fn is_the_recipe(document: &Value) {
    is_the_recipe_of(&document.to_string());
}

fn is_the_recipe_of(text: &str) {
    let read = of_text(text);
    assert_eq!(read.recipe.name, "Buns", "{text}");
    let wanted =
        [("flour", 200.0, None), ("eggs", 2.0, Some(Egg)), ("baking powder", 1.0, Some(Teaspoon))];
    assert_eq!(amounts(&read.recipe), wanted, "{text}");
    assert_eq!(steps(&read.recipe), STEPS, "{text}");
    assert!(read.lines.iter().all(|line| line.doubts.is_empty()), "{text}: {:?}", read.lines);
    assert!(read.warnings.is_empty(), "{text}: {:?}", read.warnings);
}

fn recipe(changes: &[(&str, Value)]) -> Value {
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": "Buns",
        "recipeIngredient": LINES,
        "recipeInstructions": STEPS,
    });
    for (field, value) in changes {
        recipe[*field] = value.clone();
    }
    recipe
}

#[test]
fn the_type_may_be_written_in_many_ways() {
    for kind in [
        json!("Recipe"),
        json!(["Recipe"]),
        json!(["NewsArticle", "Recipe"]),
        json!("https://schema.org/Recipe"),
        json!("http://schema.org/Recipe"),
        json!("schema:Recipe"),
    ] {
        is_the_recipe(&recipe(&[("@type", kind)]));
    }
    let mut alias = recipe(&[("type", json!("Recipe"))]);
    alias.as_object_mut().unwrap().remove("@type");
    is_the_recipe(&alias);
}

#[test]
fn the_recipe_may_stand_anywhere() {
    let one = recipe(&[]);
    let page = json!({"@type": "WebPage", "name": "A page"});
    for document in [
        json!([one]),
        json!([page, one]),
        json!({"@context": "https://schema.org", "@graph": [page, {"@type": "Person"}, one]}),
        json!([{"@graph": [page]}, {"@graph": [one]}]),
        json!({"@type": "WebPage", "mainEntity": one}),
        json!({"@type": "Article", "hasPart": [{"@type": "ImageObject"}, one]}),
        json!({"@type": "ItemList", "itemListElement": [
            {"@type": "ListItem", "position": 1, "item": one}]}),
        // The same recipe twice is one.
        json!([one, {"@graph": [one]}]),
        // Others are only mentioned.
        json!([one, {"@type": "Recipe", "name": "Loaf", "url": "https://example.org/loaf"}]),
    ] {
        is_the_recipe(&document);
    }
}

#[test]
fn a_page_holds_it_in_a_script() {
    let one = recipe(&[]).to_string();
    let page = json!({"@type": "WebSite", "name": "<script>"}).to_string();
    let script = |kind: &str, text: &str| format!("<script {kind}>{text}</script>");
    let ld = "type=\"application/ld+json\"";
    for text in [
        format!("<!doctype html><html><head>{}</head></html>", script(ld, &one)),
        format!("\u{feff}\n<html>{}{}", script(ld, &page), script(ld, &one)),
        format!("<HTML><body><p>Buns & tea{}", script("type='application/LD+JSON' id=x", &one)),
        format!("<html>{}{}", script("", "var a = '</p>';"), script(ld, &format!("\n{one};\n"))),
        format!("<html>{}", script(ld, &format!("<!-- {one} -->"))),
        format!("<html>{}", script(ld, &format!("//<![CDATA[\n{one}\n//]]>"))),
        format!("<html>{}", script("type=application/ld+json;charset=utf-8", &one)),
        format!("<html><!-- {} -->{}", script(ld, "{}"), script(ld, &one)),
    ] {
        is_the_recipe_of(&text);
    }
}

#[test]
fn a_block_that_is_no_json_is_told_and_left_aside() {
    let text = format!(
        "<html><script type=\"application/ld+json\">{{oops</script>\
         <script type=\"application/ld+json\">{}</script>",
        recipe(&[])
    );
    let read = of_text(&text);
    assert_eq!(read.recipe.name, "Buns");
    let [warning] = read.warnings.as_slice() else { panic!("{:?}", read.warnings) };
    assert_eq!((warning.code, warning.path.to_string().as_str()), ("not-json", "script[0]"));
}

#[test]
fn lines_that_end_within_a_text_are_read_as_they_are_meant() {
    let text = recipe(&[("description", json!("a§b"))]).to_string().replace('§', "\n\t");
    assert!(serde_json::from_str::<Value>(&text).is_err(), "JSON does not allow it");
    is_the_recipe_of(&text);
}

#[test]
fn ingredients_come_in_many_shapes() {
    for lines in [
        json!("200 g flour\n2 eggs\r\n1 tsp baking powder"),
        json!([["200 g flour", "2 eggs"], ["1 tsp baking powder"]]),
        json!([" 200 g flour ", "", null, "2 eggs\n", "<li>1 tsp baking powder</li>"]),
        json!("<ul><li>200 g flour</li><li>2 eggs</li><li>1 tsp baking powder</li></ul>"),
        json!({"@type": "ItemList", "itemListElement": LINES}),
        json!([{"@type": "ListItem", "item": "200 g flour"}, "2 eggs", "1 tsp baking powder"]),
        json!([{"@value": "200 g flour", "@language": "en"}, "2 eggs", "1 tsp baking powder"]),
        json!([
            {"@type": "PropertyValue", "name": "flour", "value": 200, "unitCode": "GRM"},
            {"@type": "PropertyValue", "name": "eggs", "value": "2", "unitCode": "C62"},
            {"@type": "PropertyValue", "name": "baking powder", "value": 1, "unitText": "tsp"},
        ]),
        json!([
            {"@type": "HowToSupply", "name": "flour",
             "requiredQuantity": {"@type": "QuantitativeValue", "value": 200, "unitText": "g"}},
            {"@type": "HowToSupply", "name": "eggs", "requiredQuantity": 2},
            {"@type": "HowToSupply", "name": "1 tsp baking powder"},
        ]),
    ] {
        is_the_recipe(&recipe(&[("recipeIngredient", lines)]));
    }
    let mut old = recipe(&[("ingredients", json!(LINES))]);
    old.as_object_mut().unwrap().remove("recipeIngredient");
    is_the_recipe(&old);
}

#[test]
fn a_range_that_stands_apart_is_a_range() {
    let lines = json!([{"@type": "HowToSupply", "name": "milk", "requiredQuantity":
        {"@type": "QuantitativeValue", "minValue": 90, "maxValue": 110, "unitCode": "MLT"}}]);
    let read = of(&recipe(&[("recipeIngredient", lines)]));
    assert_eq!(amounts(&read.recipe), [("milk", 90.0, Some(Millilitre))]);
    assert!(is_marked(&read.recipe, "90 to 110: the less is taken"));
}

#[test]
fn headings_among_ingredients_are_told_and_left_out() {
    let lines = json!(["For the buns:", "200 g flour", "For the top:", "50 g icing sugar"]);
    let read = of(&recipe(&[("recipeIngredient", lines)]));
    assert_eq!(amounts(&read.recipe), [("flour", 200.0, None), ("icing sugar", 50.0, None)]);
    assert!(read.recipe.review.iter().any(|of| of.text == "For the top:"));
}

#[test]
fn instructions_come_in_many_shapes() {
    let step = |text: &str| json!({"@type": "HowToStep", "text": text});
    for told in [
        json!("Mix all.\nCool on a rack."),
        json!("1. Mix all.\n\n2. Cool on a rack."),
        json!("<p>Mix all.</p><p>Cool on a rack.</p>"),
        json!("<ol><li>Mix all.</li><li>Cool on a rack.</li></ol>"),
        json!("Mix all.<br />Cool on a rack."),
        json!(["Step 1: Mix all.", "Step 2: Cool on a rack."]),
        json!([["Mix all."], ["Cool on a rack."]]),
        json!([step("Mix all."), step("Cool on a rack.")]),
        json!([step("Mix all."), "Cool on a rack."]),
        json!({"@type": "ItemList", "itemListElement": [step("Mix all."), step("Cool on a rack.")]}),
        json!([{"@type": "HowToStep", "name": "Mix all."}, {"@type": "HowToStep",
            "description": "Cool on a rack."}]),
        json!([{"@type": "HowToStep", "position": 2, "text": "Cool on a rack."},
            {"@type": "HowToStep", "position": "1", "text": "Mix all."}]),
        json!([{"@type": "HowToSection", "name": "All", "itemListElement":
            [step("Mix all."), step("Cool on a rack.")]}]),
        json!([{"@type": "HowToSection", "itemListElement": [step("Mix all.")]},
            {"@type": "HowToSection", "itemListElement": "Cool on a rack."}]),
        json!([{"@type": ["HowToStep"], "itemListElement":
            {"@type": "HowToDirection", "text": "Mix all."}}, step("Cool on a rack.")]),
        json!([{"@type": "ListItem", "position": 1, "item": step("Mix all.")},
            {"@type": "ListItem", "position": 2, "item": step("Cool on a rack.")}]),
        json!({"@type": "CreativeWork", "text": "Mix all."})
            .as_object()
            .map(|work| json!([work, "Cool on a rack."]))
            .unwrap(),
    ] {
        is_the_recipe(&recipe(&[("recipeInstructions", told)]));
    }
}

#[test]
fn steps_that_stand_elsewhere_are_found_by_their_address() {
    let document = json!({"@graph": [
        recipe(&[("recipeInstructions", json!([{"@id": "#mix"}, {"@id": "#cool"}]))]),
        {"@type": "HowToStep", "@id": "#cool", "text": "Cool on a rack."},
        {"@type": "HowToStep", "@id": "#mix", "text": "Mix all."},
    ]});
    is_the_recipe(&document);
}

#[test]
fn names_are_taken_as_they_are_meant() {
    for name in [
        json!("Buns"),
        json!(["Buns", "Kleine Kuchen"]),
        json!({"@value": "Buns", "@language": "en"}),
        json!("  <b>Buns</b>\n"),
        json!("B&#117;ns"),
    ] {
        is_the_recipe(&recipe(&[("name", name)]));
    }
    let mut headline = recipe(&[("headline", json!("Buns"))]);
    headline.as_object_mut().unwrap().remove("name");
    is_the_recipe(&headline);
    headline.as_object_mut().unwrap().remove("headline");
    let read = of(&headline);
    assert!(is_marked(&read.recipe, "has no name"));
}

#[test]
fn times_are_read_or_told() {
    let read = of(&recipe(&[
        ("prepTime", json!("PT1H5M")),
        ("cookTime", json!("PT-25M")),
        ("totalTime", json!(["P0DT1H30M"])),
    ]));
    assert_eq!(read.times.prep, Some(65.0));
    assert_eq!(read.times.cook, None);
    assert_eq!(read.times.total, Some(90.0));
    assert!(is_marked(&read.recipe, "cookTime is no length of time"));
    let read = of(&recipe(&[("cookTime", json!("25 minutes")), ("prepTime", json!(""))]));
    assert!(is_marked(&read.recipe, "cookTime is no length of time"));
    assert!(!is_marked(&read.recipe, "prepTime"));
}

#[test]
fn what_is_said_of_the_oven_is_a_suggestion() {
    let steps = |texts: &[&str]| recipe(&[("recipeInstructions", json!(texts))]);
    let read = of(&steps(&[
        "Heat the oven to 180C/160C fan/gas 4 and line a 20cm square tin.",
        "Mix for 3 minutes.",
        "Bake for 20-25 minutes.",
        "Leave to cool.",
    ]));
    let [tin] = read.recipe.tins.as_slice() else { panic!("{:?}", read.recipe.tins) };
    assert_eq!((tin.tin.as_str(), tin.celsius), ("20 cm square tin", Some(180.0)));
    // Another tin than the library's, and two temperatures: told, not taken.
    let read = of(&steps(&[
        "Heat the oven to 220 °C. Grease a 23 cm springform tin.",
        "Bake for 10 minutes, then at 180 °C for 30 minutes.",
    ]));
    assert!(read.recipe.tins.is_empty());
    for why in
        ["no tin is named that the library knows", "one of several temperatures", "which are"]
    {
        assert!(is_marked(&read.recipe, why), "{why}: {:?}", read.recipe.review);
    }
    // Two bakes: neither is taken.
    let read = of(&steps(&["Bake blind for 10 minutes.", "Fill and bake for 20 minutes."]));
    assert!(is_marked(&read.recipe, "several steps speak of baking"));
    assert!(read.recipe.tins.is_empty());
}

#[test]
fn one_of_several_recipes_is_asked_for_by_its_name() {
    let five: Vec<Value> =
        (1..=5).map(|n| recipe(&[("name", json!(format!("Buns {n}")))])).collect();
    let text = json!({"@graph": five}).to_string();
    let findings = read(&text, None).unwrap_err();
    assert_eq!(findings[0].code, "several-recipes");
    assert!(findings[0].message.contains("\"Buns 1\", \"Buns 2\""), "{}", findings[0].message);
    assert_eq!(read(&text, Some("buns 3")).unwrap().recipe.name, "Buns 3");
    let findings = read(&text, Some("Loaf")).unwrap_err();
    assert_eq!(findings[0].code, "unknown-name");
}
