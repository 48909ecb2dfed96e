//! The day of a lesson in the window: one action for each thing that happens,
//! others keep their times, and what changed is listed.

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::Key;
use ovenbell::check::{CheckedPlan, check};
use ovenbell::file::write_lesson;

/// Start and end of every step of a group, by name, and its oven.
fn times(hands: &Hands, group: &str) -> (Vec<(i32, i32)>, Option<usize>) {
    let app = hands.app();
    let plan = app.current_plan().unwrap();
    let lesson = app.document().unwrap().lesson().unwrap();
    let id = lesson.groups.iter().position(|g| g.name == group).unwrap();
    let of = |p: &&ovenbell::plan::StepPlacement| p.group.0 == id;
    let mut steps: Vec<(i32, i32)> =
        plan.plan().steps.iter().filter(of).map(|p| (p.start.get(), p.end.get())).collect();
    steps.sort_unstable();
    let oven = plan.plan().loads.iter().find(|l| l.group.0 == id).map(|l| l.oven.0);
    (steps, oven)
}

fn holds(hands: &Hands) -> &CheckedPlan {
    let app = hands.app();
    let plan = app.current_plan().expect("a plan of the day as it now is");
    let lesson = app.document().unwrap().lesson().unwrap();
    assert!(check(lesson, plan.plan().clone()).is_ok());
    plan
}

fn a_day(how: How) {
    let mut hands = Hands::new(how, |_| {});
    let path = lesson("demo.ron");
    hands.open(&path);
    let before: Vec<_> = (1..=8).map(|i| times(&hands, &format!("Unit {i}"))).collect();
    let text = std::fs::read_to_string(&path).unwrap();
    hands.command(Key::T);
    hands.settle();
    assert!(hands.app().session().is_today());
    assert!(hands.says("A copy for the day"));
    assert_eq!(hands.app().document().unwrap().path, None, "the day has a file of its own");
    for i in 1..=8 {
        assert_eq!(times(&hands, &format!("Unit {i}")), before[i - 1], "nothing has happened");
    }
    let so_far = hands.actions();
    hands.press("Unit 3: pupil absent");
    hands.settle();
    assert_eq!(hands.actions(), so_far + 1, "one action");
    holds(&hands);
    // One pupil cannot do what two did at once; nobody else minds.
    assert!(hands.says("keep their times."), "{:?}", hands.app().session().changed_today());
    for i in (1..=8).filter(|i| *i != 3) {
        assert_eq!(times(&hands, &format!("Unit {i}")), before[i - 1]);
    }
    // A spare set is taken, and then there is none.
    hands.press("Unit 1: ingredients forgotten");
    hands.settle();
    assert!(hands.says("0 spare sets of ingredients left"), "{:?}", hands.heard());
    hands.press("Unit 2: ingredients forgotten");
    hands.settle();
    assert!(hands.says("Not done:"), "{:?}", hands.heard());
    // An oven that is used goes out: those who were in it are told.
    let oven = before[0].1.unwrap();
    let name = hands.app().document().unwrap().lesson().unwrap().ovens[oven].name.clone();
    hands.press(&format!("{name} out of order"));
    hands.settle();
    let plan = holds(&hands);
    assert!(plan.plan().loads.iter().all(|l| l.oven.0 != oven));
    let changed = hands.app().session().changed_today().join(" ");
    for (i, (_, of)) in before.iter().enumerate() {
        let group = format!("Unit {}", i + 1);
        if *of == Some(oven) {
            assert!(changed.contains(&group), "{group} in {changed}");
        }
    }
    hands.press("technician called away");
    hands.settle();
    let adults = &hands.app().document().unwrap().lesson().unwrap().adults;
    assert!(adults.iter().all(|adult| adult.name != "technician"));
    holds(&hands);
    hands.press("5 min later");
    hands.settle();
    holds(&hands);
    hands.command(Key::Num2);
    assert!(hands.says("late start"), "the board shows it");
    // And all of it back.
    for _ in 0..5 {
        hands.command(Key::Z);
        hands.settle();
    }
    let doc = hands.app().document().unwrap();
    assert_eq!(doc.can_undo(), None);
    let mut file = doc.file().clone();
    file.today = None;
    assert_eq!(write_lesson(&file).unwrap(), {
        let read = ovenbell::file::read_lesson(&text).unwrap();
        write_lesson(&read.file).unwrap()
    });
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text, "the lesson itself is as it was");
}

#[test]
fn a_day_by_mouse() {
    a_day(How::Mouse);
}

#[test]
fn a_day_by_keyboard() {
    a_day(How::Keyboard);
}

/// Its lesson was moved: it is found by its id, offered, and gone to.
#[test]
fn the_lesson_of_a_day_is_found_where_it_was_moved_to() {
    let folder = tempfile::tempdir().unwrap();
    let scones = include_str!("../cases/good/scones.ron");
    std::fs::create_dir(folder.path().join("autumn")).unwrap();
    let moved = scones.replacen("title:", "id: \"heron-4c2f\", title:", 1);
    std::fs::write(folder.path().join("autumn/scones.ron"), moved).unwrap();
    let day = include_str!("../cases/good/today.ron");
    let day = day.replacen("../8a/buns.ron", "scones.ron", 1);
    let path = folder.path().join("day.ron");
    std::fs::write(&path, day).unwrap();
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.open(&path);
    assert!(hands.says("\"scones.ron\" (heron-4c2f) is not there; found in autumn."));
    hands.press("Lesson");
    hands.press("The lesson of this day");
    assert!(hands.says("Found in autumn/scones.ron."), "{:?}", hands.heard());
    hands.press("Use it");
    hands.settle();
    hands.command(Key::S);
    hands.settle();
    assert!(std::fs::read_to_string(&path).unwrap().contains("file: \"autumn/scones.ron\""));
    hands.press("Lesson");
    hands.press("The lesson of this day");
    hands.settle();
    let own = hands.app().document().unwrap().path.clone().unwrap();
    assert!(own.ends_with("autumn/scones.ron"), "{}", own.display());
}
