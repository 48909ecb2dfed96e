//! Every page, card, list and day, in each English.

use ovenbell::app::{App, Command, Page, Place, Selection};
use ovenbell::model::{GroupId, OvenId};
use ovenbell::session::Command as LessonCommand;
use ovenbell::speech::English;
use ovenbell::speech::table::{Text, Word, words};
use ovenbell::view::help::Topic;
use ovenbell::words::plural;

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use crate::words::listen::{Texts, has, listen, names, without};

/// Tall enough for a whole page.
const SIZE: [f32; 2] = [1280.0, 3600.0];

fn look(hands: &mut Hands, commands: Vec<Command>, texts: &mut Texts) {
    for command in commands {
        hands.apply(command);
    }
    hands.wait(3);
    listen(hands.window(), texts);
}

/// All that a window says of its lesson.
fn everything(hands: &mut Hands) -> Texts {
    let mut texts = Texts::new();
    hands.apply(Command::Go(Place::Plan));
    let app = hands.app();
    let lesson = app.document().unwrap().lesson().unwrap().clone();
    let file = app.document().unwrap().file();
    let mut pages = vec![Page::Start, Page::Lesson, Page::Groups, Page::Tins, Page::Adults];
    pages.extend((0..=file.other_rooms.len()).map(Page::Room));
    pages.extend((0..file.recipes.len()).map(Page::Recipe));
    listen(hands.window(), &mut texts);
    for g in 0..lesson.groups.len() {
        look(hands, vec![Command::Select(Selection::Group(GroupId(g)))], &mut texts);
        if g < 2 {
            // What its other tins and methods come to.
            hands.settle();
            listen(hands.window(), &mut texts);
        }
    }
    for o in 0..lesson.ovens.len() {
        look(hands, vec![Command::Select(Selection::Oven(OvenId(o)))], &mut texts);
    }
    look(hands, vec![Command::Select(Selection::Adults)], &mut texts);
    look(hands, vec![Command::Minute(Some(20))], &mut texts);
    look(hands, vec![Command::Minute(None), Command::Select(Selection::Nothing)], &mut texts);
    look(hands, vec![Command::ToggleList], &mut texts);
    look(hands, vec![Command::ToggleList], &mut texts);
    for topic in Topic::ALL {
        look(hands, vec![Command::Help(Some(topic))], &mut texts);
    }
    look(hands, vec![Command::Help(None), Command::Shortcuts], &mut texts);
    hands.apply(Command::Shortcuts);
    for menu in ["Lesson", "Class view", "Looks", "View"] {
        hands.press(menu);
        listen(hands.window(), &mut texts);
        hands.key(egui::Key::Escape);
    }
    for page in pages {
        look(hands, vec![Command::SetUp(page)], &mut texts);
    }
    for minute in [-10, 0, 20, 45] {
        let there = vec![Command::Go(Place::Rehearse), Command::Minute(Some(minute))];
        look(hands, there, &mut texts);
    }
    hands.apply(Command::Minute(None));
    hands.apply(Command::Go(Place::Plan));
    texts
}

/// Words that are not to be said, singular and plural.
fn forbidden(list: Vec<&'static Word>, said: bool) -> Vec<String> {
    let differs = |w: &&&Word| w.british != w.said;
    let one = list.iter().filter(differs).map(|w| if said { w.said } else { w.british });
    one.flat_map(|word| [word.to_owned(), plural(2, word)]).collect()
}

/// Numbers with a unit of Britain's, and units by themselves where a field
/// would be in another.
fn metric(text: &str) -> Option<&'static str> {
    let words: Vec<&str> =
        text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ')' | '(')).collect();
    for (i, word) in words.iter().enumerate() {
        let number = i > 0 && words[i - 1].ends_with(|c: char| c.is_ascii_digit());
        let after_in = i > 0 && words[i - 1] == "in";
        let bare = word.trim_end_matches(['.', ':']);
        match bare {
            "°C" if !after_in => return Some("°C"),
            "mm" | "cm" if !after_in => return Some("mm or cm"),
            "g" | "kg" | "ml" if number => return Some("g, kg or ml"),
            _ if bare != "°C" && bare.ends_with("°C") => return Some("°C"),
            _ => {}
        }
        if let Some((hour, _)) = bare.split_once(':')
            && (hour.starts_with('0') || hour.parse().is_ok_and(|h: u32| h > 12))
        {
            return Some("a clock of 24 hours");
        }
    }
    None
}

fn wrong(english: English, texts: &Texts, app: &App) -> Vec<String> {
    let names = names(app);
    let of = |english| words(english, Text::Sentence).collect::<Vec<_>>();
    let mut not: Vec<String> = match english {
        English::British => Vec::new(),
        _ => forbidden(of(english), false),
    };
    for other in English::ALL.into_iter().filter(|e| *e != english) {
        let only = of(other).into_iter().filter(|w| !w.also_british);
        // What both say for a British word is not only the other's.
        let here = of(english);
        let only = only.filter(|w| here.iter().all(|h| h.said != w.said)).collect();
        not.extend(forbidden(only, true));
    }
    // Phrases in which a word stays as it is, and those that hold it once it is
    // said: "cooling rack place".
    let stay: Vec<&str> =
        of(english).iter().filter(|w| w.said.contains(w.british)).map(|w| w.said).collect();
    let mut wrong = Vec::new();
    for text in texts {
        // What each of the Englishes comes with is told in its own units.
        if English::ALL.iter().any(|e| e.what() == text) {
            continue;
        }
        let mut left = without(text, &names).to_lowercase();
        for phrase in &stay {
            left = left.replace(phrase, "~");
        }
        if let Some(word) = not.iter().find(|word| has(&left, word)) {
            wrong.push(format!("{word:?} in {text:?}"));
        }
        if english == English::American
            && let Some(unit) = metric(&left.replace("°c", "°C"))
        {
            wrong.push(format!("{unit} in {text:?}"));
        }
    }
    wrong
}

fn all_of(english: English, lessons: &[&str]) {
    for name in lessons {
        let mut hands = Hands::sized(How::Mouse, SIZE, |_| {});
        hands.apply(Command::English(english));
        hands.open(&lesson(name));
        let mut texts = everything(&mut hands);
        let mut wrong_words = wrong(english, &texts, hands.app());
        assert!(texts.len() > 250, "only {} texts", texts.len());
        // The day it is taught.
        texts.clear();
        look(&mut hands, vec![LessonCommand::Today.into()], &mut texts);
        hands.settle();
        listen(hands.window(), &mut texts);
        assert!(hands.app().session().is_today());
        wrong_words.extend(wrong(english, &texts, hands.app()));
        assert!(wrong_words.is_empty(), "{english}, {name}: {wrong_words:#?}");
    }
}

const LESSONS: [&str; 3] = ["demo.ron", "d-sponges-gas.ron", "g-whisks-ten.ron"];

#[test]
fn british_words_are_all_that_a_british_window_says() {
    all_of(English::British, &LESSONS);
}

#[test]
fn irish_words_are_all_that_an_irish_window_says() {
    all_of(English::Irish, &LESSONS[..2]);
}

#[test]
fn american_words_and_units_are_all_that_an_american_window_says() {
    all_of(English::American, &LESSONS);
}

/// A lesson that an American makes anew has no British word at all.
#[test]
fn a_new_lesson_is_american_in_its_names_too() {
    let mut hands = Hands::sized(How::Mouse, SIZE, |_| {});
    hands.apply(Command::English(English::American));
    hands.apply(LessonCommand::New);
    hands.settle();
    for tile in ["Dockside ginger sheet cake", "Skylight sponge", "usual room"] {
        hands.press(tile);
    }
    hands.fill("Start bell", "1:05 pm");
    hands.fill("End bell", "3:05 pm");
    hands.fill("Students", "12");
    hands.settle();
    let file = hands.app().document().unwrap().file().clone();
    assert_eq!((file.period.start.as_str(), file.period.end.as_str()), ("13:05", "15:05"));
    let lesson = hands.app().document().unwrap().lesson();
    assert!(lesson.is_some(), "{:?}", hands.heard());
    let texts = everything(&mut hands);
    let mut wrong = wrong(English::American, &texts, hands.app());
    // And its names, which are left aside there.
    for name in ovenbell::file::own_words::of_lesson(&file) {
        let mut left = name.to_lowercase();
        // What is said already holds some of the words: "sheet cake".
        for word in words(English::American, Text::Library) {
            if word.said.contains(word.british) {
                left = left.replace(word.said, "~");
            }
        }
        let not = forbidden(words(English::American, Text::Library).collect(), false);
        wrong.extend(not.iter().find(|w| has(&left, w)).map(|w| format!("{w:?} in {name:?}")));
        wrong.extend(metric(&name).map(|unit| format!("{unit} in {name:?}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
