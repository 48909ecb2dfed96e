//! The whole job, from an empty window to a saved lesson with part of its plan
//! held: by keyboard alone, and by actions of the accessibility tree alone.

use std::path::PathBuf;

use crate::common::hands::{Hands, How};
use egui::Key;
use egui::accesskit::{Action, ActionData, ActionRequest};
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::check::check;
use ovenbell::file::load_lesson;
use ovenbell::model::{GroupId, LockedTo};

/// A window with nothing in it but a room kept earlier.
fn empty(how: How) -> Hands {
    Hands::new(how, |data| {
        let file =
            ovenbell::file::read_lesson(include_str!("../../lessons/demo.ron")).unwrap().file;
        let disk = std::sync::Arc::new(ovenbell::file::RealDisk);
        let own = ovenbell::file::own_library::OwnLibrary::at(Some(data.to_owned()), disk);
        own.keep(&ovenbell::file::own_library::OwnEntry::Room(file.room)).unwrap();
    })
}

/// The lesson in its fields.
fn fields(hands: &mut Hands) {
    hands.press("Harbour lemon traybake");
    hands.press("Room 4");
    hands.fill("Class", "9 Quay");
    hands.fill("Pupils", "14");
    hands.fill("Date", "3 December");
    hands.fill("Start bell", "10:05");
    hands.fill("End bell", "11:15");
    hands.settle();
}

/// Whatever a screen reader calls the first thing of which this is a part.
fn called(hands: &Hands, parts: &[&str]) -> String {
    let heard = hands.heard();
    let fits = |name: &&String| parts.iter().all(|part| name.contains(part));
    heard.iter().find(fits).unwrap_or_else(|| panic!("{parts:?} is not in {heard:?}")).clone()
}

/// When a group's bake starts by the plan on screen, and where it stands.
fn bakes(hands: &Hands, group: usize) -> (i32, usize, usize) {
    let plan = hands.app().current_plan().expect("a plan of the lesson as it stands").plan();
    let load = plan.loads.iter().find(|l| l.group == GroupId(group)).unwrap();
    (load.start.get(), load.oven.0, load.shelf.0)
}

/// The saved file holds what was moved, and so does a plan of it.
fn ends_well(hands: &Hands, at: (i32, usize, usize), held: usize) {
    let path: PathBuf = hands.app().document().unwrap().path.clone().expect("it was saved");
    let read = load_lesson(&path).unwrap();
    let lesson = &read.lesson;
    let of = |g: usize| lesson.locks.iter().filter(move |l| l.group == GroupId(g));
    let start =
        |l: &ovenbell::model::Lock| matches!(&l.to, LockedTo::Start(_, m) if m.get() == at.0);
    assert!(of(0).any(start), "{:?}", lesson.locks);
    assert!(of(held).any(|l| matches!(l.to, LockedTo::Oven(..))), "{:?}", lesson.locks);
    assert!(of(held).any(|l| matches!(l.to, LockedTo::Tin(_))), "{:?}", lesson.locks);
    let plan = hands.app().current_plan().unwrap().plan().clone();
    let checked = check(lesson, plan).expect("the plan on screen is one of the saved lesson");
    assert_eq!(checked.objective().served, 7);
    assert!(!hands.app().document().unwrap().changed);
}

#[test]
fn by_keyboard_alone() {
    let mut hands = empty(How::Keyboard);
    hands.command(Key::N);
    fields(&mut hands);
    hands.command(Key::Num1);
    hands.press("Plan");
    hands.settle();
    let before = bakes(&hands, 0);
    // To the board, which is one stop for Tab, and along its first row.
    let first = hands.app().current_plan().unwrap().plan().steps.len();
    assert!(first > 0);
    let names = called(&hands, &["Unit 1,", "ready"]);
    hands.reach(&names);
    let row = called(&hands, &["Unit 7,", "ready"]);
    hands.reach(&row);
    hands.key(Key::L);
    hands.settle();
    assert!(hands.says("all of it held"), "{:?}", hands.heard());
    let bake = called(&hands, &["Unit 1, bake,"]);
    go_to(&mut hands, &bake);
    for _ in 0..2 {
        hands.harness().key_press_modifiers(egui::Modifiers::ALT, Key::ArrowRight);
        hands.harness().run_steps(4);
    }
    assert!(hands.says("Unit 1's bake to"), "{:?}", hands.heard());
    hands.key(Key::Enter);
    hands.settle();
    let after = bakes(&hands, 0);
    assert_eq!(after.0, before.0 + 2, "{:?}", hands.heard());
    hands.command(Key::S);
    hands.wait_for("Save to this file");
    let path = hands.file("lemon.ron").to_string_lossy().into_owned();
    hands.type_here(&path);
    hands.enter();
    hands.settle();
    ends_well(&hands, after, 6);
}

/// Arrow keys from bar to bar until this one has the focus.
fn go_to(hands: &mut Hands, bar: &str) {
    let focused = |hands: &mut Hands| {
        let root = hands.harness().root();
        let node = root.query_all_by(|n| n.is_focused()).next();
        node.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
    };
    // Tab goes on to the board's one stop, wherever on it that is.
    for _ in 0..60 {
        hands.harness().key_press(Key::Tab);
        hands.harness().run_steps(2);
        if focused(hands).contains(", weigh,") || focused(hands).contains(", beat,") {
            break;
        }
    }
    for key in [Key::ArrowUp, Key::ArrowRight] {
        for _ in 0..60 {
            if focused(hands) == bar {
                return;
            }
            hands.key(key);
        }
    }
    panic!("arrows do not reach {bar}: {}", focused(hands));
}

/// Asks for one of the actions that something offers under that name.
fn ask(hands: &mut Hands, label: &str, action: &str) {
    let request = {
        let root = hands.harness().root();
        let node = root.get_by_label(label).accesskit_node();
        let offered = node.data().custom_actions();
        let found = offered.iter().find(|a| *a.description == *action);
        let (target_node, target_tree) = node.locate();
        ActionRequest {
            action: Action::CustomAction,
            target_tree,
            target_node,
            data: Some(ActionData::CustomAction(found.expect("it is offered").id)),
        }
    };
    hands.harness().event(egui::Event::AccessKitActionRequest(request));
    hands.harness().run_steps(4);
}

#[test]
fn by_actions_of_the_accessibility_tree_alone() {
    let mut hands = empty(How::Access);
    hands.press("Lesson");
    hands.press("New");
    fields(&mut hands);
    hands.press("Plan");
    hands.settle();
    let before = bakes(&hands, 0);
    let row = called(&hands, &["Unit 7,", "ready"]);
    ask(&mut hands, &row, "hold it here, or let go of it");
    hands.settle();
    assert!(hands.says("all of it held"), "{:?}", hands.heard());
    let bake = called(&hands, &["Unit 1, bake,"]);
    for _ in 0..2 {
        let now = called(&hands, &["Unit 1, bake,"]);
        hands.harness().get_by_label(&now).increment_accesskit();
        hands.harness().run_steps(4);
        hands.settle();
    }
    let after = bakes(&hands, 0);
    assert_eq!(after.0, before.0 + 2, "{bake}: {:?}", hands.heard());
    hands.press("Lesson");
    hands.press("Save");
    hands.wait_for("Save to this file");
    let path = hands.file("lemon.ron").to_string_lossy().into_owned();
    hands.fill("Save to this file:", &path);
    hands.press("Save to it");
    hands.settle();
    ends_well(&hands, after, 6);
}
