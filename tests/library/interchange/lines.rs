//! Lines of ingredients: the amount is right, or the line is marked.

use serde_json::json;

use super::of;
use ovenbell::file::format::MeasureShape::{
    self, Egg, Kilogram, Litre, Millilitre, Ounce, Pound, Tablespoon, Teaspoon, UsCup,
};
use ovenbell::interchange::Line;

fn lines(texts: &[&str]) -> Vec<Line> {
    of(&json!({"@type": "Recipe", "name": "x", "recipeIngredient": texts})).lines
}

fn line(text: &str) -> Line {
    lines(&[text]).remove(0)
}

/// Lines whose amounts are certain: nothing is marked.
#[test]
fn amounts_that_are_certain_are_read_unmarked() {
    let cases: &[(&str, f64, Option<MeasureShape>, &str)] = &[
        ("200 g plain flour", 200.0, None, "plain flour"),
        ("200g plain flour", 200.0, None, "plain flour"),
        ("200 grams of plain flour", 200.0, None, "plain flour"),
        ("200-g plain flour", 200.0, None, "plain flour"),
        ("0.5 kg potatoes", 0.5, Some(Kilogram), "potatoes"),
        ("1,5 kg potatoes", 1.5, Some(Kilogram), "potatoes"),
        ("8 oz. butter, softened", 8.0, Some(Ounce), "butter, softened"),
        ("1 lb carrots", 1.0, Some(Pound), "carrots"),
        ("1½ lbs carrots", 1.5, Some(Pound), "carrots"),
        ("1½ tsp baking powder", 1.5, Some(Teaspoon), "baking powder"),
        ("1 1/2 tsp baking powder", 1.5, Some(Teaspoon), "baking powder"),
        ("1 ½ tsp baking powder", 1.5, Some(Teaspoon), "baking powder"),
        ("1-1/2 teaspoons baking powder", 1.5, Some(Teaspoon), "baking powder"),
        ("1 and 1/2 teaspoons baking powder", 1.5, Some(Teaspoon), "baking powder"),
        ("½ teaspoon salt", 0.5, Some(Teaspoon), "salt"),
        ("1⁄2 tsp salt", 0.5, Some(Teaspoon), "salt"),
        ("&frac12; tsp salt", 0.5, Some(Teaspoon), "salt"),
        ("half a teaspoon of salt", 0.5, Some(Teaspoon), "salt"),
        ("a teaspoon of salt", 1.0, Some(Teaspoon), "salt"),
        ("2 level tbsp milk", 2.0, Some(Tablespoon), "milk"),
        ("2 Tbsp. milk", 2.0, Some(Tablespoon), "milk"),
        ("250 ml milk", 250.0, Some(Millilitre), "milk"),
        ("120ml/8 tbsp milk", 120.0, Some(Millilitre), "milk"),
        ("2 dl milk", 200.0, Some(Millilitre), "milk"),
        ("1 litre stock", 1.0, Some(Litre), "stock"),
        ("1 US cup milk", 1.0, Some(UsCup), "milk"),
        ("2 eggs", 2.0, Some(Egg), "eggs"),
        ("2 medium free-range eggs, beaten", 2.0, Some(Egg), "medium free-range eggs, beaten"),
        ("1 egg", 1.0, Some(Egg), "egg"),
        ("an egg", 1.0, Some(Egg), "egg"),
        ("Two eggs", 2.0, Some(Egg), "eggs"),
        ("100g/4oz butter", 100.0, None, "butter"),
        ("4 oz/100 g butter", 100.0, None, "butter"),
        ("4 oz (100 g) butter", 100.0, None, "butter"),
        ("100 g (4 oz) butter", 100.0, None, "butter"),
        ("100 g (about 4 oz) butter", 100.0, None, "butter"),
        ("1 cup (125 g) flour", 125.0, None, "flour"),
        ("½ cup/120 ml milk", 120.0, Some(Millilitre), "milk"),
        ("1 lb 2 oz/500g flour", 500.0, None, "flour"),
        ("1 kg 200 g flour", 1200.0, None, "flour"),
        ("1 tbsp plus 1 tsp milk", 20.0, Some(Millilitre), "milk"),
        ("1 x 7g sachet fast-action yeast", 7.0, None, "fast-action yeast"),
        ("2 x 7 g sachets dried yeast", 14.0, None, "dried yeast"),
        ("7g sachet dried yeast", 7.0, None, "dried yeast"),
        ("1 (8-ounce) package cream cheese", 8.0, Some(Ounce), "cream cheese"),
        ("1 onion (150 g)", 150.0, None, "onion"),
        ("4 chops (150 g each)", 600.0, None, "chops"),
        ("Butter 100 g", 100.0, None, "Butter"),
        ("Butter: 100g", 100.0, None, "Butter"),
        ("butter (100 g)", 100.0, None, "butter"),
        ("flour (type 00), 500 g", 500.0, None, "flour (type 00)"),
        ("1 packet (10 g) baking powder", 10.0, None, "baking powder"),
        ("1 packet baking powder (10 g)", 10.0, None, "baking powder"),
        ("15 grammes yeast", 15.0, None, "yeast"),
        ("1 dozen eggs", 12.0, Some(Egg), "eggs"),
        ("half a dozen eggs", 6.0, Some(Egg), "eggs"),
        ("chocolate, 2 x 100 g", 200.0, None, "chocolate"),
        ("dried yeast: 2 (7 g each)", 14.0, None, "dried yeast"),
        ("flour – 200 g", 200.0, None, "flour"),
        ("1lb 2oz flour", 18.0, Some(Ounce), "flour"),
        ("250 g/9 oz/2 cups flour", 250.0, None, "flour"),
        ("1 (.25 ounce) package yeast", 0.25, Some(Ounce), "yeast"),
        ("3 tbsp. + 1 tsp. water", 50.0, Some(Millilitre), "water"),
        ("100g (3½oz) dark chocolate (70% cocoa)", 100.0, None, "dark chocolate (70% cocoa)"),
        ("• 200 g sugar", 200.0, None, "sugar"),
        ("- 200 g sugar", 200.0, None, "sugar"),
        ("▢ 200 g  sugar ", 200.0, None, "sugar"),
        ("<b>200 g</b> caster sugar", 200.0, None, "caster sugar"),
        ("200\u{a0}g caster sugar", 200.0, None, "caster sugar"),
        ("٢٠٠ g flour", 200.0, None, "flour"),
        ("⅓ US cup water", 0.333333, Some(UsCup), "water"),
    ];
    for (text, amount, unit, name) in cases {
        let line = line(text);
        assert_eq!((line.amount, line.unit), (Some(*amount), *unit), "{text}: {line:?}");
        assert_eq!(line.name, *name, "{text}");
        assert!(line.doubts.is_empty(), "{text}: {:?}", line.doubts);
    }
}

/// Lines that are unsure: whatever is taken is marked, with the words for it.
#[test]
fn what_is_unsure_is_marked_and_says_what_was_taken() {
    let cases: &[(&str, Option<f64>, Option<MeasureShape>, &str)] = &[
        ("2–3 eggs", Some(2.0), Some(Egg), "the less is taken"),
        ("2-3 tbsp milk", Some(2.0), Some(Tablespoon), "2 to 3"),
        ("2 to 3 tbsp milk", Some(2.0), Some(Tablespoon), "the less"),
        ("100-150 g sugar", Some(100.0), None, "100 to 150"),
        ("100 g to 150 g sugar", Some(100.0), None, "100 to 150"),
        ("a pinch of salt", None, None, "\"pinch\" does not say how much"),
        ("Pinch of salt", None, None, "no amount"),
        ("salt to taste", None, None, "no amount"),
        ("1 lemon", None, None, "by number"),
        ("½ lemon", None, None, "by number"),
        ("half a lemon", None, None, "by number"),
        ("2 egg yolks", None, None, "no whole egg"),
        ("1 egg white", None, None, "no whole egg"),
        ("2 large eggs", Some(2.0), Some(Egg), "size L"),
        ("1 x 400g tin chopped tomatoes", Some(400.0), None, "drained"),
        ("2 x 400 g tins tomatoes", Some(800.0), None, "drained"),
        ("a 400g tin of tomatoes", Some(400.0), None, "drained"),
        ("1 tin tomatoes", None, None, "\"tin\" does not say how much"),
        ("1 cup milk", Some(1.0), Some(UsCup), "US one"),
        ("1 cup plain flour", Some(1.0), Some(UsCup), "125 g"),
        ("2 tbsp cocoa", Some(2.0), Some(Tablespoon), "weigh it"),
        ("5 fl oz milk", Some(142.065313), Some(Millilitre), "UK one"),
        ("1 pint milk", Some(568.26125), Some(Millilitre), "US one"),
        ("1 stick butter", Some(113.398093), None, "a stick"),
        ("about 200 g sugar", Some(200.0), None, "about"),
        ("2 heaped tbsp milk", Some(2.0), Some(Tablespoon), "heaped"),
        ("1,000 g flour", Some(1000.0), None, "comma"),
        ("100 g/8 oz butter", Some(100.0), None, "differ"),
        ("200 g flour, plus extra for dusting", Some(200.0), None, "more of it"),
        ("50 g walnuts (optional)", Some(50.0), None, "left out"),
        ("200 g flour plus 1 tbsp for the tin", Some(200.0), None, "another amount"),
        ("500 g or more apples", Some(500.0), None, "may be more"),
        ("1 egg + 1 egg yolk", Some(1.0), Some(Egg), "another amount"),
        ("1 egg plus one yolk", Some(1.0), Some(Egg), "another amount"),
        ("200 g flour and a pinch of salt", Some(200.0), None, "another amount"),
        ("175g sugar, plus 1 tbsp for the top", Some(175.0), None, "another amount"),
        ("2 packets (10 g) yeast", Some(10.0), None, "all together"),
        ("Eggs: 3", None, None, "no amount"),
        ("1-2 x 400g jars beans", Some(400.0), None, "1 to 2: the less"),
        ("about 2 x 7 g sachets yeast", Some(14.0), None, "about"),
        ("1-2 onions (150 g)", Some(150.0), None, "1 to 2: the less"),
        ("150 g each of butter and sugar", Some(150.0), None, "each"),
        ("size 2 eggs: 100 g", Some(100.0), None, "another figure"),
        ("½ x 400g tin milk", Some(200.0), None, "drained"),
        ("3 bananas (300 g)", Some(300.0), None, "all together"),
        ("-50 g flour", None, None, "below nought"),
        ("−50 g flour", None, None, "below nought"),
        ("0 g flour", None, None, "cannot be"),
        ("200000 g flour", None, None, "cannot be"),
        ("200 g", Some(200.0), None, "of what"),
        ("70% dark chocolate", None, None, "by number"),
        ("200 גרם קמח", None, None, "by number"),
        ("cinnamon", None, None, "no amount"),
    ];
    for (text, amount, unit, why) in cases {
        let line = line(text);
        assert_eq!((line.amount, line.unit), (*amount, *unit), "{text}: {line:?}");
        assert!(line.doubts.iter().any(|d| d.contains(why)), "{text}: {:?}", line.doubts);
    }
}

#[test]
fn nothing_measured_is_taken_where_it_is_another_thing() {
    for (text, name) in [
        ("12 paper cases", "paper cases"),
        ("12 x paper cases", "paper cases"),
        ("6 chocolate eggs", "chocolate eggs"),
        ("3 cloves of garlic", "garlic"),
        ("1 vanilla pod", "vanilla pod"),
    ] {
        let line = line(text);
        assert_eq!((line.amount, line.name.as_str()), (None, name), "{text}");
        assert!(!line.doubts.is_empty());
    }
}

#[test]
fn long_names_are_cut_and_told() {
    let line = line(&format!("200 g {}", "flour ".repeat(80)));
    assert_eq!(line.amount, Some(200.0));
    assert!(line.name.chars().count() <= 200 && line.name.ends_with('…'));
    assert!(line.doubts.iter().any(|d| d.contains("is cut")));
}
