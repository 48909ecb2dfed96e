//! The page of a recipe, by mouse and by keyboard alone, in a window as small
//! as a school laptop's.

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::Key;
use ovenbell::file::format::{LessonFile, MethodShape, StatedMinutes, StepKindShape};

const SMALL: [f32; 2] = [1092.0, 614.0];

fn file(hands: &Hands) -> LessonFile {
    hands.app().document().unwrap().file().clone()
}

fn method(hands: &Hands) -> MethodShape {
    file(hands).recipes[0].methods[0].clone()
}

/// The sample lesson with the page of its lemon bake open, in which one step goes
/// before the tray is collected.
fn lemon(how: How) -> Hands {
    // A copy: unsaved changes are kept beside the file.
    let mut hands = Hands::sized(how, SMALL, |data| {
        let text = std::fs::read_to_string(lesson("demo.ron")).unwrap();
        let zests = |line: &&str| line.contains("(name: \"zest and juice\"");
        assert_eq!(text.lines().filter(zests).count(), 1);
        let lines: Vec<&str> = text.lines().filter(|line| !zests(line)).collect();
        let text = lines.join("\n").replace(", \"zest and juice\"]", "]");
        std::fs::write(data.join("demo.ron"), text).unwrap();
    });
    let path = hands.data().join("demo.ron");
    hands.open(&path);
    hands.command(Key::Num1);
    hands.press("Page of lemon bake");
    hands.settle();
    hands
}

#[test]
fn the_mixture_is_told_in_percentages_and_in_words() {
    let mut hands = lemon(How::Mouse);
    assert!(hands.says("In balance, as a low-sugar cake goes."), "{:?}", hands.heard());
    assert!(hands.says("sugar 100 to flour 100: no more sugar than flour"));
    assert!(hands.says("common practice of the trade, from memory"));
    assert!(hands.heard().iter().any(|h| h == "15 %"), "the milk");
    hands.fill("caster sugar, amount, g", "130");
    assert!(hands.says("more sugar than flour; rich cakes like this need special fats"));
    hands.fill("caster sugar, amount, g", "many");
    assert!(hands.says("Not taken: caster sugar, amount, g: that is no number"));
    assert_eq!(file(&hands).recipes[0].ingredients[2].amount, 100.0, "as it was before");
    hands.press("Take self-raising flour out");
    assert!(hands.says("No percentages: no ingredient with an amount is marked as flour"));
    assert!(hands.app().document().unwrap().lesson().is_some(), "nothing is forbidden");
}

#[test]
fn a_name_typed_over_another_takes_its_references_along_and_is_one_change() {
    for how in [How::Mouse, How::Keyboard] {
        let mut hands = lemon(how);
        let before = file(&hands);
        // Passing the names of two other steps, one of them done beforehand.
        hands.fill("Step 4, name", "weigh out");
        hands.settle();
        let method = method(&hands);
        assert_eq!(method.steps[3].name, "weigh out");
        assert_eq!(method.steps[4].after, Some(vec!["weigh out".into(), "line tin".into()]));
        assert_eq!(method.links[0].from, "weigh out");
        assert_eq!(file(&hands).beforehand, ["weigh"], "it is not done beforehand itself");
        hands.fill("Recipe name", "lemon squares");
        hands.settle();
        assert_eq!(file(&hands).groups[0].recipe, "lemon squares");
        hands.fill("Tin 3, called", "a dozen");
        hands.settle();
        assert_eq!(file(&hands).groups[4].tins[1], "a dozen");
        for _ in 0..3 {
            hands.command(Key::Z);
        }
        hands.settle();
        assert!(file(&hands) == before);
    }
}

#[test]
fn a_step_carried_onto_another_waits_for_it() {
    let mut hands = lemon(How::Mouse);
    let line_tin = "line tin, 2 minutes, before fill";
    let tray = "collect tray, 2 minutes, waits for weigh, before beat";
    hands.drag(tray, line_tin, "weigh, minutes");
    hands.settle();
    assert_eq!(
        method(&hands).steps[1].after,
        Some(vec!["weigh".into(), "line tin".into()]),
        "{:?}",
        hands.heard()
    );
    assert!(hands.says("collect tray, 2 minutes, waits for weigh and line tin, before beat"));
    let fill = "fill, 2 minutes, waits for beat and line tin, before bake and wash up";
    hands.drag("weigh, 5 minutes, before collect tray", fill, "weigh, minutes");
    hands.settle();
    assert!(
        hands.says("Not done: fill waits for weigh already, by way of collect tray, beat."),
        "{:?}",
        hands.heard()
    );
    // By the keyboard: the picture is one stop, arrows go on to the next box,
    // and the menu of a step sets the order.
    let mut hands = lemon(How::Keyboard);
    hands.press("weigh, 5 minutes, before collect tray");
    hands.key(Key::ArrowRight);
    hands.key(Key::Space);
    assert!(hands.says("collect tray, kit in use"), "{:?}", hands.heard());
    hands.press("collect tray, waits for: weigh");
    hands.press("line tin");
    hands.settle();
    assert_eq!(method(&hands).steps[1].after, Some(vec!["weigh".into(), "line tin".into()]));
}

#[test]
fn steps_are_put_in_moved_and_taken_out() {
    for how in [How::Mouse, How::Keyboard] {
        let mut hands = lemon(how);
        let names =
            |hands: &Hands| method(hands).steps.iter().map(|s| s.name.clone()).collect::<Vec<_>>();
        hands.press("More of beat");
        hands.fill("New step", "fold in");
        hands.enter();
        hands.settle();
        assert_eq!(names(&hands)[4], "fold in");
        let step = method(&hands).steps[4].clone();
        assert!(matches!(step.minutes, Some(StatedMinutes::ByBand(_))), "{step:?}");
        assert!(hands.says("fold in, 3 minutes, waits for beat"), "{:?}", hands.heard());
        hands.press("Move line tin up");
        hands.settle();
        assert_eq!(names(&hands)[1], "line tin");
        assert!(hands.says("collect tray, 2 minutes, waits for weigh, before beat"));
        hands.press("Copy fold in");
        hands.settle();
        assert_eq!(names(&hands)[5], "fold in 2");
        hands.press("Take beat out");
        hands.settle();
        assert!(hands.says("How long beat may wait no longer matters."), "{:?}", hands.heard());
        assert!(hands.app().document().unwrap().lesson().is_some());
        // The lesson of before comes back, step by step.
        for _ in 0..4 {
            hands.command(Key::Z);
        }
        hands.settle();
        assert_eq!(names(&hands)[3], "beat");
        assert_eq!(names(&hands).len(), 12);
    }
}

#[test]
fn what_is_said_of_a_step_goes_into_the_lesson() {
    let mut hands = lemon(How::Keyboard);
    hands.fill("beat, minutes", "2 4 6");
    hands.press("More of beat");
    hands.fill("beat, pupils, of the group, or all", "all");
    hands.fill("beat, kit in use", "bowl 1, electric whisk");
    hands.fill("bake after beat waits no longer than, min", "12");
    hands.settle();
    let found = method(&hands);
    assert_eq!(found.steps[3].minutes, Some(StatedMinutes::Three(2.0, 4.0, 6.0)));
    assert!(found.steps[3].everyone);
    assert_eq!(found.steps[3].kit.0.len(), 2);
    assert_eq!(found.links[0].longest, Some(12.0));
    hands.fill("beat, kit in use", "food mixer");
    assert!(hands.says("kit in use: no room here has food mixer; there is: sink, scales"));
    hands.fill("beat, minutes", "6 4 2");
    assert!(hands.says("Not taken: beat, minutes: quick minutes come first"));
    hands.settle();
    assert_eq!(method(&hands).steps[3], found.steps[3]);
}

#[test]
fn tins_and_oven_are_entered_with_their_units() {
    let mut hands = lemon(How::Mouse);
    hands.fill("12 buns, bake minutes", "");
    hands.settle();
    let doc = hands.app().document().unwrap();
    assert!(doc.file().recipes[0].tins[2].minutes.is_none());
    assert!(hands.says("12 buns, bake minutes, worked out ("), "{:?}", hands.heard());
    hands.fill("Other minutes in 12 buns", "fill 3; cool 4 5 6");
    hands.fill("20 cm square tin, share of the batch, %", "125");
    hands.fill("Door stays shut, min after loading", "10");
    hands.fill("Raw mixture fills at most, % of a tin", "60");
    hands.settle();
    let recipe = file(&hands).recipes[0].clone();
    assert_eq!(recipe.tins[2].step_minutes.0[0].1, StatedMinutes::Usual(3.0));
    assert_eq!(recipe.tins[2].step_minutes.0[1].1, StatedMinutes::Three(4.0, 5.0, 6.0));
    assert_eq!(recipe.tins[0].batch, Some(1.25));
    assert_eq!((recipe.bake.shut, recipe.bake.fill_limit), (Some(10.0), Some(0.6)));
}

#[test]
fn a_recipe_of_ones_own_is_made_and_planned() {
    for how in [How::Mouse, How::Keyboard] {
        let mut hands = Hands::sized(how, SMALL, |_| {});
        hands.command(Key::N);
        hands.press("A recipe of our own");
        hands.fill("Recipe name", "rock buns");
        hands.press("Add an ingredient");
        hands.fill("Ingredient 1, name", "self-raising flour");
        hands.fill("Tin 1, called", "8 buns");
        hands.fill("8 buns, bake minutes", "15");
        hands.command(Key::Num1);
        hands.press("usual room");
        hands.fill("Pupils", "8");
        hands.fill("Start bell", "10:00");
        hands.fill("End bell", "11:00");
        hands.settle();
        let doc = hands.app().document().unwrap();
        let recipe = &doc.file().recipes[0];
        assert_eq!(recipe.name, "rock buns");
        let kinds: Vec<StepKindShape> = recipe.methods[0].steps.iter().map(|s| s.kind).collect();
        assert!(kinds.contains(&StepKindShape::Bake) && kinds.contains(&StepKindShape::Cool));
        assert!(doc.lesson().is_some(), "{:?}", doc.to_do);
        assert!(hands.app().plan().is_some());
    }
}

#[test]
fn nothing_of_the_page_lies_outside_a_small_window() {
    let hands = lemon(How::Mouse);
    for label in [
        "Take self-raising flour out",
        "Take weigh out",
        "Take 12 buns out",
        "No longer hold rack place",
    ] {
        let place = hands.place(label);
        assert!(place.right() <= SMALL[0] - 14.0, "{label} at {place:?}");
    }
}
