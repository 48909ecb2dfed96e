//! Every field of every page of setting up: nothing moves while it is typed in,
//! and it can be reached in a window that shows little.

use std::collections::BTreeMap;

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::{Event, Key, Rect, Role, pos2};
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{Command, Page};

/// Pages that a lesson of one recipe and one room has.
const PAGES: [Page; 7] = [
    Page::Start,
    Page::Lesson,
    Page::Recipe(0),
    Page::Groups,
    Page::Room(0),
    Page::Tins,
    Page::Adults,
];

/// A wide window, and points of a school's laptop at 150 % and at 200 %.
const WIDE: [f32; 2] = [1280.0, 800.0];
const NARROW: [[f32; 2]; 2] = [[728.0, 409.3], [546.0, 307.0]];

/// Width of the list of pages.
const RAIL: f32 = 200.0;

fn at(size: [f32; 2], page: Page) -> Hands {
    let mut hands = Hands::sized(How::Keyboard, size, |_| {});
    hands.open(&lesson("a-scones-hour.ron"));
    hands.apply(Command::SetUp(page));
    hands.wait(4);
    hands
}

/// Where everything is that a hand can hit, by its identity.
fn things(hands: &Hands) -> BTreeMap<String, (Rect, String)> {
    let hit = [Role::Button, Role::TextInput, Role::CheckBox, Role::ComboBox, Role::RadioButton];
    let all = hands.window().root().query_all_by(move |n| hit.contains(&n.role()));
    let of = |node: egui_kittest::Node<'_>| {
        let kit = node.accesskit_node();
        (format!("{:?}", kit.id()), (node.rect(), kit.label().unwrap_or_default()))
    };
    all.map(of).collect()
}

fn fields(hands: &Hands) -> Vec<(String, String)> {
    let all = hands.window().root().query_all_by(|n| n.role() == Role::TextInput);
    let of = |node: egui_kittest::Node<'_>| {
        let kit = node.accesskit_node();
        (format!("{:?}", kit.id()), kit.label().unwrap_or_default())
    };
    all.map(of).collect()
}

/// A bar of the picture of a recipe's steps, which is there to show what is typed
/// of them.
fn is_of_picture(label: &str) -> bool {
    label.contains(", waits for ") || label.ends_with(" minutes")
}

fn focus(hands: &Hands, field: &str) {
    let mut all = hands.window().root().query_all_by(move |n| format!("{:?}", n.id()) == field);
    if let Some(node) = all.next() {
        node.focus();
    }
}

#[test]
fn nothing_moves_while_a_field_is_typed_in() {
    let (mut typed, mut moves) = (0, Vec::new());
    for page in PAGES {
        let mut hands = at(WIDE, page);
        for (field, name) in fields(&hands) {
            focus(&hands, &field);
            hands.wait(6);
            let before = things(&hands);
            hands.harness().event(Event::Text("7".to_owned()));
            hands.wait(3);
            typed += 1;
            for (id, (is, label)) in things(&hands) {
                let Some((was, _)) = before.get(&id) else { continue };
                let by = is.min - was.min;
                if (by.x.abs() > 1.0 || by.y.abs() > 1.0) && !is_of_picture(&label) {
                    moves.push(format!("{page:?}: {label} by {by:?}, {name} typed in"));
                }
            }
            hands.harness().key_press(Key::Backspace);
            hands.wait(3);
        }
    }
    assert!(moves.is_empty(), "{moves:#?}");
    assert!(typed > 100, "{typed} fields");
}

#[test]
fn every_field_is_brought_into_sight_where_there_is_little_room() {
    for size in NARROW {
        let window = Rect::from_min_max(pos2(RAIL, 0.0), pos2(size[0], size[1]));
        for page in PAGES {
            let mut hands = at(size, page);
            for (field, name) in fields(&hands) {
                focus(&hands, &field);
                hands.wait(12);
                let here = things(&hands).get(&field).map(|(rect, _)| *rect);
                let here = here.unwrap_or_else(|| panic!("{size:?} {page:?}: {name} is gone"));
                assert!(window.contains_rect(here), "{size:?} {page:?}: {name} is at {here:?}");
            }
        }
    }
}
