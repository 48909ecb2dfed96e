//! Ingredients in the window: labels are noted with initials and never without, by
//! mouse, by keys alone and by the accessibility tree; no plan is made anew for it.

use std::sync::Arc;

use crate::common::hands::{Hands, How};
use egui::Key;
use ovenbell::app::{Command, Place};
use ovenbell::edit::Edit;
use ovenbell::session::Command as LessonCommand;

/// At the ingredients of the sample lesson, one unit of which has a need.
fn at(how: How, size: [f32; 2]) -> Hands {
    let mut hands = Hands::sized(how, size, |_| {});
    let mut file = hands.app().document().unwrap().file().clone();
    file.groups[7].needs = vec!["made without egg".into()];
    hands.apply(LessonCommand::Edit(Edit::Enter {
        what: "a need".into(),
        at: ovenbell::finding::Path::root(),
        typing: false,
        file: Box::new(file),
    }));
    hands.settle();
    match how {
        How::Access => hands.apply(Command::Go(Place::Ingredients)),
        _ => hands.command(Key::Num6),
    }
    hands.wait(2);
    hands
}

#[test]
fn a_label_is_noted_with_initials_and_never_without() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, [1280.0, 1000.0]);
        let plan = Arc::clone(&hands.app().session().planned().unwrap().plan);
        assert!(hands.says("ingredients have labels that nobody has read"), "{:?}", hands.heard());
        assert!(hands.says("nobody has read the label of flour blend"), "{:?}", hands.heard());
        let row = |hands: &Hands| {
            let heard = hands.heard();
            heard.into_iter().find(|h| h.starts_with("lemon zest: ")).unwrap()
        };
        let before = row(&hands);
        assert!(before.ends_with("not known: nobody has read its label"), "{before}");
        hands.press(&before);
        hands.wait(2);
        let none = "It names none of the 14";
        hands.click(none);
        hands.settle();
        let packets = hands.app().document().unwrap().file().packets.len();
        assert!(row(&hands).ends_with("nobody has read its label"), "no initials, no label");
        hands.fill("lemon zest, initials", "BR");
        hands.press(none);
        hands.settle();
        let file = hands.app().document().unwrap().file();
        assert_eq!(file.packets.len(), packets + 1);
        let packet = file.packets.last().unwrap();
        assert_eq!((packet.read_by.as_str(), packet.names.as_deref()), ("BR", Some(&[][..])));
        assert!(row(&hands).ends_with("its label names none of these"), "{}", row(&hands));
        assert!(hands.says("read by BR on "));
        let after = &hands.app().session().planned().unwrap().plan;
        assert_eq!(after.plan().steps, plan.plan().steps, "a label moves nothing");
        // Another brand has another label.
        hands.fill("lemon zest, brand", "Grove");
        hands.settle();
        assert!(row(&hands).ends_with("nobody has read its label"), "{}", row(&hands));
        let told: String = hands.heard().concat();
        assert!(!told.contains("safe") && !told.contains("free from"));
    }
}

#[test]
fn the_order_list_and_the_letter_are_one_press_away() {
    let mut hands = at(How::Mouse, [1092.0, 614.0]);
    hands.apply(Command::Ingredient("eggs".into()));
    hands.wait(2);
    hands.press("Order list…");
    hands.settle();
    assert!(hands.says("order list"), "{:?}", hands.heard());
    // Each alone: its page is the one that is seen.
    for (button, sheet) in [("Order list…", "Order list"), ("Letter home…", "Letter home")] {
        hands.apply(Command::Go(Place::Ingredients));
        hands.wait(2);
        hands.press(button);
        hands.settle();
        assert!(hands.says(&format!("Page 1 of 1: {sheet}")), "{:?}", hands.heard());
    }
    hands.apply(Command::Go(Place::Ingredients));
    hands.wait(2);
    assert!(hands.says("Recipe against allergen"));
}

/// What stands in for an ingredient comes in as one change, its label unread.
#[test]
fn something_stands_in_for_an_ingredient_and_its_label_is_not_known() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, [1280.0, 1000.0]);
        hands.apply(Command::Ingredient("soft baking spread".into()));
        hands.wait(2);
        assert!(hands.says("It makes it tender"), "{:?}", hands.heard());
        assert!(!hands.says("no advice for an allergy"), "only where it is asked for");
        hands.press("What could do the same");
        hands.wait(30);
        assert!(hands.says("no advice for an allergy"), "{:?}", hands.heard());
        assert!(hands.says("nobody has read that of butter"), "{:?}", hands.heard());
        let heard = hands.heard();
        let put = heard.iter().find(|h| h.starts_with("Put ") && h.contains(" butter into lemon"));
        hands.press(put.unwrap());
        hands.settle();
        let recipe = |hands: &Hands| hands.app().document().unwrap().file().recipes[0].clone();
        let has =
            |hands: &Hands, name: &str| recipe(hands).ingredients.iter().any(|i| i.name == name);
        assert!(has(&hands, "butter") && !has(&hands, "soft baking spread"));
        let heard = hands.heard();
        let row = heard.iter().find(|h| h.starts_with("butter: ")).unwrap();
        assert!(row.ends_with("not known: nobody has read its label"), "{row}");
        let row = heard.iter().find(|h| h.starts_with("lemon bake: the label")).unwrap();
        assert!(row.contains("butter") && row.contains("not been read"), "{row}");
        hands.apply(LessonCommand::Undo);
        hands.settle();
        assert!(has(&hands, "soft baking spread") && !has(&hands, "butter"));
    }
}

/// Whoever asks whether a unit may eat something is led to what nobody has read.
#[test]
fn the_page_leads_to_the_labels_that_nobody_has_read() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, [1092.0, 614.0]);
        let heard = hands.heard();
        let need = heard.iter().find(|h| h.starts_with("Unit 8 needs")).unwrap();
        assert!(need.contains("not known, as the labels of flour blend"), "{need}");
        hands.apply(Command::Ingredient("eggs".into()));
        hands.wait(2);
        hands.press(need);
        hands.wait(2);
        assert!(hands.says("flour blend without gluten, initials"), "{:?}", hands.heard());
        hands.apply(Command::Ingredient("eggs".into()));
        hands.wait(2);
        let row = heard.iter().find(|h| h.starts_with("clear-day buns: the labels of")).unwrap();
        hands.press(row);
        hands.wait(2);
        assert!(hands.says("flour blend without gluten, initials"), "{:?}", hands.heard());
    }
}
