//! What a refusal says: its sums, its lengths, its names.

use ovenbell::check::{Rule, check};
use ovenbell::edit::set_oven_out;
use ovenbell::file::read_lesson;
use ovenbell::hand::{Spot, Thing};
use ovenbell::model::{GroupId, OvenId, ShelfId, StepId};

use super::{Scene, in_lesson, is_put, refused};

#[test]
fn sums_of_refusals_are_those_done_by_hand() {
    let scones = Scene::named("a-scones-hour.ron", |_| {});
    let pair = GroupId(0);
    let step = |name: &str| Thing::Step(pair, scones.step(pair, name));
    let told = |thing, at, place| {
        let r = refused(&scones, thing, at, place);
        assert!(r.proved, "{}", r.sentence);
        (r.rule, r.sentence)
    };
    // Register 3, aprons and hands 4, demo 5: until 10:12.
    let (rule, sum) = told(step("weigh"), "10:10", None);
    assert_eq!(rule, Rule::Period);
    assert_eq!(
        sum,
        "Weigh of Pair 1 cannot begin at 10:10. The demo ends at 10:12: not before 10:12."
    );
    // Then weigh 5.
    let (rule, sum) = told(step("rub in"), "10:14", None);
    assert_eq!(rule, Rule::Order);
    assert_eq!(
        sum,
        "Rub in of Pair 1 cannot begin at 10:14. Weigh 5 min comes first and the demo ends at \
         10:12: not before 10:17."
    );
    // 5 + 6 + 1 + 12 + 1 + 6 + 2 = 33 until the plenary at 10:56.
    let (rule, sum) = told(step("rub in"), "10:40", None);
    assert_eq!(rule, Rule::Bell);
    assert_eq!(
        sum,
        "Rub in of Pair 1 cannot begin at 10:40. Rub in 5 min, mix, shape and cut 6 min, load 1 \
         min, bake 12 min, take out 1 min, cool 6 min and box and label 2 min, 33 minutes in all, \
         are to come and the plenary begins at 10:56: not after 10:23."
    );
    let (rule, sum) = told(Thing::Bake(pair), "10:24", Some((0, 0)));
    assert_eq!(rule, Rule::Order);
    assert_eq!(
        sum,
        "Pair 1's bake cannot go onto the top shelf of Oven 1 at 10:24. Weigh 5 min, rub in 5 min \
         and mix, shape and cut 6 min come first and the demo ends at 10:12: not before 10:28."
    );
    // Boxing ends 33 after rubbing in began and 38 after weighing, if nothing
    // waits in between.
    let row = refused(&scones, Thing::Row(pair), "10:35", None);
    assert_eq!(row.rule, Rule::Bell);
    let own = in_lesson(&scones.lesson, scones.plan.plan(), pair);
    let (first, boxed) = (own.values().min().unwrap(), own["box and label"]);
    let latest = scones.minute("10:54") - (boxed - *first);
    assert!(
        row.sentence.ends_with(&format!(
            "; so its first step is at {} at the latest.",
            ovenbell::view::words::clock(&scones.lesson, latest)
        )),
        "{}",
        row.sentence
    );
}

#[test]
fn ovens_and_shelves_are_told_of_in_centimetres() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        let mut small = file.room.ovens[0].clone();
        small.name = "Small oven".into();
        small.count = None;
        small.shelf_mm = Some((300.0, 240.0));
        let mut low = small.clone();
        low.name = "Low oven".into();
        low.shelf_mm = Some((420.0, 360.0));
        low.clear_mm = Some(12.0);
        file.room.ovens.extend([small, low]);
        assert!(set_oven_out(file, "Oven 2", true));
    });
    let pair = Thing::Bake(GroupId(3));
    let oven = |name: &str| scene.lesson.ovens.iter().position(|o| o.name == name).unwrap();
    let out = refused(&scene, pair, "10:30", Some((oven("Oven 2"), 0)));
    assert_eq!(out.rule, Rule::OneOven);
    assert_eq!(
        out.sentence,
        "Pair 4's bake cannot go onto the top shelf of Oven 2 at 10:30. Oven 2 is out of order."
    );
    let small = refused(&scene, pair, "", Some((oven("Small oven"), 1)));
    assert_eq!(small.rule, Rule::Shelf);
    assert_eq!(
        small.sentence,
        "Pair 4's bake cannot go onto the bottom shelf of Small oven. The baking sheet is 35 by 25 \
         cm, and the bottom shelf of Small oven is 30 cm wide and 24 cm deep."
    );
    let low = refused(&scene, pair, "10:30", Some((oven("Low oven"), 0)));
    assert_eq!(low.rule, Rule::Shelf);
    assert!(
        low.sentence.ends_with(
            "The baking sheet is 1.5 cm high, and the top shelf of Low oven has 1.2 cm above it."
        ),
        "{}",
        low.sentence
    );
}

/// One group that mixes and prepares before it bakes.
const TWO_BRANCHES: &str = r#"(
    format: 2,
    period: (start: "10:00", end: "11:00", opening: [(name: "register", minutes: 2)],
        closing: [(name: "plenary", minutes: 4)]),
    room: (ovens: [(name: "Oven", count: 2, shelves: 1, shelf_mm: (420, 360), warm_up: 10)]),
    recipes: [(
        name: "buns",
        bake: (),
        methods: [(
            name: "way",
            steps: [
                (name: "mix", minutes: 5, after: []),
                (name: "prepare", minutes: 25, after: []),
                (name: "bake", kind: Bake, after: ["mix", "prepare"]),
                (name: "wash up", minutes: 3, after: ["bake"]),
            ],
            links: [(from: "mix", to: "bake", longest: 6)],
        )],
        tins: [(label: "a sheet", tin: "sheet", celsius: 180, minutes: 10)],
    )],
    tins: [(name: "sheet", form: Sheet, rim_mm: (350, 250), height_mm: 15)],
    groups: [(name: "Pair", count: 3, recipe: "buns")],
)"#;

#[test]
fn a_longest_gap_is_told_with_its_sum() {
    let scene = Scene::of(read_lesson(TWO_BRANCHES).unwrap().file, 500);
    let pair = GroupId(1);
    // Prepare 25 from 10:02: load at 10:27. Mix 5 ends at 10:21 or later.
    let said = refused(&scene, Thing::Step(pair, scene.step(pair, "mix")), "10:12", None);
    assert_eq!(said.rule, Rule::Order);
    assert_eq!(
        said.sentence,
        "Mix of Pair 2 cannot begin at 10:12. Prepare 25 min comes first and the register ends at \
         10:02, so load begins at 10:27 at the earliest; mix 5 min may end 6 minutes before load, \
         no more: not before 10:16."
    );
    let at = Spot { at: Some(scene.minute("10:16")), place: None };
    let put = scene.put(Thing::Step(pair, scene.step(pair, "mix")), at).unwrap();
    assert_eq!(put.lost, []);
}

#[test]
fn a_refusal_beside_what_is_held_names_it() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        file.locks = vec![ovenbell::file::format::LockShape {
            group: "Pair 5".into(),
            step: Some("load".into()),
            at: Some(31),
            oven: Some("Oven 3".into()),
            shelf: Some(1),
            ..Default::default()
        }];
    });
    let said = refused(&scene, Thing::Bake(GroupId(2)), "10:29", Some((2, 0)));
    assert_eq!(said.rule, Rule::Shelf);
    assert!(
        said.sentence.contains("Pair 5's baking sheet is on the top shelf of Oven 3"),
        "{}",
        said.sentence
    );
    // Who is not held makes room.
    let scene = Scene::named("a-scones-hour.ron", |_| {});
    let load = scene.plan.plan().loads.iter().find(|l| l.group != GroupId(2)).unwrap().clone();
    let spot = Spot { at: Some(load.start), place: Some((load.oven, Some(load.shelf))) };
    let put = scene.put(Thing::Bake(GroupId(2)), spot).unwrap();
    assert_eq!(put.lost, []);
}

#[test]
fn who_is_left_out_is_not_put_anywhere() {
    let scene = Scene::of(
        read_lesson(&TWO_BRANCHES.replace("count: 3, ", "left_out: true, ")).unwrap().file,
        100,
    );
    let thing = Thing::Step(GroupId(0), StepId(0));
    let spot = Spot { at: Some(scene.minute("10:20")), place: None };
    let said = scene.put(thing, spot).unwrap_err();
    assert_eq!((said.rule, said.proved), (Rule::WholeGroup, true));
    assert!(is_put(&said.lesson, &said.witness, scene.plan.plan(), thing, spot));
    let breaches = check(&said.lesson, said.witness.clone()).unwrap_err();
    assert!(breaches.iter().any(|b| b.rule == Rule::WholeGroup));
}

#[test]
fn who_bakes_nothing_has_nothing_to_put() {
    let text = TWO_BRANCHES.replace(
        "groups: [(name: \"Pair\"",
        "groups: [(name: \"Cold\", recipe: \"cold\"), (name: \"Pair\"",
    );
    let cold = "recipes: [(name: \"cold\", bake: (), methods: [(name: \"stir\", steps: \
                [(name: \"stir\", minutes: 5)])]), (";
    let text = text.replacen("recipes: [(", cold, 1);
    let scene = Scene::of(read_lesson(&text).unwrap().file, 100);
    let place = Some((OvenId(1), Some(ShelfId(0))));
    let spot = Spot { at: Some(scene.minute("10:20")), place };
    let said = scene.put(Thing::Bake(GroupId(0)), spot).unwrap_err();
    assert_eq!((said.rule, said.proved), (Rule::OneOven, true));
    assert_eq!(said.sentence, "Cold bakes nothing.");
    let breaches = check(&said.lesson, said.witness.clone()).unwrap_err();
    assert!(breaches.iter().any(|b| b.rule == Rule::OneOven));
}

#[test]
fn round_tins_are_refused_from_middle_to_middle() {
    let airy = "ovens: [(name: \"Airy\", kind: Conventional, shelves: 1, gap_mm: 80), ";
    let text = include_str!("../../cases/good/round_tins.ron").replace("ovens: [", airy);
    let scene = Scene::of(read_lesson(&text).unwrap().file, 100);
    let said = refused(&scene, Thing::Bake(GroupId(0)), "10:30", Some((0, 0)));
    assert!(
        said.sentence.contains(
            "20 cm sandwich tins, 21.5 cm across, and 8 cm of air take 29.5 cm from middle to \
             middle, and on the shelf of Airy, 42 cm wide and 36 cm deep, middles are no more than \
             25.11 cm apart"
        ),
        "{}",
        said.sentence
    );
    assert!(said.proved);
}
