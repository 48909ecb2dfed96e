//! A week in the window: a head of department's questions answered with the mouse, by
//! keys alone and by the accessibility tree alone.

use std::fs;
use std::path::{Path, PathBuf};

use crate::common::hands::{Hands, How};
use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{Command, Place};
use ovenbell::session::{Command as LessonCommand, WeekCommand};
use ovenbell::week::EntryNo;

/// Six lessons of the worked week, with what goes wrong in it on Monday and Thursday.
fn worked_week(folder: &Path) -> PathBuf {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/week");
    for name in ["sponge.ron", "buns.ron", "muffins.ron"] {
        fs::copy(from.join(name), folder.join(name)).unwrap();
    }
    let wanted = ["on: Thu, at: \"P3\"", "class: \"9C\"", "class: \"8B\", on: Mon"];
    let whole = fs::read_to_string(from.join("week.ron")).unwrap();
    let is_wanted = |line: &&str| {
        let entry = line.trim_start().starts_with("(file:") || line.contains("(booking:");
        !entry || wanted.iter().any(|part| line.contains(part))
    };
    let some: Vec<&str> = whole.lines().filter(is_wanted).collect();
    let path = folder.join("week.ron");
    fs::write(&path, some.join("\n")).unwrap();
    path
}

fn at_the_week(how: How, size: [f32; 2]) -> Hands {
    let mut hands = Hands::sized(how, size, |folder| {
        worked_week(folder);
    });
    let path = hands.file("week.ron");
    hands.open(&path);
    hands
}

fn focused(hands: &Hands) -> String {
    let focused = hands.window().root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

/// The whole name of what is said that begins so and has this part.
fn named(hands: &Hands, begins: &str, part: &str) -> String {
    let heard = hands.heard();
    let found = heard.iter().find(|h| h.starts_with(begins) && h.contains(part));
    found.unwrap_or_else(|| panic!("{begins} … {part} is not said: {heard:?}")).clone()
}

#[test]
fn a_heads_five_questions_are_answered() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at_the_week(how, [1280.0, 1000.0]);
        assert!(hands.says("Thursday 11:32 to 11:38"), "{:?}", hands.heard());
        // What is tightest, and when must the technician start?
        assert!(hands.says("Tightest in ovens") && hands.says("5 of 5"));
        assert!(hands.says("the technician starts by"), "{:?}", hands.heard());
        // Is period 3 on Thursday possible? Not as it stands.
        hands.press(&named(&hands, "Thursday P3, 8A", "all 10 groups out"));
        let clash = named(&hands, "Thursday 11:32 to 11:38", "10 + 8 = 18 electric whisks");
        assert!(hands.says("Open the lesson") && hands.says("Does not go well"));
        assert!(hands.says("Thu 11:32 to 11:38: 18 electric whisks wanted, 10 there"), "{clash}");
        // What is the least move? It is tried before it is kept.
        let file = fs::read_to_string(hands.file("week.ron")).unwrap();
        hands.press(&named(&hands, "1. 9C swaps what it bakes", "It asks: 9C only"));
        hands.settle();
        assert!(hands.says("Cleared: Thursday 11:32 to 11:38"), "{:?}", hands.heard());
        hands.press("Keep");
        hands.settle();
        assert!(!hands.says("electric whisks wanted") && hands.says("Not saved"));
        assert_eq!(fs::read_to_string(hands.file("week.ron")).unwrap(), file);
        hands.press("Undo");
        hands.settle();
        assert!(hands.says("18 electric whisks wanted") && hands.says("Saved"));
        // What if oven 5 is out too, until Thursday?
        hands.press("Room 1, 5 ovens, Oven 4 out of order");
        hands.press("Oven 5 out until…");
        hands.press("Monday to Thursday");
        hands.settle();
        assert!(hands.says("Breaks Monday P4, 8B"), "{:?}", hands.heard());
        assert!(hands.says("Breaks Thursday P3, 8A"), "{:?}", hands.heard());
        hands.press("Leave it as it is");
        assert!(!hands.says("Breaks Thursday P3, 8A"));
    }
}

#[test]
fn by_keys_alone_a_week_is_read_a_lesson_opened_and_come_back_from() {
    let mut hands = at_the_week(How::Keyboard, [1280.0, 800.0]);
    hands.reach("Room 1, 5 ovens, Oven 4 out of order");
    hands.key(Key::ArrowRight);
    assert!(focused(&hands).starts_with("Monday P4, 8B, Room 1"), "{}", focused(&hands));
    hands.key(Key::ArrowDown);
    assert!(focused(&hands).contains("Room 2"), "{}", focused(&hands));
    hands.key(Key::ArrowUp);
    hands.key(Key::ArrowRight);
    assert!(focused(&hands).starts_with("Thursday P3, 8A, Room 1"), "{}", focused(&hands));
    // The day by itself, and back.
    hands.key(Key::Plus);
    assert!(hands.says("Thursday 3 December: show the whole week"), "{:?}", hands.heard());
    assert!(!hands.says("Room 1, Whisked sponge: no plan found"));
    hands.key(Key::Escape);
    assert!(hands.says("Thursday 3 December: show this day"));
    hands.key(Key::Enter);
    hands.settle();
    assert!(
        hands.says("From the week: 8A, Thursday P3, Room 1, 11:20 to 12:20"),
        "{:?}",
        hands.heard()
    );
    let path = hands.app().document().unwrap().path.clone().unwrap();
    assert_eq!(path.file_name().unwrap(), "sponge.ron");
    hands.command(Key::Num7);
    assert!(hands.app().session().week_on_screen().is_some());
    hands.command(Key::Num1);
    assert!(hands.says("‹ Week") && hands.app().session().week_on_screen().is_none());
    hands.apply(Command::Go(Place::Plan));
    hands.press("‹ Week");
    assert!(hands.app().session().week_on_screen().is_some());
}

#[test]
fn everything_is_within_the_window_at_every_size() {
    for size in [[1092.0, 614.0], [1920.0, 1080.0], [728.0, 409.3]] {
        let mut hands = at_the_week(How::Mouse, size);
        hands.wait(2);
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, size.into());
        for name in ["Undo", "Redo", "Help", "Looks", "Room 1, 5 ovens, Oven 4 out of order"] {
            let at = hands.place(name);
            assert!(window.contains_rect(at), "{size:?}: {name} at {at:?}");
        }
        // F6 goes round its parts.
        let mut met = Vec::new();
        for _ in 0..4 {
            hands.harness().key_press(Key::F6);
            hands.wait(3);
            met.push(focused(&hands));
        }
        assert!(met.contains(&"Card".to_owned()), "{met:?}");
        assert!(met.contains(&"What would clear it".to_owned()), "{met:?}");
        // With a lesson of it, the way back beside all that a lesson has.
        let thursday = EntryNo(2);
        hands.apply(LessonCommand::Week(WeekCommand::OpenLesson(thursday)));
        hands.wait(2);
        let row = ["Lesson", "Undo", "Redo", "‹ Week", "Set up", "Plan", "Papers", "Help", "Looks"];
        let places = row.map(|name: &'static str| {
            let mut buttons = hands.window().root().query_all_by(move |n| {
                n.role() == egui::Role::Button && n.label().as_deref() == Some(name)
            });
            buttons.next().unwrap().rect()
        });
        for (i, rect) in places.iter().enumerate() {
            assert!(window.contains_rect(*rect), "{size:?}: {} at {rect:?}", row[i]);
            let over = places[..i].iter().position(|other| other.intersects(*rect));
            assert_eq!(over.map(|o| row[o]), None, "{size:?}: lies over {}", row[i]);
        }
    }
}

#[test]
fn a_lesson_is_moved_by_hand_or_by_name_and_tried_before_it_is_kept() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at_the_week(how, [1280.0, 1000.0]);
        let file = fs::read_to_string(hands.file("week.ron")).unwrap();
        let buns = named(&hands, "Thursday P3, 9C", "Room 2");
        let third = hands.place("Room 3, 8 ovens").center();
        let over = |hands: &Hands, name: &str| egui::pos2(hands.place(name).center().x, third.y);
        // What is held stays.
        let sponge = named(&hands, "Thursday P3, 8A", "held");
        let (from, to) = (hands.place(&sponge).center(), over(&hands, &sponge));
        hands.drag_between(from, to);
        assert!(!hands.says("Tried on the picture"));
        if how == How::Mouse {
            let (from, to) = (hands.place(&buns).center(), over(&hands, &buns));
            // Let go beside every track it is where it was.
            hands.drag_between(from, egui::pos2(from.x, 20.0));
            assert!(!hands.says("Tried on the picture"));
            hands.drag_between(from, to);
        } else {
            hands.press(&buns);
            hands.press("Move to another room or period…");
            hands.press("Thursday P3, Room 3");
        }
        hands.settle();
        assert!(hands.says("Tried on the picture"), "{how:?}: {:?}", hands.heard());
        // Room 3 has eight whisks of its own.
        assert!(hands.says("Cleared: Thursday 11:32 to 11:38"), "{:?}", hands.heard());
        hands.press("Keep");
        hands.settle();
        named(&hands, "Thursday P3, 9C", "Room 3");
        assert_eq!(fs::read_to_string(hands.file("week.ron")).unwrap(), file);
        hands.press("Undo");
        hands.settle();
        named(&hands, "Thursday P3, 9C", "Room 2");
    }
}

#[test]
fn what_a_week_needs_and_prints_is_seen_by_mouse_by_keys_and_by_ear() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at_the_week(how, [1280.0, 1000.0]);
        hands.press("Papers");
        hands.settle();
        hands.wait_for("Technician's day");
        assert!(hands.says("technician's day 1, order list 1"), "{how:?}: {:?}", hands.heard());
        assert!(hands.says("Technician's day, 1 page") && !hands.says("Copy running order"));
        hands.press("Running order");
        hands.settle();
        let pages = hands.app().session().sheets().unwrap().sheets.len();
        hands.press("Thursday");
        hands.settle();
        let of_day = hands.app().session().sheets().unwrap().sheets.len();
        assert!(of_day < pages, "{of_day} of {pages}");
        hands.press("Print to a file…");
        let to = hands.file("thursday.pdf");
        hands.fill("Print to this file:", to.to_str().unwrap());
        hands.press("Print to it");
        assert!(hands.says("pages are printed to"), "{:?}", hands.heard());
        assert!(ovenbell::papers::pdf::is_ours(&fs::read(&to).unwrap()));
        // The same day's ingredients, and whose they are.
        hands.press("Ingredients");
        hands.settle();
        hands.press(&named(&hands, "caster sugar: ", "g"));
        assert!(hands.says("Thursday P3, Room 1: ") && hands.says("label read: "));
        hands.press("8A Whisked sponge");
        hands.settle();
        assert!(hands.app().session().week_on_screen().is_none());
        assert!(hands.says("a pack holds"), "{how:?}: {:?}", hands.heard());
        // Back where one was; the key of the week leads to its picture.
        hands.press("‹ Week");
        assert!(hands.says("Order list…") && !hands.says("Tightest in ovens"));
        match how {
            How::Access => hands.press("Week"),
            How::Mouse | How::Keyboard => hands.command(Key::Num7),
        }
        hands.wait(2);
        assert!(!hands.says("Order list…"));
        hands.press("Ingredients");
        hands.press("All days");
        hands.settle();
        hands.press("Order list…");
        hands.settle();
        assert!(hands.says("Page 1 of 1: Order list"), "{:?}", hands.heard());
    }
}

#[test]
fn a_week_is_made_of_lesson_files() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = Hands::sized(how, [1280.0, 800.0], |folder| {
            worked_week(folder);
        });
        let lesson = hands.file("sponge.ron");
        hands.open(&lesson);
        hands.press("Lesson");
        hands.press("A new week…");
        let path = hands.file("spring.ron");
        hands.fill("Begin a week in this file:", path.to_str().unwrap());
        hands.press("Begin it");
        hands.settle();
        let week = hands.app().session().week_on_screen().unwrap();
        assert_eq!((week.path(), week.week().entries.len()), (&*path, 1));
        hands.press("This week");
        hands.press("Put a lesson in…");
        let buns = hands.file("buns.ron");
        hands.fill("Put the lesson of this file in:", buns.to_str().unwrap());
        hands.press("Put it in");
        hands.settle();
        let entries = |hands: &Hands| hands.app().session().week().unwrap().week().entries.len();
        assert_eq!(entries(&hands), 2, "{:?}", hands.heard());
        assert!(hands.says("Not saved"));
        // One is chosen and taken out again; undo puts it back.
        hands.press(&named(&hands, "Mon 09:00", "Sponge buns"));
        hands.press("Take it out of the week");
        hands.settle();
        assert_eq!(entries(&hands), 1);
        hands.press("Undo");
        hands.settle();
        assert_eq!(entries(&hands), 2);
        hands.apply(LessonCommand::Save);
        hands.press("This week");
        hands.press("The week after…");
        let next = hands.file("after.ron");
        hands.fill("Begin the week after in this file:", next.to_str().unwrap());
        hands.press("Begin it");
        hands.settle();
        assert_eq!(entries(&hands), 2, "{:?}", hands.heard());
        assert_eq!(hands.app().session().week().unwrap().path(), next);
    }
}

#[test]
fn lesson_files_dropped_on_a_week_are_put_in() {
    let mut hands = at_the_week(How::Mouse, [1280.0, 800.0]);
    let before = hands.app().session().week().unwrap().week().entries.len();
    let files = ["buns.ron", "muffins.ron"].map(|name| hands.file(name));
    let open = |hands: &Hands| hands.app().document().map(|doc| doc.file().title.clone());
    let was = open(&hands);
    hands.drop_files(&files);
    hands.settle();
    let week = hands.app().session().week_on_screen().unwrap();
    assert_eq!(week.week().entries.len(), before + 2);
    assert_eq!(open(&hands), was, "none is opened");
}
