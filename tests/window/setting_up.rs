//! A lesson set up in the window from nothing, by mouse and by keyboard alone,
//! in few actions. An action is a click, a command key, or one field's typing;
//! Tab and the arrow keys are free.

use std::path::Path;
use std::process::Command as Process;

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::Key;
use ovenbell::file::{load_lesson, write_lesson};

/// What is said beside the field for a path.
const PATH: &str = "Save to this file";

/// What `ovenbell plan` says of a saved file.
fn planned(path: &Path) -> String {
    let run = Process::new(env!("CARGO_BIN_EXE_ovenbell")).arg("plan").arg(path).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    String::from_utf8(run.stdout).unwrap()
}

/// Saves under the path that is offered or another; where that is.
fn save(hands: &mut Hands, path: Option<&str>) -> std::path::PathBuf {
    hands.command(Key::S);
    hands.wait_for(PATH);
    if let Some(path) = path {
        let path = hands.data().join(path).to_string_lossy().into_owned();
        hands.type_here(&path);
    }
    hands.enter();
    hands.settle();
    let path = hands.app().document().unwrap().path.clone();
    path.unwrap_or_else(|| panic!("the lesson was not saved: {:?}", hands.heard()))
}

fn new_class(how: How) {
    let mut hands = Hands::new(how, |data| {
        // A room kept earlier.
        let file =
            ovenbell::file::read_lesson(include_str!("../../lessons/demo.ron")).unwrap().file;
        let disk = std::sync::Arc::new(ovenbell::file::RealDisk);
        let own = ovenbell::file::own_library::OwnLibrary::at(Some(data.to_owned()), disk);
        own.keep(&ovenbell::file::own_library::OwnEntry::Room(file.room)).unwrap();
    });
    hands.command(Key::N);
    hands.press("Harbour lemon traybake");
    hands.press("Room 4");
    hands.fill("Class", "9 Quay");
    hands.fill("Pupils", "14");
    hands.fill("Date", "3 December");
    hands.fill("Start bell", "10:05");
    hands.fill("End bell", "11:15");
    hands.settle();
    let path = save(&mut hands, Some("lemon.ron"));
    assert!(hands.actions() <= 15, "{} actions: {:?}", hands.actions(), hands.told());
    let read = load_lesson(&path).unwrap();
    assert_eq!(read.file.groups.len(), 7);
    assert_eq!(read.file.room.name, "Room 4");
    assert_eq!(read.file.date.as_deref(), Some("2026-12-03"));
    assert_eq!(read.file.class.name, "9 Quay");
    assert!(planned(&path).contains("seven groups"), "{}", planned(&path));
    println!("{how:?}: {} actions", hands.actions());
}

#[test]
fn a_library_recipe_a_saved_room_and_a_new_class_by_mouse() {
    new_class(How::Mouse);
}

#[test]
fn a_library_recipe_a_saved_room_and_a_new_class_by_keyboard() {
    new_class(How::Keyboard);
}

fn last_weeks(how: How) {
    let mut hands = Hands::new(how, |data| {
        std::fs::copy(lesson("demo.ron"), data.join("last week.ron")).unwrap();
    });
    let file = hands.data().join("last week.ron");
    hands.open(&file);
    hands.command(Key::R);
    // It says something of its pupils, so whose it is now is asked.
    hands.press("The same class");
    hands.settle();
    let path = save(&mut hands, None);
    assert!(hands.actions() <= 7, "{} actions: {:?}", hands.actions(), hands.told());
    assert_ne!(path, file, "last week's lesson is left as it was");
    let (before, now) = (load_lesson(&file).unwrap().file, load_lesson(&path).unwrap().file);
    assert_eq!(before.date.as_deref(), Some("2026-11-26"));
    assert_eq!(now.date.as_deref(), Some("2026-12-03"));
    assert_eq!(now.groups, before.groups);
    assert!(planned(&path).contains("eight groups"));
    println!("{how:?}: {} actions", hands.actions());
}

#[test]
fn last_weeks_lesson_again_by_mouse() {
    last_weeks(How::Mouse);
}

#[test]
fn last_weeks_lesson_again_by_keyboard() {
    last_weeks(How::Keyboard);
}

#[test]
fn nonsense_is_refused_with_a_reason_and_what_was_typed_stays() {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.open(&lesson("demo.ron"));
    let before = write_lesson(hands.app().document().unwrap().file()).unwrap();
    hands.command(Key::Num1);
    hands.fill("Start bell", "25:61");
    assert!(hands.says("Not taken: Start bell: that is no time of the day"), "{:?}", hands.heard());
    hands.fill("End bell", "09:00");
    assert!(
        hands.says("Not taken: End bell: the end bell, 09:00, is not after"),
        "{:?}",
        hands.heard()
    );
    assert_eq!(hands.holds("Start bell"), "25:61");
    assert_eq!(hands.holds("End bell"), "09:00");
    let doc = hands.app().document().unwrap();
    assert_eq!(write_lesson(doc.file()).unwrap(), before, "nonsense came into the lesson");
    hands.fill("Start bell", "10.00");
    hands.settle();
    let doc = hands.app().document().unwrap();
    assert_eq!(doc.file().period.start, "10:00");
    assert_eq!(doc.can_undo(), Some("Start bell: 10.00"));
    // The typing of one field is one change.
    hands.command(Key::Z);
    hands.settle();
    let doc = hands.app().document().unwrap();
    assert_eq!(write_lesson(doc.file()).unwrap(), before);
    assert_eq!(doc.can_undo(), None);
}

/// Ten pairs with a recipe of their own of eight steps, and a new room.
fn from_nothing(how: How) {
    let mut hands = Hands::new(how, |_| {});
    hands.command(Key::N);
    hands.press("A recipe of our own");
    hands.fill("Recipe name", "quay rock buns");
    for (i, (name, amount)) in
        [("self-raising flour", "200"), ("block margarine", "80"), ("caster sugar", "80")]
            .into_iter()
            .enumerate()
    {
        hands.press("Add an ingredient");
        hands.fill(&format!("Ingredient {}, name", i + 1), name);
        hands.fill(&format!("{name}, amount, g"), amount);
    }
    hands.fill("Step 2, name", "rub in");
    hands.fill("rub in, minutes", "4 5 7");
    for step in ["box and label", "wipe down"] {
        hands.fill("New step", step);
        hands.enter();
    }
    hands.fill("Tin 1, called", "8 buns");
    hands.fill("8 buns, bake minutes", "13 15 17");
    hands.press("Room");
    hands.fill("Name", "Room 7");
    hands.press("Add ovens");
    hands.fill("Oven, how many", "5");
    hands.press("Oven, kind: fan");
    hands.press("gas");
    hands.fill("Oven, shelves", "2");
    hands.fill("Oven, shelf width, mm", "380");
    hands.fill("Oven, shelf depth, mm", "320");
    hands.fill("Oven, warm-up, min", "18");
    hands.press("Add scales");
    hands.fill("scales, how many", "10");
    hands.command(Key::Num1);
    hands.fill("Class", "10 Lock");
    hands.fill("Pupils", "20");
    hands.fill("Date", "4/12/2026");
    hands.fill("Start bell", "11:00");
    hands.fill("End bell", "12:40");
    hands.settle();
    let path = save(&mut hands, Some("rock buns.ron"));
    assert!(hands.actions() <= 60, "{} actions: {:?}", hands.actions(), hands.told());
    let read = load_lesson(&path).unwrap();
    assert_eq!(read.file.recipes[0].methods[0].steps.len(), 8);
    assert_eq!(read.lesson.ovens.len(), 5);
    assert_eq!(read.lesson.groups.len(), 10);
    assert_eq!(read.file.room.name, "Room 7");
    assert!(planned(&path).contains("ten groups"), "{}", planned(&path));
    // As pleasant as a file written by hand: short entries on one line.
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("(name: \"block margarine\", amount: 80"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 140), "{text}");
    println!("{how:?}: {} actions", hands.actions());
}

#[test]
fn ten_pairs_their_own_recipe_and_a_new_room_by_mouse() {
    from_nothing(How::Mouse);
}

#[test]
fn ten_pairs_their_own_recipe_and_a_new_room_by_keyboard() {
    from_nothing(How::Keyboard);
}
