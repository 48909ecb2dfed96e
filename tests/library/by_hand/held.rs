//! What is held by hand, shown, replaced and let go.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{Rule, check};
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::hand::{Fit, Held, Spot, Thing, contradiction, held, hold, let_go};
use ovenbell::model::{GroupId, Lesson, LockedTo, OvenId, ShelfId, StepId};
use ovenbell::units::Minute;

use super::{Scene, only, planned, starts, wrong};

#[test]
fn held_locks_that_contradict_each_other_are_named() {
    let never = AtomicBool::new(false);
    let lock = |group: &str, step: &str, at: i32| ovenbell::file::format::LockShape {
        group: group.into(),
        step: Some(step.into()),
        at: Some(at),
        ..Default::default()
    };
    let on_top = |group: &str, oven: &str| ovenbell::file::format::LockShape {
        group: group.into(),
        oven: Some(oven.into()),
        shelf: Some(1),
        ..Default::default()
    };
    let of = |end: &str, locks: Vec<ovenbell::file::format::LockShape>| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/a-scones-hour.ron");
        let mut file = load_lesson(&path).unwrap().file;
        file.locks = locks;
        file.period.end = end.into();
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let found = contradiction(&lesson, &never);
        (lesson, found)
    };
    assert_eq!(of("11:00", Vec::new()).1, None);
    // Others are held too, and have no part in it.
    let (lesson, found) = of(
        "12:00",
        vec![
            lock("Pair 1", "weigh", 14),
            on_top("Pair 3", "Oven 2"),
            lock("Pair 3", "load", 29),
            on_top("Pair 5", "Oven 2"),
            lock("Pair 5", "load", 31),
            lock("Pair 7", "rub in", 18),
        ],
    );
    let found = found.unwrap();
    assert_eq!(found.locks, [1, 2, 3, 4]);
    assert_eq!(found.groups, [GroupId(2), GroupId(4)]);
    assert_eq!(found.rule, Rule::Shelf);
    assert_eq!(
        found.sentence,
        "Pair 3's bake is held at 10:29 on the top shelf of Oven 2 and Pair 5's bake is held at \
         10:31 on the top shelf of Oven 2: both cannot be kept. Pair 5's baking sheet is on the \
         top shelf of Oven 2 from 10:31 to 10:45; two baking sheets of 35 by 25 cm, with 2 cm of \
         air between, take 52 cm side by side, and the shelf is 42 cm wide and 36 cm deep."
    );
    // With any one of them let go there is a plan of both.
    for &gone in &found.locks {
        let mut parts = only(&lesson, &found.groups).into_parts();
        let kept = found.locks.iter().filter(|l| **l != gone);
        parts.locks = kept.map(|&l| lesson.locks[l].clone()).collect();
        let plan = planned(&Lesson::new(parts).unwrap(), 500);
        assert_eq!(plan.plan().choices.len(), 2, "without lock {gone}");
    }
    // In an hour there is time for one bake on that shelf, whenever it is: in at
    // 10:28 or later, and at 10:34 at the latest.
    let (_, found) = of("11:00", vec![on_top("Pair 3", "Oven 2"), on_top("Pair 5", "Oven 2")]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0, 1][..], Rule::Shelf));
    // Weighing takes 5 as planned; at its quickest it takes 4.
    let (_, found) = of("12:00", vec![lock("Pair 2", "weigh", 20), lock("Pair 2", "rub in", 24)]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0, 1][..], Rule::Order));
    assert!(found.proved);
    assert_eq!(
        found.sentence,
        "Weigh of Pair 2 is held at 10:20 and rub in of Pair 2 is held at 10:24: both cannot be \
         kept. Weigh is held at 10:20 and takes 5 minutes: not before 10:25."
    );
    // One that leaves no time is a contradiction by itself.
    let (_, found) = of("11:00", vec![lock("Pair 4", "load", 50)]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0][..], Rule::Bell));
}

#[test]
fn what_is_held_is_shown_and_let_go_again() {
    let scene = Scene::named("demo.ron", |_| {});
    let mut seen = 0;
    for g in scene.served() {
        let name = &scene.lesson.group(g).name;
        let choice = *scene.plan.plan().choice(g).unwrap();
        let steps = scene.lesson.method_of(g, choice.method).steps.len();
        let all = (0..steps).map(|s| Held::Step(g, StepId(s)));
        let rest = [Held::Tin(g), Held::Method(g), Held::Oven(g), Held::Group(g)];
        for what in all.chain(rest) {
            let file = hold(&scene.file, &scene.lesson, &scene.plan, what);
            let text = write_lesson(&file).unwrap();
            let lesson = read_lesson(&text).unwrap().lesson;
            assert!(check(&lesson, scene.plan.plan().clone()).is_ok(), "{name} {what:?}");
            let marks = held(&lesson);
            assert!(marks[g.0].any(), "{name} {what:?}");
            assert_eq!(marks.iter().filter(|m| m.any()).count(), 1);
            match what {
                Held::Step(_, s) => {
                    let step = &scene.lesson.method_of(g, choice.method).steps[s.0].name;
                    let at = starts(&scene.lesson, scene.plan.plan(), g)[step];
                    assert_eq!(marks[g.0].step(step), Some(at));
                }
                Held::Tin(_) => assert_eq!(marks[g.0].tin, choice.tin),
                Held::Method(_) => assert_eq!(marks[g.0].method, Some(choice.method)),
                Held::Oven(_) => assert!(marks[g.0].oven.is_some()),
                Held::Group(_) => assert!(marks[g.0].starts.len() > 3 && marks[g.0].tin.is_some()),
            }
            // Twice is once.
            assert_eq!(hold(&file, &lesson, &scene.plan, what), file, "{name} {what:?}");
            assert_eq!(let_go(&file, &lesson, &scene.plan, what), scene.file, "{name} {what:?}");
            seen += 1;
        }
    }
    assert!(seen > 40);
}

#[test]
fn a_drop_replaces_what_was_held_of_the_same_thing_alone() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        let lock = |step: &str, at| ovenbell::file::format::LockShape {
            group: "Pair 6".into(),
            step: Some(step.into()),
            at: Some(at),
            ..Default::default()
        };
        // One entry may hold several things.
        let mut both = lock("bake", 30);
        both.tin = Some("8 scones".into());
        file.locks = vec![lock("weigh", 12), both];
    });
    let pair = GroupId(5);
    let spot = Spot { at: Some(scene.minute("10:31")), place: Some((OvenId(1), None)) };
    let put = scene.put(Thing::Bake(pair), spot).unwrap();
    assert_eq!(wrong(&scene, Thing::Bake(pair), spot, &Ok(put.clone())), Vec::<String>::new());
    let locks: Vec<&LockedTo> = put.lesson.locks.iter().map(|l| &l.to).collect();
    assert_eq!(locks.len(), 4, "{locks:?}");
    let start = |name: &str, at| LockedTo::Start(name.into(), Minute::new(at));
    assert!(locks.contains(&&start("weigh", 12)) && locks.contains(&&start("load", 31)));
    assert!(locks.contains(&&LockedTo::Oven(OvenId(1), None)));
    // Put again with nothing else, it stays where it is.
    let again = Scene { file: put.file.clone(), lesson: (*put.lesson).clone(), plan: put.plan };
    let same = again.put(Thing::Bake(pair), spot).unwrap();
    assert_eq!((same.fit, &same.file), (Fit::Stays, &put.file));
    // Whenever it suits: no minute is held any more.
    let anywhen = Spot { at: None, place: Some((OvenId(2), Some(ShelfId(0)))) };
    let put = again.put(Thing::Bake(pair), anywhen).unwrap();
    assert!(!put.lesson.locks.iter().any(|l| l.to == start("load", 31)));
}
