//! Odds in the window: switched on and off, read, asked further, and a plan that
//! is better by them kept like any change.

use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::edit::Edit;
use ovenbell::play::Spread;
use ovenbell::session::{Command as LessonCommand, LookedForBetter, ToldWith};

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;

fn demo(how: How) -> Hands {
    let mut hands = Hands::new(how, |_| {});
    hands.open(&lesson("demo.ron"));
    hands
}

/// What begins so, of all that is heard.
fn heard(hands: &Hands, start: &str) -> Vec<String> {
    hands.heard().into_iter().filter(|h| h.starts_with(start)).collect()
}

fn on_and_off(how: How) {
    let mut hands = demo(how);
    let before = hands.heard();
    assert!(heard(&hands, "Odds of ").is_empty(), "odds begin off");
    hands.press("View");
    hands.press("Odds");
    hands.settle();
    // A lens on each row, one of the class, squares in the head, the card.
    assert_eq!(heard(&hands, "Odds of Unit ").len(), 8, "{:?}", hands.heard());
    assert_eq!(heard(&hands, "Odds of the class: ready ").len(), 1);
    assert!(hands.says("nobody has timed this class yet"));
    for part in ["Odds by the bell", "All ready before the closing steps: ", "What makes it late"] {
        assert!(hands.says(part), "{part}");
    }
    // A checkpoint leads to what has to be true by then.
    let looks = heard(&hands, "Look by ");
    assert!(!looks.is_empty() && looks.len() <= 4, "{looks:?}");
    let last = looks.last().unwrap().clone();
    let by = last["Look by ".len()..].split(':').take(2).collect::<Vec<_>>().join(":");
    hands.press(&last);
    assert!(hands.says(&format!("Done by {by} where all come out")), "{by}: {last}");
    hands.press("View");
    hands.press("Hide odds");
    hands.settle();
    assert!(heard(&hands, "Odds of ").is_empty() && heard(&hands, "Look by ").is_empty());
    assert!(!hands.says("nobody has timed"));
    assert_eq!(hands.heard(), before, "nothing of it is left");
}

#[test]
fn odds_come_and_go_by_mouse() {
    on_and_off(How::Mouse);
}

#[test]
fn odds_come_and_go_by_keyboard() {
    on_and_off(How::Keyboard);
}

#[test]
fn odds_follow_every_change_on_the_same_luck() {
    let mut hands = demo(How::Keyboard);
    hands.command(Key::G);
    hands.settle();
    let first = heard(&hands, "Odds of ");
    let leave_out = |out| {
        let group = "Unit 5".to_owned();
        LessonCommand::Edit(Edit::LeftOut { group, out })
    };
    hands.apply(leave_out(true));
    hands.settle();
    assert_eq!(heard(&hands, "Odds of Unit ").len(), 7, "who is left out has no odds");
    hands.command(Key::Z);
    hands.settle();
    assert_eq!(heard(&hands, "Odds of "), first, "the same plan on the same luck");
    // With half the spread there is one figure, and nothing is wider than before.
    hands.press("half");
    hands.settle();
    assert_eq!(hands.app().session().odds_told_with(), ToldWith::One(Spread::HALF));
    assert!(hands.says("minutes spread half as far as listed"));
    assert!(!hands.says(" to nearly always"), "{:?}", heard(&hands, "Odds of "));
    hands.press("own factor");
    hands.settle();
    assert!(hands.says("minutes spread 0.75 times as far as listed"));
    hands.press("both");
    hands.settle();
    assert_eq!(heard(&hands, "Odds of "), first);
}

#[test]
fn a_cause_has_its_bars_edged() {
    let mut hands = demo(How::Mouse);
    hands.apply(LessonCommand::ToggleOdds);
    hands.settle();
    let cause = hands.app().session().told_odds().unwrap().card.causes[0].clone();
    let label = format!("{}, {} of the late lessons", cause.words, cause.often);
    let edges = |hands: &Hands| hands.window().output().shapes.len();
    let toggled = |hands: &Hands| hands.window().get_by_label(&label).accesskit_node().toggled();
    hands.press(&label);
    hands.wait(30);
    assert_eq!(toggled(&hands), Some(egui::accesskit::Toggled::True));
    let with = edges(&hands);
    hands.press(&label);
    hands.wait(30);
    assert_eq!(toggled(&hands), Some(egui::accesskit::Toggled::False));
    assert!(with >= edges(&hands) + cause.bars.len(), "{} bars", cause.bars.len());
}

#[test]
fn better_odds_are_looked_for_laid_over_and_kept_as_one_step() {
    let mut hands = demo(How::Keyboard);
    hands.command(Key::G);
    hands.settle();
    let before = hands.app().current_plan().unwrap().clone();
    hands.press("What would help these odds");
    hands.settle();
    match hands.app().session().looked_for_better_odds() {
        LookedForBetter::Nothing => {
            assert!(hands.says("Nothing is gained by other calls, orders or places."));
        }
        LookedForBetter::Found => {
            let chip = heard(&hands, "Change 1: other calls and orders, for better odds: ");
            hands.press(&chip[0]);
            assert!(hands.says("Then: Unit "), "it is laid over the board");
            assert_eq!(hands.app().current_plan(), Some(&before), "nothing has changed yet");
            hands.command(Key::K);
            hands.settle();
            let kept = hands.app().current_plan().unwrap().clone();
            assert_ne!(kept, before);
            assert_eq!(kept.objective().served, before.objective().served);
            assert!(!hands.says("Then: Unit "));
            hands.command(Key::Z);
            hands.settle();
            assert_eq!(hands.app().current_plan(), Some(&before));
        }
        other => panic!("{other:?}"),
    }
}
