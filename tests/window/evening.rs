//! A teacher's evening at the pages of setting up: fields that lead on, what is
//! filled in and said, who must be where while ovens are open.

use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use ovenbell::app::{Command, Page, Place};
use ovenbell::file::format::{LessonFile, RoleShape};
use ovenbell::session::Command as LessonCommand;

fn file(hands: &Hands) -> LessonFile {
    hands.app().document().unwrap().file().clone()
}

/// The sample lesson with a page open.
fn demo(how: How, page: Page) -> Hands {
    let mut hands = Hands::new(how, |data| {
        std::fs::copy(lesson("demo.ron"), data.join("demo.ron")).unwrap();
    });
    let path = hands.data().join("demo.ron");
    hands.open(&path);
    hands.settle();
    hands.apply(Command::SetUp(page));
    hands.wait(4);
    hands
}

fn focused(hands: &Hands) -> Option<String> {
    let node = hands.window().root().query_all_by(|n| n.is_focused()).next()?;
    node.accesskit_node().label()
}

fn type_letters(hands: &mut Hands, text: &str) {
    for letter in text.chars() {
        hands.harness().event(egui::Event::Text(letter.to_string()));
        hands.wait(1);
    }
    hands.wait(3);
}

#[test]
fn a_new_ingredient_is_typed_at_once_and_flour_is_flour() {
    let mut hands = demo(How::Mouse, Page::Recipe(0));
    let before = file(&hands).recipes[0].ingredients.len();
    hands.press("Add an ingredient");
    hands.wait(4);
    let here = focused(&hands).unwrap_or_default();
    assert!(here.contains(&format!("Ingredient {}, name", before + 1)), "{here}");
    // What stands there is selected: it is typed over.
    type_letters(&mut hands, "spelt flour");
    let added = file(&hands).recipes[0].ingredients[before].clone();
    assert_eq!((added.name.as_str(), added.role), ("spelt flour", Some(RoleShape::Flour)));
}

#[test]
fn tab_selects_what_a_field_holds_and_enter_goes_on_to_the_next_line() {
    let mut hands = demo(How::Keyboard, Page::Recipe(0));
    let name = file(&hands).recipes[0].ingredients[0].name.clone();
    hands.reach(&format!("{name}, amount, g"));
    type_letters(&mut hands, "120");
    assert_eq!(file(&hands).recipes[0].ingredients[0].amount, 120.0, "typed over");
    hands.harness().key_press(Key::Enter);
    hands.wait(4);
    let next = file(&hands).recipes[0].ingredients[1].name.clone();
    let here = focused(&hands).unwrap_or_default();
    assert!(here.starts_with(&format!("{next}, amount")), "{here}");
    type_letters(&mut hands, "90");
    assert_eq!(file(&hands).recipes[0].ingredients[1].amount, 90.0);
}

#[test]
fn what_each_answer_about_open_ovens_comes_to_stands_beside_it() {
    let mut hands = demo(How::Mouse, Page::Adults);
    assert!(hands.says("Who must be where while ovens are open?"));
    let told = |hands: &Hands| {
        let by_the_bell = |h: &&String| h.contains("out by the bell");
        hands.heard().iter().filter(by_the_bell).count()
    };
    for _ in 0..4_000 {
        hands.wait(1);
        if hands.app().session().at_ovens_tried().is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    hands.wait(4);
    assert!(told(&hands) >= 3, "{:?}", hands.heard());
    hands.press("an adult in the room");
    hands.settle();
    let rules = file(&hands).rules;
    assert!(rules.adult_near_ovens && rules.adult_at_doors == Some(false));
    hands.press("an adult at each door");
    hands.settle();
    let rules = file(&hands).rules;
    assert!(!rules.adult_near_ovens && rules.adult_at_doors == Some(true));
    // Hours are times of the day, too: the lesson starts at 10:05.
    hands.fill("Adult 2, hours", "9:35 to 10:35");
    assert!(hands.says("09:35 to 10:35"), "{:?}", hands.heard());
}

#[test]
fn a_new_lesson_says_what_it_takes_for_granted_and_an_old_plan_that_it_is_old() {
    let mut hands = demo(How::Mouse, Page::Start);
    assert!(hands.says("are the class's own: register 3, aprons and hands 4"));
    let old = "An old plan: of the lesson as it was";
    hands.apply(Command::Go(Place::Plan));
    assert!(!hands.says(old));
    let mut draft = file(&hands);
    draft.recipes.clear();
    let (what, at) = ("no recipe".to_owned(), ovenbell::finding::Path::root());
    let edit = ovenbell::edit::Edit::Enter { what, at, typing: false, file: Box::new(draft) };
    hands.apply(LessonCommand::Edit(edit));
    hands.wait(4);
    assert!(hands.says(old), "{:?}", hands.heard());
}

#[test]
fn a_tin_that_cannot_is_asked_why_not_beside_it() {
    let mut hands = demo(How::Mouse, Page::Start);
    hands.apply(Command::Go(Place::Plan));
    hands.wait(4);
    let lesson = hands.app().document().unwrap().lesson().unwrap();
    let five = lesson.groups.iter().position(|g| g.name == "Unit 5").unwrap();
    let group = ovenbell::model::GroupId(five);
    hands.apply(Command::Select(ovenbell::app::Selection::Group(group)));
    for _ in 0..4_000 {
        hands.wait(1);
        if hands.says("Why not 20 cm square tin?") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let label = "Why not 20 cm square tin?";
    let tried = hands.app().session().tins_tried(group).unwrap().clone();
    let cannot = tried.all.iter().find(|probe| probe.ready.is_none()).unwrap();
    let why = cannot.reason.clone().unwrap();
    let heard = |hands: &Hands| hands.heard().iter().filter(|h| h.contains(&why)).count();
    let before = heard(&hands);
    hands.harness().get_by_label(label).click();
    hands.wait(30);
    assert!(heard(&hands) > before, "{why}: {:?}", hands.heard());
}
