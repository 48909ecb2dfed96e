//! A teacher's evening at the pages of setting up: fields that lead on, what is
//! filled in and said, who must be where while ovens are open.

use std::process::Command as Process;

use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};

use crate::common::hands::{Hands, How};
use crate::common::spoken::lesson;
use ovenbell::app::{Command, Page, Place, Selection};
use ovenbell::file::format::{LessonFile, RoleShape};
use ovenbell::session::{Command as LessonCommand, Laid};

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

fn steps(hands: &Hands) -> Vec<(String, Vec<(String, i64)>)> {
    let method = file(hands).recipes[0].methods[0].clone();
    method.steps.into_iter().map(|s| (s.name, s.kit.0)).collect()
}

#[test]
fn kit_that_a_room_counts_is_used_or_said_to_be_unused() {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.command(Key::N);
    hands.press("A recipe of our own");
    let wanting = "Sink: wash up usually uses it, but no room says how many there are.";
    assert!(hands.says(wanting), "{:?}", hands.heard());
    hands.press("Room");
    hands.press("Add sink");
    hands.fill("sink, how many", "5");
    assert!(!hands.says(wanting) && hands.says("Scales: weigh usually uses it"));
    assert!(hands.says("sink: used to wash up"), "{:?}", hands.heard());
    let washes = |hands: &Hands| steps(hands).into_iter().find(|s| s.0 == "wash up").unwrap();
    assert_eq!(washes(&hands).1, [("sink".to_owned(), 1)]);
    hands.press("Add other kit");
    hands.fill("Kit 2, name", "grater");
    hands.fill("grater, how many", "8");
    assert!(hands.says("8 graters: no step uses them"), "{:?}", hands.heard());
}

#[test]
fn an_oven_is_set_as_the_recipe_says_it_and_other_settings_stand_beside() {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.command(Key::N);
    hands.press("A recipe of our own");
    let field = "12-hole bun tray, oven without a fan, °C";
    assert_eq!(hands.holds(field), "", "what nobody said is no entry");
    let set = |hands: &Hands| file(hands).recipes[0].tins[0].celsius;
    assert_eq!(set(&hands), None);
    for (typed, celsius, others) in [
        ("170 fan", 190.0, "170 °C fan, gas 5"),
        ("gas 6", 200.0, "180 °C fan, gas 6"),
        ("325 F", 160.0, "140 °C fan"),
        ("180", 180.0, "160 °C fan, gas 4"),
    ] {
        hands.fill(field, typed);
        assert_eq!(set(&hands), Some(celsius), "{typed}");
        assert!(hands.says(others), "{typed}: {:?}", hands.heard());
    }
    hands.fill("Recipe name", "buns");
    hands.fill(field, "gas 12");
    assert!(hands.says("oven without a fan: "), "{:?}", hands.heard());
    assert_eq!(set(&hands), Some(180.0));
}

/// Where every group bakes and when it loads.
fn places(hands: &Hands) -> Vec<(usize, usize, i32)> {
    let plan = hands.app().current_plan().expect("a plan of the lesson as it is").plan();
    let mut all: Vec<_> = plan.loads.iter().map(|l| (l.group.0, l.oven.0, l.start.get())).collect();
    all.sort_unstable();
    all.dedup();
    all
}

#[test]
fn choosing_a_tin_shows_its_plan_in_outline_before_anything_is_changed() {
    let mut hands = demo(How::Mouse, Page::Start);
    hands.apply(Command::Go(Place::Plan));
    hands.settle();
    let group = ovenbell::model::GroupId(1);
    hands.apply(Command::Select(Selection::Group(group)));
    // A tin with which it is out by the bell, and not the one it has.
    let tin = loop {
        hands.wait(2);
        let tried = hands.app().session().tins_tried(group).cloned();
        if let Some(tried) = tried {
            let now = hands.app().current_plan().unwrap().plan().choice(group).unwrap().tin;
            let other = tried.all.iter().find(|p| p.ready.is_some() && p.tin != now).unwrap();
            break tried.table[other.tin.unwrap().0].as_choice.label.clone();
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    };
    let name = hands.app().document().unwrap().lesson().unwrap().group(group).name.clone();
    let before = (file(&hands), places(&hands));
    let choose = |hands: &mut Hands| {
        let edit = ovenbell::edit::Edit::Tin { group: name.clone(), label: tin.clone() };
        hands.apply(LessonCommand::TryChoice(vec![edit]));
        for _ in 0..4_000 {
            hands.wait(1);
            if hands.app().session().overlay().is_some() && !hands.app().session().is_busy() {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        hands.wait(4);
    };
    choose(&mut hands);
    assert!(hands.says("in outline: the plan with this change"), "{:?}", hands.heard());
    assert_eq!((file(&hands), places(&hands)), before, "nothing is changed by looking");
    hands.press("Drop");
    assert!(hands.app().session().overlay().is_none());
    assert_eq!((file(&hands), places(&hands)), before);
    assert!(hands.says("Tin and method"), "back on the group's card");
    choose(&mut hands);
    let outlined = match &hands.app().session().overlay().unwrap().of {
        Laid::Offer(offer) => offer.plan.clone(),
        other => panic!("{other:?} is laid over"),
    };
    hands.press("Keep");
    hands.settle();
    assert_ne!(file(&hands), before.0);
    assert_eq!(hands.app().current_plan().unwrap().plan().loads, outlined.plan().loads);
    let moved = |a: &[(usize, usize, i32)], b: &[(usize, usize, i32)]| {
        a.iter().filter(|place| place.0 != group.0 && !b.contains(place)).count()
    };
    let all = before.1.len();
    assert!(2 * moved(&before.1, &places(&hands)) <= all, "{:?} {:?}", before.1, places(&hands));
    hands.apply(LessonCommand::Undo);
    hands.settle();
    assert_eq!(file(&hands), before.0, "all of it is one change");
}

/// Half past nine at night: a recipe of one's own in eleven steps, one's own
/// room, nineteen pupils in a single of fifty minutes, one group apart, an adult
/// near.
fn evening(how: How) -> usize {
    let mut hands = Hands::new(how, |_| {});
    hands.command(Key::N);
    hands.press("A recipe of our own");
    hands.fill("Recipe name", "quay oat buns");
    for (i, (name, amount)) in
        [("self-raising flour", "150"), ("oats", "50"), ("spread", "80"), ("caster sugar", "80")]
            .into_iter()
            .enumerate()
    {
        hands.press("Add an ingredient");
        hands.fill(&format!("Ingredient {}, name", i + 1), name);
        hands.fill(&format!("{name}, amount, g"), amount);
    }
    hands.fill("weigh, minutes", "3");
    hands.fill("Step 2, name", "rub in");
    hands.fill("rub in, minutes", "4");
    for step in ["wash tins", "dry and put away", "wipe down", "box and label", "unit tidy"] {
        hands.fill("New step", step);
        hands.enter();
    }
    hands.fill("unit tidy, minutes", "1");
    hands.fill("Tin 1, called", "8 buns");
    hands.fill("8 buns, oven without a fan, °C", "170 fan");
    hands.fill("8 buns, bake minutes", "14");
    hands.press("Room");
    hands.fill("Name", "Room 2");
    hands.press("Add ovens");
    hands.fill("Oven, how many", "5");
    for (kit, count) in [("scales", "8"), ("sink", "5")] {
        hands.press(&format!("Add {kit}"));
        hands.fill(&format!("{kit}, how many"), count);
    }
    hands.press("Adults and rules");
    hands.press("an adult in the room");
    hands.command(Key::Num1);
    hands.command(Key::Num1);
    hands.fill("Class", "8 Quay");
    hands.fill("Pupils", "19");
    hands.fill("Date", "3 December");
    hands.fill("Start bell", "9:50");
    hands.fill("End bell", "10:40");
    hands.press("Groups");
    hands.press("Unit 3 kept apart");
    hands.settle();
    hands.command(Key::S);
    hands.wait_for("Save to this file");
    let path = hands.file("oat buns.ron");
    hands.type_here(&path.to_string_lossy());
    hands.enter();
    hands.settle();
    let read = ovenbell::file::load_lesson(&path).unwrap();
    let method = &read.file.recipes[0].methods[0];
    assert_eq!(method.steps.len(), 11);
    for (step, kit) in [("weigh", "scales"), ("wash up", "sink"), ("wash tins", "sink")] {
        let uses = &method.steps.iter().find(|s| s.name == step).unwrap().kit.0;
        assert_eq!(uses.as_slice(), [(kit.to_owned(), 1)], "{step}");
    }
    assert_eq!(read.file.recipes[0].tins[0].celsius, Some(190.0));
    assert_eq!(read.lesson.groups.iter().map(|g| g.pupils).sum::<u32>(), 19);
    assert_eq!(read.lesson.groups.iter().filter(|g| g.keep_apart).count(), 1);
    assert!(read.file.rules.adult_near_ovens);
    let run = Process::new(env!("CARGO_BIN_EXE_ovenbell")).arg("plan").arg(&path).output().unwrap();
    let said = String::from_utf8(run.stdout).unwrap();
    assert!(said.contains("nine groups"), "{said}");
    println!("{how:?}: {} actions", hands.actions());
    hands.actions()
}

#[test]
fn an_evenings_lesson_takes_no_more_than_a_hundred_and_ten_actions_by_mouse() {
    assert!(evening(How::Mouse) <= 110);
}

#[test]
fn an_evenings_lesson_takes_no_more_than_a_hundred_and_sixty_actions_by_keyboard() {
    assert!(evening(How::Keyboard) <= 160);
}
