//! Every field of every page of setting up can be reached in a window that shows
//! little.

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::{Rect, Role, pos2};
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

/// Points of a school's laptop at 150 % and at 200 %.
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

/// All fields, by their identity, with their names.
fn fields(hands: &Hands) -> Vec<(String, String)> {
    let all = hands.window().root().query_all_by(|n| n.role() == Role::TextInput);
    let of = |node: egui_kittest::Node<'_>| {
        let kit = node.accesskit_node();
        (format!("{:?}", kit.id()), kit.label().unwrap_or_default())
    };
    all.map(of).collect()
}

fn focus(hands: &Hands, field: &str) {
    let mut all = hands.window().root().query_all_by(move |n| format!("{:?}", n.id()) == field);
    if let Some(node) = all.next() {
        node.focus();
    }
}

fn place_of(hands: &Hands, field: &str) -> Option<Rect> {
    let mut all = hands.window().root().query_all_by(move |n| format!("{:?}", n.id()) == field);
    all.next().map(|node| node.rect())
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
                let here = place_of(&hands, &field)
                    .unwrap_or_else(|| panic!("{size:?} {page:?}: {name} is gone"));
                assert!(window.contains_rect(here), "{size:?} {page:?}: {name} is at {here:?}");
            }
        }
    }
}
