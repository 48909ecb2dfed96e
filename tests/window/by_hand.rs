//! Things of the plan moved, held and edited in the window, by mouse and by
//! keys.

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::check::check;
use ovenbell::model::{GroupId, LockedTo};
use ovenbell::plan::Plan;
use ovenbell::session::Command as LessonCommand;

fn demo() -> Hands {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.open(&lesson("demo.ron"));
    hands
}

fn plan(hands: &Hands) -> Plan {
    hands.app().current_plan().expect("a plan of the lesson as it stands").plan().clone()
}

/// The plan on screen is one of the lesson as its file now says it.
fn is_sound(hands: &Hands) {
    let doc = hands.app().document().unwrap();
    let read = ovenbell::file::lesson_of_shapes(doc.file(), &[]).unwrap();
    check(&read, plan(hands)).expect("the plan keeps every rule, locks among them");
}

fn called(hands: &Hands, parts: &[&str]) -> String {
    let heard = hands.heard();
    let fits = |name: &&String| parts.iter().all(|part| name.contains(part));
    heard.iter().find(fits).unwrap_or_else(|| panic!("{parts:?} is not in {heard:?}")).clone()
}

fn button(pos: Pos2, pressed: bool, modifiers: Modifiers) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers }
}

/// Presses at one place and lets go at another; `slow` means that the press
/// and the first move come within one frame.
fn drag(hands: &mut Hands, from: Pos2, to: Pos2, slow: bool) {
    let harness = hands.harness();
    harness.event(Event::PointerMoved(from));
    harness.run_steps(2);
    harness.event(button(from, true, Modifiers::NONE));
    if !slow {
        harness.run_steps(2);
    }
    for part in 1..=4 {
        harness.event(Event::PointerMoved(from + (to - from) * (part as f32 / 4.0)));
        harness.run_steps(2);
    }
}

fn release(hands: &mut Hands, at: Pos2) {
    hands.harness().event(button(at, false, Modifiers::NONE));
    hands.harness().run_steps(4);
    hands.settle();
}

/// Clicks a bar, whose words its tooltip has as well.
fn click(hands: &mut Hands, bar: &str) {
    let root = hands.harness().root();
    let mut all = root.query_all_by_label(bar);
    all.next().unwrap().click();
}

/// Points on screen for a minute.
fn a_minute(hands: &Hands) -> f32 {
    let bar = called(hands, &["Unit 1, bake,"]);
    let load = called(hands, &["Unit 1, load,"]);
    let (bake, load) = (hands.place(&bar), hands.place(&load));
    // A load takes a minute.
    bake.left() - load.left()
}

fn load_of(plan: &Plan, group: usize) -> (i32, usize, usize) {
    let load = plan.loads.iter().find(|l| l.group == GroupId(group)).unwrap();
    (load.start.get(), load.oven.0, load.shelf.0)
}

#[test]
fn the_card_of_whatever_is_of_a_bake_names_the_minute_of_its_loading_as_that() {
    let mut hands = demo();
    let doc = hands.app().document().unwrap();
    let start = doc.lesson().unwrap().periods[0].start_clock;
    let (minute, ..) = load_of(&plan(&hands), 2);
    let loads = format!("Loads at {}", start.after(ovenbell::units::Minutes::new(minute)));
    for of in ["Unit 3, load,", "Unit 3, bake,", "Unit 3, take out,"] {
        let bar = called(&hands, &[of]);
        click(&mut hands, &bar);
        hands.wait(2);
        assert!(hands.says(&loads) && !hands.says("Starts "), "{of} {loads}: {:?}", hands.heard());
    }
    let cools = called(&hands, &["Unit 3, cool,"]);
    click(&mut hands, &cools);
    hands.wait(2);
    assert!(hands.says("Starts ") && !hands.says("Loads at "), "{:?}", hands.heard());
}

#[test]
fn a_bake_dragged_to_another_shelf_stands_there_and_undo_brings_the_very_plan_back() {
    for slow in [false, true] {
        let mut hands = demo();
        let before = plan(&hands);
        let (_, oven, shelf) = load_of(&before, 4);
        let tin = called(&hands, &["Unit 5, 10:", "shelf, "]);
        let from = hands.place(&tin).center();
        let lane = hands.place(&tin).height();
        // The other shelf of the same oven.
        let down = if shelf == 0 { 1.0 } else { -1.0 };
        let to = from + vec2(0.0, down * (lane + 5.0));
        drag(&mut hands, from, to, slow);
        assert!(hands.says("Unit 5's bake to"), "{:?}", hands.heard());
        release(&mut hands, to);
        let after = load_of(&plan(&hands), 4);
        assert_eq!((after.1, after.2), (oven, 1 - shelf), "slow: {slow}");
        is_sound(&hands);
        assert!(called(&hands, &["Unit 5, 10:", "shelf, "]).ends_with(", held"));
        hands.command(Key::Z);
        hands.settle();
        assert_eq!(plan(&hands), before, "undo shows the plan that stood before");
        hands.command(Key::Y);
        hands.settle();
        assert_eq!(load_of(&plan(&hands), 4), after);
    }
}

#[test]
fn what_a_rule_forbids_is_told_with_its_sum_and_nothing_changes() {
    let mut hands = demo();
    let before = plan(&hands);
    let bar = called(&hands, &["Unit 1, bake,"]);
    let (from, minute) = (hands.place(&bar).center(), a_minute(&hands));
    // Far too late for it to cool and be boxed by the bell.
    let to = from + vec2(20.0 * minute, 0.0);
    drag(&mut hands, from, to, false);
    for _ in 0..200 {
        hands.harness().run_steps(2);
        if hands.says("cannot be put here") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    assert!(hands.says("cannot be put here"), "{:?}", hands.heard());
    release(&mut hands, to);
    let told = called(&hands, &["Not put there: "]);
    assert!(told.contains("min") || told.contains(':'), "no sum in {told}");
    assert_eq!(plan(&hands), before);
    assert_eq!(hands.app().document().unwrap().can_undo(), None);
}

#[test]
fn escape_leaves_what_is_dragged_or_carried_where_it_was() {
    let mut hands = demo();
    let before = plan(&hands);
    let bar = called(&hands, &["Unit 3, bake,"]);
    let from = hands.place(&bar).center();
    drag(&mut hands, from, from + vec2(30.0, 0.0), false);
    hands.key(Key::Escape);
    release(&mut hands, from + vec2(30.0, 0.0));
    assert_eq!(plan(&hands), before);
    // And by keys, with the focus staying where it is.
    click(&mut hands, &bar);
    hands.harness().run_steps(4);
    hands.harness().key_press_modifiers(Modifiers::ALT, Key::ArrowRight);
    hands.harness().run_steps(4);
    assert!(hands.says("Enter puts it here"), "{:?}", hands.heard());
    hands.key(Key::Escape);
    hands.settle();
    assert_eq!(plan(&hands), before);
    let focused = hands.harness().root().query_all_by(|n| n.is_focused()).next();
    assert_eq!(focused.and_then(|n| n.accesskit_node().label()), Some(bar));
    assert_eq!(hands.app().document().unwrap().can_undo(), None);
}

#[test]
fn a_whole_row_dragged_by_its_name_keeps_its_shape() {
    let mut hands = demo();
    let starts = |plan: &Plan| -> Vec<i32> {
        plan.steps.iter().filter(|s| s.group == GroupId(4)).map(|s| s.start.get()).collect()
    };
    let before = starts(&plan(&hands));
    let name = called(&hands, &["Unit 5, 12 buns", "ready"]);
    let (from, minute) = (hands.place(&name).center(), a_minute(&hands));
    let to = from + vec2(2.0 * minute, 0.0);
    drag(&mut hands, from, to, false);
    release(&mut hands, to);
    let after = starts(&plan(&hands));
    let bell = plan(&hands).steps.iter().map(|s| s.start.get()).min().unwrap();
    assert!(bell <= 0, "weighing is done beforehand");
    let moved: Vec<i32> = before.iter().map(|m| if *m < 0 { *m } else { m + 2 }).collect();
    assert_eq!(after, moved, "{:?}", hands.heard());
    is_sound(&hands);
    assert!(called(&hands, &["Unit 5, 12 buns", "ready"]).contains("all of it held"));
}

#[test]
fn several_selected_are_moved_and_held_together() {
    let mut hands = demo();
    let before = plan(&hands);
    let (one, other) = (called(&hands, &["Unit 5, bake,"]), called(&hands, &["Unit 8, bake,"]));
    let at = hands.place(&one).center();
    click(&mut hands, &one);
    hands.harness().run_steps(4);
    hands.harness().get_by_label(&other).click_modifiers(Modifiers::COMMAND);
    hands.harness().run_steps(4);
    assert!(hands.says("Two selected"), "{:?}", hands.heard());
    let to = at + vec2(a_minute(&hands), 0.0);
    drag(&mut hands, at, to, false);
    release(&mut hands, to);
    let after = plan(&hands);
    for group in [4, 7] {
        assert_eq!(load_of(&after, group).0, load_of(&before, group).0 + 1, "{:?}", hands.heard());
    }
    is_sound(&hands);
    // One step of undo.
    hands.command(Key::Z);
    hands.settle();
    assert_eq!(plan(&hands), before);
}

#[test]
fn a_double_click_edits_in_its_place() {
    let mut hands = demo();
    let name = called(&hands, &["Unit 8, 10 buns", "ready"]);
    let before = plan(&hands);
    let at = hands.place(&name).center();
    // Frames of the harness are a quarter of a second apart.
    hands.harness().ctx.options_mut(|o| o.input_options.max_double_click_delay = 3.0);
    hands.harness().event(Event::PointerMoved(at));
    for _ in 0..2 {
        hands.harness().event(button(at, true, Modifiers::NONE));
        hands.harness().event(button(at, false, Modifiers::NONE));
    }
    hands.harness().run_steps(3);
    assert!(hands.says("Name of the group"), "{:?}", hands.heard());
    hands.type_here("Unit by the door");
    hands.enter();
    hands.settle();
    assert!(hands.says("Unit by the door, 10 buns"), "{:?}", hands.heard());
    assert_eq!(plan(&hands), before, "a name moves nothing");
    // A bake's time, by F2.
    let bar = called(&hands, &["Unit by the door, bake,"]);
    click(&mut hands, &bar);
    hands.harness().run_steps(4);
    hands.key(Key::F2);
    hands.harness().run_steps(4);
    let load = load_of(&before, 7).0;
    hands.type_here(&format!("10:{:02}", 5 + load + 1));
    hands.enter();
    hands.settle();
    assert_eq!(load_of(&plan(&hands), 7).0, load + 1, "{:?}", hands.heard());
    is_sound(&hands);
    // Nonsense is refused with a reason.
    hands.key(Key::F2);
    hands.harness().run_steps(4);
    hands.type_here("soon");
    hands.enter();
    assert!(hands.says("Not moved: "), "{:?}", hands.heard());
}

#[test]
fn locks_that_contradict_each_other_are_named_and_can_be_let_go() {
    let mut hands = Hands::new(How::Mouse, |data| {
        let text = std::fs::read_to_string(lesson("demo.ron")).unwrap();
        let file = ovenbell::file::read_lesson(&text).unwrap().file;
        let mut file = file;
        // Two sponges of two tins each, and a tray of buns, on one shelf at one time.
        for group in ["Unit 6", "Unit 7", "Unit 8"] {
            file.locks.push(ovenbell::file::format::LockShape {
                group: group.to_owned(),
                oven: Some("Oven 4".to_owned()),
                shelf: Some(2),
                ..Default::default()
            });
            file.locks.push(ovenbell::file::format::LockShape {
                group: group.to_owned(),
                step: Some("bake".to_owned()),
                at: Some(26),
                ..Default::default()
            });
        }
        let text = ovenbell::file::write_lesson(&file).unwrap();
        std::fs::write(data.join("locked.ron"), text).unwrap();
    });
    let path = hands.file("locked.ron");
    hands.open(&path);
    hands.wait_for("What is held contradicts itself");
    let told = called(&hands, &["What is held contradicts itself"]);
    assert!(told.contains("Unit"), "{told}");
    let before = hands.app().current_plan().unwrap().objective().served;
    let first = called(&hands, &["Let go: Unit"]);
    hands.press(&first);
    hands.settle();
    let after = hands.app().current_plan().unwrap().objective().served;
    assert!(after > before || hands.says("What is held contradicts itself"), "{told}");
}

#[test]
fn holding_keeps_the_plan_and_planning_anew_keeps_what_is_held() {
    let mut hands = demo();
    let before = plan(&hands);
    let name = called(&hands, &["Unit 1, 2 foil", "ready"]);
    hands.press(&name);
    hands.settle();
    hands.press("Tin held");
    hands.settle();
    assert_eq!(plan(&hands), before, "what is held where it is moves nothing");
    let locks = &hands.app().document().unwrap().lesson().unwrap().locks;
    assert!(locks.iter().any(|l| l.group == GroupId(0) && matches!(l.to, LockedTo::Tin(_))));
    hands.harness().state_mut().apply(LessonCommand::PlanAnew);
    hands.settle();
    is_sound(&hands);
    hands.press("Tin held");
    hands.settle();
    assert!(hands.app().document().unwrap().lesson().unwrap().locks.is_empty());
}
