//! Papers in the window: every page before the copier has it, what is printed
//! chosen by mouse, keys or the accessibility tree, and times that lead to bars.

use std::fs;

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{Command, Place};
use ovenbell::papers::Part;
use ovenbell::papers::page::Mark;
use ovenbell::papers::pdf::is_ours;

fn at(how: How, size: [f32; 2]) -> Hands {
    let mut hands = Hands::sized(how, size, |_| {});
    hands.open(&lesson("a-scones-hour.ron"));
    hands.apply(Command::Go(Place::Papers));
    hands.settle();
    hands.wait_for("Page 1 of 2: Running order");
    hands
}

fn focused(hands: &Hands) -> String {
    let focused = hands.window().root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

#[test]
fn everyones_two_pages_are_there_first_and_more_is_chosen_with_keys_or_without() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, [1280.0, 800.0]);
        assert!(hands.says("2 pages: running order 1, oven sheet 1"), "{:?}", hands.heard());
        assert!(hands.says("Unit check, 1 page") && hands.says("Time plan, 10 pages"));
        hands.press("Time plan, 10 pages");
        assert!(hands.says("12 pages: running order 1, oven sheet 1, time plan 10"));
        assert!(hands.says("Page 12, Time plan: Pair 10"), "{:?}", hands.heard());
        hands.press("Everyone's two pages");
        assert!(hands.says("2 pages: running order 1"));
        hands.press("Running order, 1 page");
        hands.press("Oven sheet, 1 page");
        assert!(hands.says("Nothing is chosen.") && hands.says("along the left"));
        hands.press("Everyone's two pages");
        hands.press("Large print");
        hands.settle();
        assert!(hands.says("Page 1 of"), "{:?}", hands.heard());
    }
}

#[test]
fn pages_are_turned_and_printed_with_keys_alone() {
    let mut hands = at(How::Keyboard, [1280.0, 800.0]);
    hands.command(Key::Num2);
    hands.command(Key::Num3);
    hands.reach("Page 1 of 2: Running order");
    hands.key(Key::ArrowRight);
    assert_eq!(focused(&hands), "Page 2 of 2: Oven sheet");
    hands.key(Key::ArrowRight);
    assert_eq!(focused(&hands), "Page 2 of 2: Oven sheet", "there is no further one");
    hands.press("Letter");
    hands.settle();
    // Five ovens take two sheets of Letter.
    hands.wait_for("Page 1 of 3");
    hands.press("Print to a file…");
    let to = hands.file("sheets.pdf");
    hands.fill("Print to this file:", to.to_str().unwrap());
    hands.enter();
    assert!(hands.says("3 pages are printed to"), "{:?}", hands.heard());
    let bytes = fs::read(&to).unwrap();
    assert!(is_ours(&bytes));
}

#[test]
fn a_page_is_read_closer_and_seen_whole_again() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, [1280.0, 800.0]);
        let page = "Page 1 of 2: Running order";
        let whole = hands.place(page);
        hands.press("Closer");
        hands.wait(4);
        let near = hands.place(page);
        assert!(near.width() > 1.5 * whole.width(), "{how:?}: {near:?} after {whole:?}");
        if how == How::Keyboard {
            // Down the page by its times, to the last of them.
            hands.reach(page);
            for _ in 0..60 {
                hands.key(Key::ArrowDown);
            }
            hands.wait(8);
            let below = hands.place(page);
            assert!(below.top() < near.top() - 50.0, "{below:?} after {near:?}");
            assert_eq!(focused(&hands), page);
        }
        hands.press("Whole page");
        hands.wait(4);
        assert_eq!(hands.place(page), whole, "{how:?}");
    }
}

#[test]
fn the_running_order_is_copied_and_symbols_are_drawn_if_wanted() {
    for how in [How::Keyboard, How::Access] {
        let mut hands = at(how, [1280.0, 800.0]);
        hands.press("Copy running order");
        assert!(hands.says("The running order is copied"), "{:?}", hands.heard());
        let laid = hands.app().session().sheets().unwrap();
        let order = laid.order.as_ref().unwrap();
        assert!(order.starts_with("Running order\n") && order.contains("\tIN: Oven"), "{order}");
        let drawn = |hands: &Hands| {
            let laid = hands.app().session().sheets().unwrap();
            let plans = laid.chosen(&[Part::TimePlans], true);
            let pieces = plans[0].pages[0].pieces.iter().flat_map(|piece| &piece.marks);
            pieces.filter(|mark| matches!(mark, Mark::Scene(..))).count()
        };
        assert_eq!(drawn(&hands), 0);
        hands.press("Symbols on time plans");
        hands.settle();
        assert!(drawn(&hands) > 5, "{}", drawn(&hands));
    }
}

#[test]
fn a_time_leads_to_its_bar_on_the_board() {
    let mut hands = at(How::Access, [1280.0, 800.0]);
    let heard = hands.heard();
    let is_way = |words: &&String| words.contains("IN: Oven 2, top shelf");
    let label = heard.iter().find(is_way).unwrap_or_else(|| panic!("{heard:?}")).clone();
    hands.press(&label);
    hands.wait(4);
    let (time, _) = label.split_once(": ").unwrap();
    assert!(hands.says(&format!("Minute line at {time}")), "{:?}", hands.heard());
    let bar = focused(&hands);
    assert!(bar.contains("Pair 3") || bar.contains("Oven 2"), "{label} leads to {bar}");
    assert!(bar.contains(time), "{label} leads to {bar}");
}

#[test]
fn with_keys_a_time_is_reached_from_the_page() {
    let mut hands = at(How::Keyboard, [1280.0, 800.0]);
    hands.reach("Page 1 of 2: Running order");
    for _ in 0..5 {
        hands.key(Key::ArrowDown);
    }
    hands.key(Key::Enter);
    hands.wait(4);
    assert!(focused(&hands).contains("Oven") || focused(&hands).contains("Pair"));
}

#[test]
fn a_page_keeps_its_proportion_and_its_place_in_small_windows() {
    for size in [[1280.0, 800.0], [1092.0, 614.0], [728.0, 409.3]] {
        let hands = at(How::Mouse, size);
        let page = hands.place("Page 1 of 2: Running order");
        let is_true = (page.width() / page.height() - 595.276 / 841.89).abs() < 0.01;
        assert!(is_true && page.height() > 90.0, "{size:?}: {page:?}");
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, size.into());
        for label in ["Print to a file…", "A4", "Everyone's two pages", "Page 2, Oven sheet"] {
            let place = hands.place(label);
            assert!(window.contains_rect(place), "{size:?}: {label} at {place:?}");
            assert!(!page.intersects(place.shrink(1.0)), "{size:?}: {label} lies over the page");
        }
    }
}

#[test]
fn without_a_plan_it_says_what_is_missing_and_prints_the_rest() {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.apply(ovenbell::session::Command::New);
    hands.settle();
    hands.apply(Command::Go(Place::Papers));
    hands.wait(4);
    assert!(hands.says("there is nothing to print yet"), "{:?}", hands.heard());
    assert!(Part::ALL.iter().all(|part| hands.says(part.title())));
}
