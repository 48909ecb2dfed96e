//! Typing for long in one field: the keyboard stays in it, and all of it is one
//! step of undo.

use egui::{Event, Key};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::common::hands::{Hands, How};
use ovenbell::app::Page;
use ovenbell::session::Command as LessonCommand;

/// Keystrokes: letters and as many times Backspace.
const KEYSTROKES: usize = 3_000;
/// Letters typed before they are taken away again.
const LETTERS: usize = 25;

fn focused(hands: &Hands) -> Option<String> {
    let node = hands.window().root().query_all_by(|n| n.is_focused()).next()?;
    node.accesskit_node().label()
}

#[test]
fn three_thousand_keystrokes_stay_in_their_field_and_are_one_step_of_undo() {
    let mut hands = Hands::new(How::Keyboard, |_| {});
    let before = hands.app().document().unwrap().file().clone();
    hands.apply(ovenbell::app::Command::SetUp(Page::Start));
    hands.reach("Class");
    let field = focused(&hands);
    assert!(field.as_deref().is_some_and(|name| name.contains("Class")), "{field:?}");
    for stroke in 0..KEYSTROKES {
        if stroke % (2 * LETTERS) < LETTERS {
            let letter = char::from(b'a' + u8::try_from(stroke % 26).unwrap());
            hands.harness().event(Event::Text(letter.to_string()));
        } else {
            hands.harness().key_press(Key::Backspace);
        }
        hands.wait(1);
        assert_eq!(focused(&hands), field, "after {stroke} keystrokes");
    }
    hands.harness().event(Event::Text("Q".to_owned()));
    hands.wait(2);
    assert_ne!(*hands.app().document().unwrap().file(), before, "nothing was typed");
    hands.apply(LessonCommand::Undo);
    assert_eq!(*hands.app().document().unwrap().file(), before);
    assert!(hands.app().document().unwrap().can_undo().is_none());
}
