//! What may stand in for an ingredient: amounts by hand, the balance as it comes out,
//! and labels that nobody has read.

use ovenbell::edit::FileChange;
use ovenbell::file::format::{IngredientShape, LessonFile, MeasureShape, PacketShape};
use ovenbell::file::{lesson_of_shapes, library};
use ovenbell::model::RecipeId;
use ovenbell::nutrition::{Loss, NUTRIENTS, Part, work_out};
use ovenbell::setup::balance::Family;
use ovenbell::speech::English;
use ovenbell::speech::allergens;
use ovenbell::stores::labels::{Stands, labels, recipe_stands};
use ovenbell::substitute::words::NO_ADVICE;
use ovenbell::substitute::{Goes, Job, PutIn, Substitution, TABLE, jobs, substitutions};

fn lesson(recipe: &str) -> LessonFile {
    library::lesson_of(library::recipe(recipe).unwrap().unwrap()).unwrap()
}

/// What may stand in for an ingredient of the lesson's first recipe.
fn of(file: &LessonFile, ingredient: &str) -> Vec<Substitution> {
    let all = &file.recipes[0].ingredients;
    let place = all.iter().position(|i| i.name == ingredient).unwrap();
    substitutions(file, 0, place)
}

fn amounts(all: &[IngredientShape]) -> Vec<(&str, f64, Option<MeasureShape>)> {
    all.iter().map(|i| (i.name.as_str(), i.amount, i.unit)).collect()
}

fn with<'a>(all: &'a [Substitution], name: &str) -> &'a Substitution {
    all.iter().find(|of| of.goes_in.iter().any(|i| i.name == name)).unwrap()
}

/// The figures by hand: to an egg of 50 g seven grams of flax and three tablespoons of
/// water; to 100 g of self-raising flour five of baking powder.
#[test]
fn amounts_go_by_what_they_stand_in_for() {
    let file = lesson("Harbour lemon traybake");
    let eggs = file.recipes[0].ingredients.iter().find(|i| i.name == "eggs").unwrap().amount;
    let all = of(&file, "eggs");
    let flax = with(&all, "ground flax");
    let ml = Some(MeasureShape::Millilitre);
    assert_eq!(
        amounts(&flax.goes_in),
        [("ground flax", (7.0 * eggs).round(), None), ("water", 45.0 * eggs, ml)]
    );
    assert_eq!(flax.swap.minutes.map(|(least, most, _)| (least, most)), Some((5.0, 10.0)));
    assert!(flax.swap.no_longer.contains(&Job::HoldsAir));
    let flour = file.recipes[0].ingredients.iter().find(|i| i.name == "self-raising flour");
    let grams = flour.unwrap().amount;
    let all = of(&file, "self-raising flour");
    let plain = with(&all, "plain flour");
    assert_eq!(plain.goes_in[0].amount, (0.95 * grams).round());
    // Baking powder is in it already: there is more of it then, in one line.
    let powder = |file: &LessonFile| -> Vec<f64> {
        let all = file.recipes[0].ingredients.iter();
        all.filter(|i| i.name == "baking powder").map(|i| i.amount).collect()
    };
    let change = PutIn { recipe: 0, ingredient: "self-raising flour", swap: plain.swap };
    assert_eq!(change.label(), "plain flour and baking powder instead of self-raising flour");
    let made = change.made(&file).unwrap();
    let (before, after) = (powder(&file), powder(&made));
    assert_eq!(after.len(), 1);
    assert!((after[0] - before[0] - 0.05 * grams).abs() <= 0.5, "{before:?} {after:?}");
    assert!(change.made(&made).is_err(), "it is no longer in it");
}

/// Oil brings the fat that butter had, by the table of foods.
#[test]
fn oil_has_the_fat_of_the_butter_it_stands_in_for() {
    let fat = |name: &str| {
        let all = [Part { name: name.to_owned(), grams: Some(100.0), by_volume: false }];
        let worked = work_out(name, &all, Loss::entered(0.0), None).unwrap();
        let fat = NUTRIENTS.iter().position(|of| of.name == "fat").unwrap();
        worked.batch[fat].amount
    };
    let each = TABLE.iter().flat_map(|swap| swap.goes_in).find_map(|goes| match goes {
        Goes::In { name: "sunflower oil", each, .. } => Some(*each),
        _ => None,
    });
    let wanted = fat("butter") / fat("sunflower oil");
    assert!((each.unwrap() - wanted).abs() < 0.01, "{wanted}");
}

#[test]
fn nothing_stands_in_where_the_mixture_hangs_on_it() {
    let sponge = lesson("Skylight sponge");
    assert!(of(&sponge, "eggs").is_empty(), "eggs are its lift");
    let less_sugar =
        |all: &[Substitution]| all.iter().any(|of| matches!(of.swap.goes_in, [Goes::LessOfIt(_)]));
    assert!(!less_sugar(&of(&sponge, "caster sugar")));
    assert!(less_sugar(&of(&lesson("Harbour lemon traybake"), "caster sugar")));
    let rolls = lesson("Harbour rolls");
    let flour = of(&rolls, "strong white flour");
    assert!(flour.iter().all(|of| of.goes_in.iter().all(|i| !i.name.contains("without gluten"))));
    assert!(!flour.is_empty());
}

#[test]
fn the_balance_is_told_before_and_after() {
    let file = lesson("Harbour lemon traybake");
    let all = of(&file, "eggs");
    let flax = &with(&all, "ground flax").comes_to;
    assert_eq!(flax.family.0, Some(Family::LowSugarCake));
    let egg = flax.parts.iter().find(|part| part.what == "egg").unwrap();
    assert!(egg.before > 50.0 && egg.after == 0.0, "{egg:?}");
    let told = with(&all, "ground flax").told().join("\n");
    assert!(told.contains("egg 0 instead of") && told.contains("Minutes: 5 to 10 more"), "{told}");
    assert_eq!(jobs("Self-raising flour", file.recipes[0].ingredients[0].role).len(), 2);
}

/// A label that was read is no label of what comes in.
#[test]
fn what_comes_in_has_a_label_that_nobody_has_read() {
    let mut file = lesson("Harbour lemon traybake");
    for i in 0..file.recipes[0].ingredients.len() {
        let of = file.recipes[0].ingredients[i].name.clone();
        file.packets.push(PacketShape {
            of,
            names: Some(Vec::new()),
            read_by: "KT".into(),
            ..PacketShape::default()
        });
    }
    file.recipes[0].ingredients.iter_mut().for_each(|i| i.allergens = None);
    file.groups[0].needs = vec!["made without egg".into()];
    let stands = |file: &LessonFile| -> Vec<Stands> {
        let lesson = lesson_of_shapes(file, &[]).unwrap();
        let labels = labels(&lesson, RecipeId(0));
        let law = allergens::list(English::British);
        law.allergens.iter().map(|a| recipe_stands(&labels, a)).collect()
    };
    assert!(stands(&file).iter().all(|s| *s == Stands::NotNamed));
    let all = of(&file, "eggs");
    let flax = with(&all, "ground flax");
    assert_eq!(flax.comes_to.not_read, ["ground flax", "water"]);
    assert_eq!(flax.comes_to.concerns, [file.groups[0].name.clone()]);
    let made = PutIn { recipe: 0, ingredient: "eggs", swap: flax.swap }.made(&file).unwrap();
    assert!(stands(&made).iter().all(|s| *s == Stands::NotKnown));
    // A label of it that was read stays read.
    let mut read = file.clone();
    for of in ["ground flax", "water"] {
        let names = Some(Vec::new());
        read.packets.push(PacketShape { of: of.into(), names, ..PacketShape::default() });
    }
    assert!(with(&of(&read, "eggs"), "ground flax").comes_to.not_read.is_empty());
}

/// Every row that fits a recipe of the library leaves a lesson of it, says where its
/// figures come from, and promises nothing.
#[test]
fn every_row_can_be_put_in_and_promises_nothing() {
    let mut rows = 0;
    for recipe in library::recipes().unwrap() {
        let file = library::lesson_of(recipe.clone()).unwrap();
        for (place, ingredient) in recipe.ingredients.iter().enumerate() {
            for of in substitutions(&file, 0, place) {
                rows += 1;
                let change = PutIn { recipe: 0, ingredient: &ingredient.name, swap: of.swap };
                let made = change.made(&file).unwrap();
                let lesson = lesson_of_shapes(&made, &[]);
                assert!(lesson.is_ok(), "{}: {:?}", change.label(), lesson.err());
                let told = format!("{} {NO_ADVICE}", of.told().join(" ")).to_lowercase();
                assert!(told.contains("figures: ") && told.contains("in the bake: "), "{told}");
                for word in ["safe", "free from", "gluten-free", "egg-free", "suitable"] {
                    assert!(!told.contains(word), "{word}: {told}");
                }
            }
        }
    }
    assert!(rows > 20, "{rows}");
}
