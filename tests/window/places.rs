//! The places of a lesson, the row along the top and the head under it: what is
//! where stays there, at every place and in every state.

use std::path::Path;

use crate::common::hands::{Hands, How};
use crate::common::spoken::{lesson, quick};
use egui::{Key, Modifiers, Rect, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Command, PLACES, Page, Place, Selection, Start};
use ovenbell::edit::Edit;
use ovenbell::model::GroupId;
use ovenbell::session::Command as LessonCommand;

/// Everything in the row.
const ROW: [&str; 11] = [
    "Lesson",
    "Undo",
    "Redo",
    "Set up",
    "Plan",
    "Rehearse",
    "The day",
    "Papers",
    "Class view",
    "Help",
    "Looks",
];

/// Points of a school's laptop at 100 % and at 150 %, of an old projector at
/// 150 %, and of a large screen.
const SIZES: [[f32; 2]; 4] = [[1092.0, 614.0], [728.0, 409.3], [682.7, 512.0], [1920.0, 1080.0]];

fn at(size: [f32; 2], name: &str) -> Hands {
    let mut hands = Hands::sized(How::Keyboard, size, |_| {});
    hands.open(&lesson(name));
    hands
}

/// Where the buttons of the row are; a help page may have a title of that name.
fn row(hands: &Hands) -> Vec<Rect> {
    let button = |label: &'static str| {
        let mut buttons = hands.window().root().query_all_by(move |n| {
            n.role() == egui::Role::Button && n.label().as_deref() == Some(label)
        });
        buttons.next().unwrap().rect()
    };
    ROW.into_iter().map(button).collect()
}

/// The place that is said to be the one shown.
fn shown(hands: &Hands) -> Vec<&'static str> {
    let is = |label: &'static str| {
        let mut shown = hands.window().root().query_all_by(move |n| {
            n.role() == egui::Role::Button
                && n.label().as_deref() == Some(label)
                && n.toggled() == Some(egui::accesskit::Toggled::True)
        });
        shown.next().is_some()
    };
    PLACES.iter().map(|stop| stop.name).filter(|name| is(name)).collect()
}

fn one_pupil(hands: &mut Hands) {
    hands.apply(LessonCommand::Edit(Edit::Pupils { group: "Unit 1".into(), pupils: 1 }));
}

fn focused(hands: &Hands) -> String {
    let focused = hands.window().root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

#[test]
fn the_row_stays_where_it_is_at_every_place_and_in_every_state() {
    for size in SIZES {
        let mut hands = at(size, "demo.ron");
        let first = row(&hands);
        let window = Rect::from_min_size(egui::Pos2::ZERO, vec2(size[0], size[1]));
        for (i, rect) in first.iter().enumerate() {
            assert!(window.contains_rect(*rect), "{size:?}: {} at {rect:?}", ROW[i]);
            let over = first[..i].iter().position(|other| other.intersects(*rect));
            assert_eq!(over.map(|o| ROW[o]), None, "{size:?}: lies over {}", ROW[i]);
        }
        for stop in PLACES {
            hands.apply(Command::Go(stop.place));
            hands.wait(2);
            assert_eq!(shown(&hands), [stop.name]);
            assert_eq!(row(&hands), first, "{size:?}: at {}", stop.name);
        }
        hands.apply(Command::Help(None));
        hands.wait(2);
        assert_eq!(row(&hands), first, "{size:?}: help");
        hands.apply(Command::Help(None));
        one_pupil(&mut hands);
        hands.settle();
        assert!(hands.says("Not saved"));
        assert_eq!(row(&hands), first, "{size:?}: changed");
        hands.apply(LessonCommand::New);
        hands.settle();
        assert_eq!(row(&hands), first, "{size:?}: a new lesson");
    }
}

#[test]
fn places_are_gone_to_by_their_keys_and_a_lesson_opens_at_its_plan() {
    let mut hands = at([1280.0, 800.0], "demo.ron");
    assert_eq!(shown(&hands), ["Plan"]);
    hands.command(Key::Num1);
    assert_eq!(shown(&hands), ["Set up"]);
    assert!(hands.says("Page of lemon bake"), "{:?}", hands.heard());
    hands.apply(Command::SetUp(Page::Groups));
    hands.command(Key::Num2);
    assert_eq!(shown(&hands), ["Plan"]);
    assert!(hands.says("Minute line, hidden"));
    // Back on the page that was left; once more, on the first one.
    hands.command(Key::Num1);
    assert!(hands.says("Unit 2, allergens to choose from"), "{:?}", hands.heard());
    hands.command(Key::Num1);
    assert!(!hands.says("Unit 2, allergens to choose from") && hands.says("See the plan"));
    hands.open(&lesson("a-scones-hour.ron"));
    assert_eq!(shown(&hands), ["Plan"]);
    for stop in PLACES {
        assert!(stop.what.starts_with(&format!("to {}", stop.name)), "{stop:?}");
    }
}

#[test]
fn f6_goes_from_part_to_part_of_the_window() {
    let mut hands = at([1280.0, 800.0], "demo.ron");
    let mut gone = Vec::new();
    for _ in 0..4 {
        hands.key(Key::F6);
        hands.wait(2);
        gone.push(focused(&hands));
    }
    let first = hands.app().session().planned().unwrap().board.bars().next().unwrap();
    assert_eq!(gone, ["Lesson", first.spoken.as_str(), "Card", "Lesson"]);
    hands.harness().key_press_modifiers(Modifiers::SHIFT, Key::F6);
    hands.wait(4);
    assert_eq!(focused(&hands), "Card");
    // The Tab key goes on to what is on the card, and the card itself is no stop.
    hands.apply(Command::Select(Selection::Group(GroupId(0))));
    hands.settle();
    hands.key(Key::F6);
    hands.key(Key::F6);
    hands.key(Key::F6);
    hands.wait(2);
    assert_eq!(focused(&hands), "Card");
    hands.key(Key::Tab);
    assert_eq!(focused(&hands), "Leave out");
    hands.harness().key_press_modifiers(Modifiers::SHIFT, Key::Tab);
    hands.wait(4);
    assert_ne!(focused(&hands), "Card");
    // From a field that is being typed in.
    hands.command(Key::Num1);
    hands.reach("Class");
    hands.key(Key::F6);
    hands.wait(2);
    assert_eq!(focused(&hands), "Lesson");
    hands.key(Key::F6);
    hands.wait(2);
    assert_eq!(focused(&hands), "Page");
    // A list is a part like the picture.
    hands.command(Key::Num2);
    hands.apply(Command::ToggleList);
    while focused(&hands) != "Lesson" {
        hands.key(Key::F6);
        hands.wait(2);
    }
    hands.key(Key::F6);
    hands.wait(2);
    assert_eq!(focused(&hands), "Running order");
}

/// Where what is under the head begins.
fn top(hands: &Hands) -> f32 {
    hands.place("View").top()
}

/// What the head took of 614 and 768 pixels at 100 % when every command had a
/// button of its own in it.
const BEFORE: [(f32, [f32; 2]); 2] = [(126.0, [728.0, 409.3]), (157.0, [682.7, 512.0])];

#[test]
fn at_150_per_cent_the_head_is_no_higher_than_it_was_at_100() {
    for (pixels, size) in BEFORE {
        let hands = at(size, "demo.ron");
        // Above the menu in the corner of the running order lie the sheet's edge
        // and its air.
        let head = top(&hands) - 11.0;
        assert!(head * 1.5 <= pixels + 3.0, "{size:?}: {} pixels", head * 1.5);
    }
}

#[test]
fn nothing_jumps_whatever_there_is_to_tell() {
    for size in SIZES {
        let mut hands = at(size, "demo.ron");
        let before = top(&hands);
        // A lesson whose reason is long.
        hands.open(&lesson("g-whisks-ten.ron"));
        assert_eq!(top(&hands), before, "{size:?}: a long reason");
        let lock = hands.app().document().unwrap().lesson().unwrap().groups[0].name.clone();
        hands.apply(LessonCommand::Edit(Edit::LeftOut { group: lock, out: true }));
        hands.wait(1);
        assert_eq!(top(&hands), before, "{size:?}: while it is planned");
        hands.apply(LessonCommand::Undo);
        hands.apply(LessonCommand::Stop);
        hands.apply(LessonCommand::Open("no such file.ron".into()));
        hands.wait(4);
        let window = hands.window();
        let told = "There is no file no such file.ron.";
        let is = |n: &egui_kittest::kittest::AccessKitNode<'_>| {
            n.role() == egui::Role::Label && n.value().as_deref() == Some(told)
        };
        let told = window.get_by(is).rect();
        assert_eq!(top(&hands), before, "{size:?}: with a message");
        assert!(told.top() > before && told.bottom() < size[1], "{size:?}: {told:?}");
        assert!(told.left() > 0.0 && told.right() < size[0], "{size:?}: {told:?}");
        hands.key(Key::Escape);
        assert!(!hands.says("There is no file"), "Escape puts it away");
    }
}

#[test]
fn the_head_names_title_class_and_day_and_when_ovens_go_on() {
    let hands = at([1280.0, 800.0], "demo.ron");
    assert!(hands.says("Lemon bakes and a sponge · 9 Harbour · 26 November · 10:05 to 11:10"));
    let on = hands.heard().into_iter().find(|words| words.starts_with("Ovens on: "));
    let plan = hands.app().plan().unwrap();
    let first = plan.plan().settings.iter().min_by_key(|s| s.set_at).unwrap();
    let lesson = hands.app().document().unwrap().lesson().unwrap();
    let at = lesson.periods[0].start_clock.after(first.set_at - ovenbell::units::Minute::BELL);
    let on = on.expect("it is told");
    let name = &lesson.ovens[first.oven.0].name;
    assert!(on.starts_with(&format!("Ovens on: {name}")) && on.contains(&at.to_string()), "{on}");
    // Bells give way first, then the end of the title.
    let hands = self::at([728.0, 409.3], "demo.ron");
    let heading = hands.heard().into_iter().find(|w| w.contains("9 Harbour")).unwrap();
    assert!(heading.ends_with("9 Harbour · 26 November"), "{heading}");
}

#[test]
fn what_is_gone_back_to_is_saved_and_leaves_no_copy() {
    let mut hands = at([1280.0, 800.0], "demo.ron");
    let path = hands.app().document().unwrap().path.clone().unwrap();
    assert!(hands.says("Saved"));
    let files = |path: &Path| std::fs::read_dir(path.parent().unwrap()).unwrap().count();
    let before = files(&path);
    one_pupil(&mut hands);
    hands.settle();
    assert!(hands.app().document().unwrap().changed && hands.says("Not saved"));
    hands.command(Key::Z);
    hands.settle();
    assert!(!hands.app().document().unwrap().changed, "it equals its file");
    assert!(!hands.says("Not saved") && hands.says("Saved"));
    assert_eq!(files(&path), before, "a copy of changes is left");
    hands.command(Key::Y);
    hands.settle();
    assert!(hands.app().document().unwrap().changed);
    // Saved as changed, it is the lesson before that is not saved.
    hands.apply(LessonCommand::Save);
    assert!(!hands.app().document().unwrap().changed);
    hands.command(Key::Z);
    hands.settle();
    assert!(hands.app().document().unwrap().changed);
}

fn started(settings: &Path, file: Option<std::path::PathBuf>) -> Harness<'static, App> {
    let settings = Some(settings.to_owned());
    let start = Start { settings, file, ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_steps(4);
    harness
}

#[test]
fn the_lesson_of_last_time_is_opened_and_the_sample_only_at_first() {
    let settings = tempfile::tempdir().unwrap();
    let path = lesson("a-scones-hour.ron");
    let harness = started(settings.path(), None);
    let doc = harness.state().document().unwrap();
    assert!(doc.is_sample && doc.name() == "sample lesson");
    drop(harness);
    drop(started(settings.path(), Some(path.clone())));
    let mut harness = started(settings.path(), None);
    assert_eq!(harness.state().document().unwrap().path.as_ref(), Some(&path));
    // From the help the sample is a press away.
    harness.key_press(Key::F1);
    harness.run_steps(4);
    harness.get_by_label("Open the sample lesson").click();
    harness.run_steps(4);
    assert!(harness.state().document().unwrap().is_sample);
    harness.state_mut().apply(LessonCommand::New);
    harness.run_steps(2);
    let doc = harness.state().document().unwrap();
    assert!(!doc.is_sample && doc.name() != "sample lesson", "{}", doc.name());
    drop(harness);
    // Gone meanwhile: that is told, and the sample is there.
    std::fs::remove_file(&path).unwrap();
    let harness = started(settings.path(), None);
    assert!(harness.state().document().unwrap().is_sample);
    let told = harness.state().session().message().unwrap_or_default();
    assert!(told.starts_with("There is no file "), "{told}");
}

#[test]
fn without_a_lesson_no_place_is_gone_to() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.ron");
    std::fs::write(&path, "(format: 1, title:").unwrap();
    let start = Start { file: Some(path), ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_steps(4);
    assert!(harness.state().document().is_none());
    harness.state_mut().apply(Command::Go(Place::SetUp));
    harness.run_steps(4);
    assert!(harness.state().session().broken().is_some(), "its findings stay");
}
