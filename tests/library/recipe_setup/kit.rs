//! Kit that steps usually use: given to them once a room counts it, told as
//! wanting until then.

use ovenbell::file::format::*;
use ovenbell::file::library;
use ovenbell::setup::usual_kit::{
    Wanting, counted, give, give_new, renamed, users, usual_kit, wanting,
};
use ovenbell::setup::{starter, suggest};

fn step(name: &str) -> StepShape {
    StepShape { name: name.into(), ..StepShape::default() }
}

fn usual(name: &str) -> Vec<String> {
    usual_kit(&step(name), &[]).into_iter().map(|(kit, _)| kit).collect()
}

/// A recipe of one's own in a lesson whose room counts nothing yet.
fn own() -> LessonFile {
    let mut file = LessonFile::default();
    let recipe = suggest::new_recipe(&mut file, "our own").unwrap();
    starter::take_recipe(&mut file, &recipe, &[]);
    file
}

fn kit_of(file: &LessonFile, name: &str) -> Vec<(String, i64)> {
    let steps = &file.recipes[0].methods[0].steps;
    steps.iter().find(|s| s.name == name).unwrap().kit.0.clone()
}

fn count(file: &mut LessonFile, kit: &str, n: i64) {
    let before = counted(file);
    file.room.kit.0.retain(|(name, _)| name != kit);
    file.room.kit.0.push((kit.into(), KitCount::of(n)));
    give_new(file, &before);
}

#[test]
fn a_step_usually_uses_what_the_librarys_steps_of_its_kind_do() {
    assert_eq!(usual("Wash up"), ["sink"]);
    assert_eq!(usual("weigh"), ["scales"]);
    // By the word it begins with, where no step has that name.
    assert_eq!(usual("wash up and dry"), ["sink"]);
    assert_eq!(usual("weigh dry things"), ["scales"]);
    assert_eq!(usual("whisk eggs"), ["electric whisk"]);
    assert_eq!(usual("melt chocolate"), ["ring"]);
    // By hand as often as not.
    assert!(usual("cream it").is_empty(), "{:?}", usual("cream it"));
    assert!(usual("juggle").is_empty() && usual("").is_empty());
}

#[test]
fn a_step_gets_its_kit_once_a_room_counts_it() {
    let mut file = own();
    let wants = |kit: &str, step: &str| Wanting { kit: kit.into(), steps: vec![step.into()] };
    assert_eq!(wanting(&file), [wants("scales", "weigh"), wants("sink", "wash up")]);
    count(&mut file, "sink", 5);
    assert_eq!(kit_of(&file, "wash up"), [("sink".to_owned(), 1)]);
    assert!(kit_of(&file, "weigh").is_empty());
    assert_eq!(wanting(&file), [wants("scales", "weigh")]);
    assert_eq!((users(&file, "sink"), users(&file, "scales")), (vec!["wash up".into()], vec![]));
    // None of it is an answer too, and may be another one day.
    count(&mut file, "scales", 0);
    assert!(wanting(&file).is_empty() && kit_of(&file, "weigh").is_empty());
    count(&mut file, "scales", 8);
    assert_eq!(kit_of(&file, "weigh"), [("scales".to_owned(), 1)]);
    // What somebody takes out afterwards stays out.
    file.recipes[0].methods[0].steps[0].kit = Entries::default();
    count(&mut file, "scales", 9);
    assert!(kit_of(&file, "weigh").is_empty());
    // With a whole room likewise.
    let mut file = own();
    let room = library::room("usual room").unwrap().unwrap();
    starter::take_room(&mut file, &room);
    assert_eq!(kit_of(&file, "weigh"), [("scales".to_owned(), 1)]);
    assert_eq!(kit_of(&file, "wash up"), [("sink".to_owned(), 1)]);
}

#[test]
fn a_step_renamed_uses_what_is_usual_by_its_new_name() {
    let there = ["scales", "ring"].map(String::from);
    let mut weigh = step("weigh");
    assert!(give(&mut weigh, &there).is_empty());
    let mut melt = StepShape { name: "melt".into(), ..weigh.clone() };
    renamed(&weigh, &mut melt, &there);
    assert_eq!(melt.kit.0, [("ring".to_owned(), 1)]);
    assert_eq!(give(&mut step("wash up"), &there), ["sink"], "what is not there is told");
    // What a teacher said of it stays.
    let own = StepShape { kit: Entries(vec![("bowl".into(), 2)]), ..weigh };
    let mut melt = StepShape { name: "melt".into(), ..own.clone() };
    renamed(&own, &mut melt, &there);
    assert_eq!(melt.kit, own.kit);
}

#[test]
fn kit_is_known_by_its_name_in_another_english() {
    let burner = ["burner".to_owned()];
    assert_eq!(usual_kit(&step("melt"), &burner), [("burner".to_owned(), 1)]);
}
