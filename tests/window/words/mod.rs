//! Words, units and letters of the window: everything it says is in the
//! English that was chosen, names stay as they were given, and every letter
//! they may have is there.

mod letters;
mod listen;
mod odd_names;
mod whole_window;

use std::path::Path;

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use ovenbell::app::Command;
use ovenbell::speech::English;
use ovenbell::speech::table::{Text, words};

fn open(english: English, name: &str) -> Hands {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.apply(Command::English(english));
    hands.open(&lesson(name));
    hands
}

#[test]
fn every_word_of_the_table_is_one_that_the_program_says() {
    fn read(folder: &Path, all: &mut String) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                read(&path, all);
            } else if path.extension().is_some_and(|e| e == "rs" || e == "ron") {
                all.push_str(&std::fs::read_to_string(&path).unwrap().to_lowercase());
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = String::new();
    for folder in ["assets/library", "lessons"] {
        read(&root.join(folder), &mut all);
    }
    for entry in std::fs::read_dir(root.join("src")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() && !path.ends_with("speech") {
            read(&path, &mut all);
        }
    }
    // The allergens are told in words of their own.
    let allergens = root.join("src/speech/allergens.rs");
    all.push_str(&std::fs::read_to_string(allergens).unwrap().to_lowercase());
    let all = all.replace("\\n", " ");
    let unsaid: Vec<&str> = [English::Irish, English::American]
        .into_iter()
        .flat_map(|english| words(english, Text::Library))
        .map(|word| word.british)
        .filter(|word| !all.contains(*word))
        .collect();
    assert!(unsaid.is_empty(), "{unsaid:?}");
}

#[test]
fn the_switch_is_in_a_menu_and_changes_words_but_not_the_lesson() {
    let mut hands = open(English::British, "demo.ron");
    let before = hands.app().document().unwrap().file().clone();
    assert!(hands.says("oven cool-down by 20 °C"), "{:?}", hands.heard());
    hands.press("Looks");
    hands.press("US words");
    hands.settle();
    assert_eq!(hands.app().english(), English::American);
    let heard = hands.heard();
    assert!(!heard.iter().any(|l| l.contains("°C")), "{heard:?}");
    assert!(hands.says("oven cool-down by 36 °F"), "{heard:?}");
    // Names are the user's: "18 cm sandwich tins" stays; a size told without its tin does not.
    assert!(hands.says("two 18 cm sandwich tins"), "{:?}", hands.heard());
    assert!(hands.says("not an 8 in square"), "{:?}", hands.heard());
    let doc = hands.app().document().unwrap();
    assert_eq!(*doc.file(), before);
    assert!(!doc.changed);
    hands.press("Looks");
    hands.press("Irish words");
    hands.settle();
    assert!(hands.says("oven cool-down by 20 °C"));
}

#[test]
fn an_american_enters_inches_fahrenheit_and_an_afternoon() {
    let mut hands = open(English::American, "demo.ron");
    hands.apply(Command::SetUp(ovenbell::app::Page::Room(0)));
    hands.settle();
    hands.fill("Oven, rack width, in", "16 1/2");
    hands.apply(Command::SetUp(ovenbell::app::Page::Start));
    hands.settle();
    hands.fill("End bell", "11:20 am");
    hands.apply(Command::SetUp(ovenbell::app::Page::Recipe(0)));
    hands.settle();
    hands.fill("20 cm square tin, oven without a fan, °F", "325");
    hands.settle();
    let file = hands.app().document().unwrap().file();
    assert_eq!(file.room.ovens[0].shelf_mm.map(|s| s.0), Some(419.0));
    assert_eq!(file.period.end, "11:20");
    let tin = file.recipes[0].tins.iter().find(|t| t.tin == "20 cm square tin").unwrap();
    assert!((tin.celsius.unwrap() - 160.0).abs() < 1e-9);
    assert_eq!(hands.holds("20 cm square tin, oven without a fan, °F"), "325");
}

#[test]
fn needs_are_ticked_from_the_list_of_the_country() {
    for (english, title, need) in [
        (English::British, "The 14 allergens of the United Kingdom", "made without molluscs"),
        (English::Irish, "The 14 allergens of Ireland", "made without gluten ingredients"),
        (English::American, "The 9 major allergens of the United States", "made without wheat"),
    ] {
        let mut hands = open(english, "demo.ron");
        hands.apply(Command::SetUp(ovenbell::app::Page::Groups));
        hands.settle();
        hands.press("Unit 2, allergens to choose from");
        assert!(hands.says(title), "{:?}", hands.heard());
        assert!(hands.says("Your school's policy and risk assessment come first."));
        let label = hands.heard().into_iter().find(|l| l.starts_with(need)).unwrap();
        hands.click(&label);
        hands.settle();
        let needs = |hands: &Hands| hands.app().document().unwrap().file().groups[1].needs.clone();
        assert!(needs(&hands).iter().any(|n| n == need), "{:?}", needs(&hands));
        assert!(!hands.heard().iter().any(|l| l.contains("gluten-free")));
    }
}
