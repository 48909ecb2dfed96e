//! What a class needs: every total is the sum of its parts, and nobody who
//! takes part is without a set.

use std::path::Path;

use ovenbell::check::CheckedPlan;
use ovenbell::edit::{Edit, FileChange, own_group};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson};
use ovenbell::model::{Attendance, Ingredient, Lesson, Measure, RecipeId};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::labels::{Stands, labels, needs, recipe_stands};
use ovenbell::stores::{
    Extra, IngredientsPage, MadeFor, OrderLine, PageOf, Stores, cost, order, told,
};
use proptest::prelude::*;

use crate::common::planned::planned;

fn demo() -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    load_lesson(&path).unwrap().lesson
}

/// The demo with other batches, and some groups left out.
fn changed(batches: &[f64], left_out: &[bool]) -> Lesson {
    let mut parts = demo().into_parts();
    let tins = parts.recipes.iter_mut().flat_map(|r| &mut r.tins);
    for (tin, batch) in tins.zip(batches) {
        tin.batch = *batch;
    }
    for (group, left_out) in parts.groups.iter_mut().zip(left_out) {
        if *left_out {
            group.attendance = Attendance::LeftOut;
        }
    }
    Lesson::new(parts).unwrap()
}

/// The figure with which an amount begins as it is told.
fn figure(told: &str) -> f64 {
    told.split_whitespace().next().unwrap().parse().unwrap()
}

/// A portion as whoever weighs it out is told; eggs are shared, and what is too little to
/// be told counts all the same.
fn portion(ingredient: &Ingredient, amount: f64) -> f64 {
    let told = figure(&told::measured(ingredient.measure, amount));
    if ingredient.measure == Measure::Egg || told == 0.0 { amount } else { told }
}

/// Reckoned another way: group by group, each by the share its tin takes.
fn by_hand(
    lesson: &Lesson,
    plan: Option<&CheckedPlan>,
    extra: Extra,
    recipe: usize,
    i: usize,
) -> f64 {
    let mut total = 0.0;
    let mut made = false;
    for id in lesson.attending().filter(|&g| lesson.group(g).recipe.0 == recipe) {
        made = true;
        let chosen = plan.and_then(|p| p.plan().choice(id)).and_then(|c| c.tin);
        let tin = chosen.or(lesson.group(id).tins.first().copied());
        let share = tin.map_or(1.0, |t| lesson.tin_choice_of(id, t).batch);
        let ingredient = &lesson.recipes[recipe].ingredients[i];
        total += portion(ingredient, share * ingredient.amount);
    }
    let more = if made { f64::from(extra.demo + extra.spare) } else { 0.0 };
    let ingredient = &lesson.recipes[recipe].ingredients[i];
    total + more * portion(ingredient, ingredient.amount)
}

fn sums_are_right(lesson: &Lesson, plan: Option<&CheckedPlan>, extra: Extra) {
    let stores = Stores::of(lesson, plan, extra);
    let mut served = 0;
    for of in &stores.recipes {
        let ingredients = &lesson.recipes[of.recipe.0].ingredients;
        assert_eq!(of.amounts.len(), ingredients.len());
        for amount in &of.amounts {
            let parts = amount.each.iter().zip(&of.sets);
            let sum: f64 = parts.map(|(each, set)| each * f64::from(set.count)).sum();
            assert!((amount.total - sum).abs() < 1e-6 * (1.0 + sum));
            let other = by_hand(lesson, plan, extra, of.recipe.0, amount.ingredient);
            assert!(
                (amount.total - other).abs() < 1e-6 * (1.0 + other),
                "{} {other}",
                amount.total
            );
            let measure = ingredients[amount.ingredient].measure;
            if let Some(eggs) = amount.whole_eggs(measure) {
                assert!(f64::from(eggs) >= amount.total - 1e-6);
                assert!(f64::from(eggs) < amount.total + 1.0);
                assert_eq!(measure, Measure::Egg);
            }
        }
        for set in &of.sets {
            if let MadeFor::Groups(_) = set.made_for {
                assert_eq!(set.count as usize, set.groups.len());
            }
            assert!(set.groups.iter().all(|&g| lesson.group(g).keep_apart == set.apart));
            served += set.groups.len();
        }
    }
    assert_eq!(served, lesson.attending().count(), "a set for each group that takes part");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn totals_are_the_sums_of_their_parts(
        batches in prop::collection::vec(0.1..4.0_f64, 5),
        left_out in prop::collection::vec(any::<bool>(), 8),
        demo in 0..3_u32,
        spare in 0..3_u32,
    ) {
        sums_are_right(&changed(&batches, &left_out), None, Extra { demo, spare });
    }

    /// Lessons ordered together want what they want apart, and whole packs are never too
    /// few nor one too many.
    #[test]
    fn orders_add_up_and_packs_are_enough(
        batches in prop::collection::vec(0.1..4.0_f64, 5),
        left_out in prop::collection::vec(any::<bool>(), 8),
        spare in 0..3_u32,
    ) {
        let extra = Extra { demo: 0, spare };
        let lessons = [demo(), changed(&batches, &left_out)];
        let stores = lessons.each_ref().map(|lesson| Stores::of(lesson, None, extra));
        let apart: Vec<OrderLine> = lessons.iter().flat_map(|l| lines_of(l, extra)).collect();
        let together = order(&[(&lessons[0], &stores[0]), (&lessons[1], &stores[1])]);
        for line in &together {
            let of_it = apart.iter().filter(|l| l.name == line.name && l.measure == line.measure);
            let sum: f64 = of_it.map(OrderLine::total).sum();
            prop_assert!((line.total() - sum).abs() < 1e-6, "{line:?}: {sum}");
            let packs = line.packs().into_iter();
            for (packs, (holds, _)) in packs.zip(line.packet.as_ref().and_then(|p| p.holds)) {
                let count = f64::from(packs.count);
                prop_assert!(count * holds >= line.total() - 1e-6, "{line:?}");
                prop_assert!((count - 1.0) * holds < line.total(), "{line:?}");
            }
        }
        let all: f64 = apart.iter().map(OrderLine::total).sum();
        let told: f64 = together.iter().map(OrderLine::total).sum();
        prop_assert!((all - told).abs() < 1e-6, "{all} {told}");
    }
}

#[test]
fn a_planned_lesson_is_weighed_out_for_the_tins_of_its_plan() {
    let lesson = demo();
    let plan = planned(&lesson, 200);
    sums_are_right(&lesson, Some(&plan), Extra::usual(&lesson));
    let unit_5 = lesson.attending().find(|&g| lesson.group(g).name == "Unit 5").unwrap();
    let first = Stores::of(&lesson, None, Extra::usual(&lesson));
    let factor = |stores: &Stores| {
        let sets = stores.recipes.iter().flat_map(|r| &r.sets);
        let own = sets.filter(|s| s.groups.contains(&unit_5)).map(|s| s.factor);
        own.sum::<f64>()
    };
    assert_eq!(factor(&first), 1.5, "its first choice, a 20 cm square");
    assert_eq!(factor(&Stores::of(&lesson, Some(&plan), Extra::usual(&lesson))), 1.0, "buns");
}

/// Of each name in each kind of measure there is one line, and it is the sum of
/// what every recipe of every lesson has of it.
#[test]
fn an_order_has_each_ingredient_once() {
    let one = demo();
    let mut parts = demo().into_parts();
    // The same flour by the kilogram, and sugar in capitals.
    for ingredient in parts.recipes.iter_mut().flat_map(|r| &mut r.ingredients) {
        if ingredient.name == "self-raising flour" {
            ingredient.measure = Measure::Kilogram;
            ingredient.amount /= 1000.0;
        }
        ingredient.name = ingredient.name.replace("caster", "Caster");
    }
    let other = Lesson::new(parts).unwrap();
    let extra = Extra { demo: 1, spare: 2 };
    let stores = [&one, &other].map(|lesson| Stores::of(lesson, None, extra));
    let lines = order(&[(&one, &stores[0]), (&other, &stores[1])]);
    let mut names: Vec<String> = lines.iter().map(|line| line.name.to_lowercase()).collect();
    names.sort();
    assert!(names.windows(2).all(|pair| pair[0] != pair[1]), "{names:?}");
    for line in &lines {
        let of_name = |recipe: usize| -> Vec<usize> {
            let ingredients = one.recipes[recipe].ingredients.iter().enumerate();
            let same =
                ingredients.filter(|(_, i)| i.name.to_lowercase() == line.name.to_lowercase());
            same.map(|(i, _)| i).collect()
        };
        let sum = |extra: Extra| -> f64 {
            let recipes =
                (0..one.recipes.len()).flat_map(|r| of_name(r).into_iter().map(move |i| (r, i)));
            recipes.map(|(r, i)| 2.0 * by_hand(&one, None, extra, r, i)).sum()
        };
        let needed = sum(Extra { demo: 0, spare: 0 });
        assert!((line.needed - needed).abs() < 1e-6, "{line:?}: {needed}");
        assert!((line.total() - sum(extra)).abs() < 1e-6, "{line:?}");
        assert_eq!(
            line.made.iter().filter(|(lesson, _)| *lesson == 1).count() * 2,
            line.made.len()
        );
    }
    let flour = lines.iter().find(|line| line.name == "self-raising flour").unwrap();
    assert_eq!(flour.measure, Measure::Gram);
}

#[test]
fn amounts_are_written_as_they_are_weighed() {
    let lesson = demo();
    let named = |name: &str| {
        let all = lesson.recipes.iter().flat_map(|r| &r.ingredients);
        all.into_iter().find(|i| i.name == name).unwrap()
    };
    assert_eq!(told::for_a_set(named("self-raising flour"), 75.0), "75 g");
    assert_eq!(told::for_a_set(named("baking powder"), 4.5), "4.5 g or 1 level tsp");
    assert_eq!(told::for_a_set(named("eggs"), 1.0), "1 egg");
    assert_eq!(told::for_a_set(named("eggs"), 1.5), "1.5 eggs: beat, weigh 75 g");
    assert_eq!(told::in_all(named("eggs"), 7.5), "8 eggs");
    assert_eq!(told::in_all(named("self-raising flour"), 612.25), "612.3 g", "it is enough");
}

/// The sum of what is told of the sets is what is told of all.
#[test]
fn what_is_told_adds_up() {
    let mut parts = demo().into_parts();
    parts.groups.iter_mut().for_each(|group| group.recipe = RecipeId(0));
    let recipe = &mut parts.recipes[0];
    recipe.tins.iter_mut().for_each(|tin| tin.batch = 2.0 / 3.0);
    let grams = [200.0, 80.0, 0.5];
    let mut all = recipe.ingredients.iter_mut().filter(|i| i.measure == Measure::Gram);
    for amount in grams {
        all.next().unwrap().amount = amount;
    }
    let (groups, lesson) = (parts.groups.len() as u32, Lesson::new(parts));
    let lesson = lesson.unwrap_or_else(|fault| panic!("{fault:?}"));
    assert_eq!(groups, 8);
    let stores = Stores::of(&lesson, None, Extra { demo: 0, spare: 1 });
    let of = &stores.recipes[0];
    let ingredients = &lesson.recipes[0].ingredients;
    let weighed = of.amounts.iter().filter(|a| ingredients[a.ingredient].measure == Measure::Gram);
    let in_all: Vec<String> =
        weighed.take(3).map(|a| told::in_all(&ingredients[a.ingredient], a.total)).collect();
    // 8 of 133 g and one of 200 g; 8 of 53 g and one of 80 g; 8 of 0.3 g and one of 0.5 g.
    assert_eq!(in_all, ["1264 g", "504 g", "2.9 g"]);
}

/// The demo with packets written as in a file.
fn with_packets(packets: &str) -> Lesson {
    let text = include_str!("../../lessons/demo.ron");
    let at = text.find("    packets: [").unwrap();
    let rest = &text[at..];
    let end = at + rest.find("\n    ],\n").unwrap() + "\n    ],\n".len();
    let text = format!("{}    packets: [{packets}],\n{}", &text[..at], &text[end..]);
    read_lesson(&text).unwrap().lesson
}

fn lines_of(lesson: &Lesson, extra: Extra) -> Vec<OrderLine> {
    order(&[(lesson, &Stores::of(lesson, None, extra))])
}

#[test]
fn whole_packets_are_enough_and_no_packet_too_many() {
    let mut bought = 0;
    for (holds, unit, spare) in
        [(1500.0, "Gram", 0), (1.5, "Kilogram", 1), (0.1, "Kilogram", 3), (7.0, "Ounce", 2)]
    {
        let packet = format!("(of: \"Caster Sugar\", holds: {holds:?}, unit: {unit}),");
        let lesson = with_packets(&packet);
        for line in lines_of(&lesson, Extra { demo: 0, spare }) {
            let Some(packs) = line.packs() else {
                assert_ne!(line.name, "caster sugar");
                continue;
            };
            let grams = lesson.packets[0].holds.map(|(n, measure)| measure.grams(n)).unwrap();
            let needed = line.measure.grams(line.total());
            let all = f64::from(packs.count) * grams;
            assert!(all >= needed - 1e-6 && all < needed + grams, "{needed} of {grams}: {packs:?}");
            assert!((all - needed - line.measure.grams(packs.over)).abs() < 1e-6);
            bought += 1;
        }
    }
    assert_eq!(bought, 4);
    // Eggs are counted, and nobody knows what a carton of grams is of them.
    let lesson = with_packets("(of: \"eggs\", holds: 700),");
    assert!(lines_of(&lesson, Extra { demo: 0, spare: 0 }).iter().all(|l| l.packs().is_none()));
}

#[test]
fn a_price_without_its_day_is_shown_and_not_counted() {
    let lesson = with_packets(
        "(of: \"caster sugar\", holds: 1000, price: 1.25, priced_on: \"2026-11-02\"),
         (of: \"eggs\", holds: 12, unit: Egg, price: 2.0),
         (of: \"plain flour\", holds: 500, price: 9.0, priced_on: \"2026-11-02\", from: Home),",
    );
    let lines = lines_of(&lesson, Extra { demo: 0, spare: 1 });
    let packs = |name: &str| {
        lines.iter().find(|l| l.name == name).and_then(OrderLine::packs).map_or(0, |p| p.count)
    };
    let cost = cost(&lines);
    assert!(packs("eggs") > 0 && packs("caster sugar") > 0);
    assert!((cost.counted - 1.25 * f64::from(packs("caster sugar"))).abs() < 1e-9, "{cost:?}");
    assert!(cost.not_counted.contains(&"eggs".to_owned()));
    assert!(!cost.not_counted.contains(&"plain flour".to_owned()), "it comes from home");
}

/// Numbers of the allergens of Annex II that a recipe names, and of those not known.
fn stands(lesson: &Lesson, recipe: &str) -> (Vec<&'static str>, usize) {
    let id = RecipeId(lesson.recipes.iter().position(|r| r.name == recipe).unwrap());
    let labels = labels(lesson, id);
    let all = list(English::British).allergens;
    let of = |s: Stands| -> Vec<&'static str> {
        all.iter().filter(|a| recipe_stands(&labels, a) == s).map(|a| a.name).collect()
    };
    (of(Stands::Named), of(Stands::NotKnown).len())
}

#[test]
fn what_nobody_has_read_is_not_known_and_nothing_is_told_to_hold_none_of_it() {
    let sponge = "whisked sponge";
    let none = with_packets("");
    assert_eq!(stands(&none, sponge), (vec!["cereals containing gluten", "eggs"], 0));
    // Another packet that nobody has read: what is inherent stays, all else is open.
    let swapped = with_packets("(of: \"Plain flour\", brand: \"another\"),");
    assert_eq!(stands(&swapped, sponge), (vec!["cereals containing gluten", "eggs"], 12));
    let read = "(of: \"plain flour\", names: [\"wheat\", \"soya\"], read_by: \"KT\", read_on: \"2026-11-24\"";
    let named = vec!["cereals containing gluten", "eggs", "soybeans"];
    assert_eq!(stands(&with_packets(&format!("{read}),")), sponge), (named.clone(), 0));
    // From home it is another packet every time: read on the day, or not known.
    let mut parts = with_packets(&format!("{read}, from: Home),")).into_parts();
    parts.date = None;
    let undated = Lesson::new(parts.clone()).unwrap();
    assert_eq!(stands(&undated, sponge), (vec!["cereals containing gluten", "eggs"], 12));
    parts.date = chrono::NaiveDate::from_ymd_opt(2026, 11, 24);
    assert_eq!(stands(&Lesson::new(parts).unwrap(), sponge), (named, 0));
}

#[test]
fn a_need_is_told_by_labels_and_never_as_yes_or_no() {
    let lesson = with_packets("");
    let mut parts = lesson.into_parts();
    let of = |parts: &ovenbell::model::LessonParts, recipe: &str| {
        parts.groups.iter().position(|g| parts.recipes[g.recipe.0].name == recipe).unwrap()
    };
    let (buns, sponge) = (of(&parts, "clear-day buns"), of(&parts, "whisked sponge"));
    parts.groups[buns].needs = vec!["made without egg".into(), "halal".into()];
    parts.groups[sponge].needs = vec!["No eggs, please".into(), "made without milk".into()];
    let lesson = Lesson::new(parts).unwrap();
    let told: Vec<String> = needs(&lesson, list(English::British))
        .iter()
        .filter(|n| [buns, sponge].contains(&n.group.0))
        .map(|n| format!("{}: {}", n.need, n.told()))
        .collect();
    let of = |need: &str| told.iter().find(|t| t.starts_with(need)).unwrap().as_str();
    let unread = "nobody has read the label of flour blend without gluten, baking powder without \
                  gluten and dairy-free spread";
    assert_eq!(of("made without egg"), format!("made without egg: not known: {unread}"));
    assert!(of("halal").ends_with("ask who knows the pupil"));
    assert_eq!(of("No eggs"), "No eggs, please: named on the label of eggs");
    assert_eq!(
        of("made without milk"),
        "made without milk: not named on the labels that were read"
    );
    // The page leads to the labels, and to nothing like a yes.
    let page = IngredientsPage::of(&lesson, None, list(English::British));
    let row = page.recipes.iter().find(|row| row.name == "clear-day buns").unwrap();
    assert_eq!(row.labels(), "3 not read");
    assert!(row.told(&page.columns).starts_with(
        "clear-day buns: the labels of flour blend without gluten, baking powder without gluten \
         and dairy-free spread have not been read; "
    ));
    let egg = page.needs.iter().find(|of| of.need.need == "made without egg").unwrap();
    assert_eq!(
        egg.told(),
        format!(
            "{} needs “made without egg” and makes clear-day buns: not known, as the labels of \
             flour blend without gluten, baking powder without gluten and dairy-free spread have \
             not been read.",
            egg.unit
        )
    );
    assert_eq!(egg.first(), Some("flour blend without gluten"));
    let milk = page.needs.iter().find(|of| of.need.need == "made without milk").unwrap();
    assert!(milk.told().ends_with("which is no proof that none is there."), "{}", milk.told());
    for told in told {
        assert!(!told.contains("safe") && !told.contains("free from"), "{told}");
    }
}

#[test]
fn keeping_apart_is_offered_and_never_done_unasked() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut file = load_lesson(&demo).unwrap().file;
    file.groups.iter_mut().for_each(|group| group.keep_apart = false);
    let own = own_group(&mut file, "Unit 8").unwrap();
    file.groups[own].needs = vec!["made without egg".to_owned()];
    let page = |file: &LessonFile| {
        let lesson = lesson_of_shapes(file, &[]).unwrap();
        IngredientsPage::of(&lesson, None, list(English::British))
    };
    let [need] = &page(&file).needs[..] else { panic!("one unit has a need") };
    assert!(!need.is_apart);
    // What is only entered is told apart from what somebody read.
    let told = |name: &str| {
        let page = page(&file);
        page.row(name).map(|row| (row.as_entered, row.told(&page.columns))).unwrap()
    };
    assert!(told("eggs").1.contains("its label names egg") && !told("eggs").0);
    assert!(told("milk").1.contains("entered as naming milk") && told("milk").0);
    let apart = Edit::Apart { group: need.unit.clone() }.made(&file).unwrap();
    assert!(page(&apart).needs[0].is_apart);
    let kept: Vec<String> = lesson_of_shapes(&apart, &[])
        .unwrap()
        .groups
        .iter()
        .filter(|group| group.keep_apart)
        .map(|group| group.name.clone())
        .collect();
    assert_eq!(kept, std::slice::from_ref(&need.unit), "and no other unit");
}

/// Of what one lesson's reader knows and another lesson only enters no more is told than
/// the lesser of the two knows.
#[test]
fn labels_of_several_lessons_are_told_by_who_knows_least() {
    let read = demo();
    let mut parts = demo().into_parts();
    parts.packets.clear();
    let entered = Lesson::new(parts).unwrap();
    let page = |lessons: &[&Lesson]| {
        let needs = |lesson: &&Lesson| Stores::of(lesson, None, Extra::usual(lesson));
        let stores: Vec<Stores> = lessons.iter().map(needs).collect();
        let of = lessons.iter().zip(&stores);
        let of: Vec<PageOf<'_>> = of
            .map(|(lesson, stores)| PageOf { lesson, stores, class: &lesson.class.name })
            .collect();
        IngredientsPage::of_all(&of, list(English::British))
    };
    let flour = |lessons: &[&Lesson]| page(lessons).row("self-raising flour").unwrap().clone();
    let (alone, both) = (flour(&[&read]), flour(&[&read, &entered]));
    assert_eq!(alone.read, "KT 20 Nov");
    assert!(!alone.as_entered && !alone.entered.contains(&true));
    assert_eq!(both.read, "part as entered");
    assert!(both.as_entered && both.is_read);
    let columns = page(&[&read, &entered]).columns;
    let gluten = columns.iter().position(|a| a.short() == "gluten").unwrap();
    // That it names wheat somebody has read; that it names no milk not everybody.
    assert_eq!((both.stands[gluten], both.entered[gluten]), (Stands::Named, false));
    let milk = columns.iter().position(|a| a.short() == "milk").unwrap();
    assert_eq!((both.stands[milk], both.entered[milk]), (Stands::NotNamed, true));
    // Of one that nobody entered in the other lesson nothing is known.
    let mut parts = demo().into_parts();
    parts.packets.clear();
    let recipes = parts.recipes.iter_mut();
    recipes.flat_map(|r| &mut r.ingredients).for_each(|i| i.allergens = None);
    let unknown = Lesson::new(parts).unwrap();
    let both = flour(&[&read, &unknown]);
    assert!(!both.is_read && both.is_read_in_part && both.read.ends_with(" read"), "{both:?}");
    assert_eq!(both.stands[milk], Stands::NotKnown);
    assert!(both.told(&page(&[&read, &unknown]).columns).contains("nobody has read the rest"));
    // Recipes of one name with other labels are told apart, and none is called read that
    // is only entered.
    let recipes = page(&[&read, &entered]).recipes;
    assert!(recipes.iter().any(|r| r.labels().ends_with("as entered")), "{recipes:?}");
}
