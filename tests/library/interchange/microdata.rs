//! Recipes that pages tell in their markup alone.

use super::{amounts, is_marked, of_text, steps};
use ovenbell::interchange::{Source, Wanted, read};

fn page(name: &str) -> String {
    format!(
        "<section itemscope itemtype=\"http://schema.org/Recipe\">
           <h2 itemprop=\"name\">{name}</h2>
           <p>by <span itemprop=\"author\" itemscope itemtype=\"http://schema.org/Person\"
             ><span itemprop=\"name\">K. T.</span></span>
           <time itemprop=\"cookTime\" datetime=\"PT14M\">14 min</time>
           <ul>
             <li itemprop=\"recipeIngredient\"><b>200 g</b> flour &amp; salt</li>
             <li itemprop=\"recipeIngredient\">2&ndash;3 eggs
           </ul>
           <ol><li itemprop=\"recipeInstructions\">Mix all.</li>
             <li itemprop=\"recipeInstructions\" itemscope itemtype=\"http://schema.org/HowToStep\"
               ><span itemprop=\"text\">Bake for 14 minutes.</span></li></ol>
         </section>"
    )
}

#[test]
fn a_page_without_json_ld_is_read_by_its_markup() {
    let read = of_text(&format!("<!doctype html><html><body>{}", page("Buns")));
    assert_eq!(read.recipe.name, "Buns");
    let told: Vec<(&str, f64)> = amounts(&read.recipe).iter().map(|a| (a.0, a.1)).collect();
    assert_eq!(told, [("flour & salt", 200.0), ("eggs", 2.0)]);
    assert_eq!(steps(&read.recipe), ["Mix all.", "Bake for 14 minutes."]);
    assert!(is_marked(&read.recipe, "2 to 3: the less is taken"));
    assert_eq!(read.times.cook, Some(14.0));
    assert!(read.recipe.jsonld.unwrap().contains("K. T."), "what else it tells is kept");
}

#[test]
fn json_ld_is_read_before_markup() {
    let block = "<script type=\"application/ld+json\">{\"@type\": \"Recipe\", \"name\": \"Loaf\", \
                 \"recipeIngredient\": [\"1 egg\"]}</script>";
    let text = format!("<html>{block}{}", page("Buns"));
    assert_eq!(of_text(&text).recipe.name, "Loaf");
    // A block that tells of no recipe does not keep the markup from being read.
    let other = "<script type=\"application/ld+json\">{\"@type\": \"WebSite\"}</script>";
    assert_eq!(of_text(&format!("<html>{other}{}", page("Buns"))).recipe.name, "Buns");
}

#[test]
fn of_a_page_with_five_recipes_one_is_asked_for() {
    let names = ["Buns", "Loaf", "Scones", "Buns", "Rolls"];
    let text: String = names.iter().map(|name| page(name)).collect();
    let text = text.replacen("200 g", "100 g", 1);
    assert_eq!(read(&text, None).unwrap_err()[0].code, "several-recipes");
    assert_eq!(read(&text, Some("loaf")).unwrap().recipe.name, "Loaf");
    let source = || Source::of(&text).unwrap();
    assert_eq!(source().names(), names);
    let by_place = source().read(Wanted::At(3)).unwrap();
    assert_eq!(
        (by_place.recipe.name.as_str(), by_place.recipe.ingredients[0].amount),
        ("Buns", 200.0)
    );
    assert_eq!(source().read(Wanted::At(5)).unwrap_err()[0].code, "unknown-name");
}
