//! What a class needs: every total is the sum of its parts, and nobody who
//! takes part is without a set.

use std::path::Path;

use ovenbell::check::CheckedPlan;
use ovenbell::file::load_lesson;
use ovenbell::model::{Attendance, Lesson, Measure};
use ovenbell::stores::{Extra, MadeFor, Stores, order, told};
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
        total += share * lesson.recipes[recipe].ingredients[i].amount;
    }
    let more = if made { f64::from(extra.demo + extra.spare) } else { 0.0 };
    total + more * lesson.recipes[recipe].ingredients[i].amount
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
    assert_eq!(told::for_a_set(named("baking powder"), 4.5), "4.5 g or 1 level tsp (5 ml)");
    assert_eq!(told::for_a_set(named("eggs"), 1.0), "1 egg");
    assert_eq!(told::for_a_set(named("eggs"), 1.5), "1.5 eggs: beat, weigh 75 g");
    assert_eq!(told::in_all(named("eggs"), 7.5), "8 eggs");
    assert_eq!(told::in_all(named("self-raising flour"), 612.25), "613 g");
}
