//! Steps moved up and down: what is done first follows where that is plain.

use ovenbell::file::format::*;
use ovenbell::file::library;
use ovenbell::setup::steps::{self, At, arrows, change_turns};

const FIRST: At = At { recipe: 0, method: 0 };

fn of_steps(all: &[(&str, Option<&[&str]>)]) -> LessonFile {
    let step = |&(name, after): &(&str, Option<&[&str]>)| StepShape {
        name: name.to_owned(),
        minutes: Some(StatedMinutes::Usual(2.0)),
        after: after.map(|names| names.iter().map(|n| (*n).to_owned()).collect()),
        ..StepShape::default()
    };
    let recipe = library::recipes().unwrap().remove(0);
    let mut file = library::lesson_of(recipe).unwrap();
    let method = &mut file.recipes[0].methods[0];
    method.steps = all.iter().map(step).collect();
    (method.links, method.holds, method.tin_held) = (Vec::new(), Vec::new(), None);
    file
}

/// What comes after what, by name.
fn order(file: &LessonFile) -> Vec<String> {
    let method = &file.recipes[0].methods[0];
    let name = |i: usize| &method.steps[i].name;
    let mut all: Vec<String> =
        arrows(method).iter().map(|a| format!("{} then {}", name(a.from), name(a.to))).collect();
    all.sort();
    all
}

#[test]
fn a_step_of_a_plain_chain_moved_up_is_done_sooner() {
    let mut file = of_steps(&[("weigh", None), ("grease", None), ("mix", None), ("fill", None)]);
    assert_eq!(change_turns(&mut file, FIRST, 1).unwrap(), Vec::<String>::new());
    assert_eq!(order(&file), ["grease then fill", "mix then grease", "weigh then mix"]);
    // And back again.
    change_turns(&mut file, FIRST, 1).unwrap();
    assert_eq!(order(&file), ["grease then mix", "mix then fill", "weigh then grease"]);
    // The first of all.
    change_turns(&mut file, FIRST, 0).unwrap();
    assert_eq!(order(&file), ["grease then weigh", "mix then fill", "weigh then mix"]);
}

#[test]
fn what_more_than_one_waits_for_keeps_its_order_and_that_is_told() {
    let mut file =
        of_steps(&[("weigh", None), ("mix", None), ("fill", None), ("wash up", Some(&["mix"]))]);
    let before = order(&file);
    let told = change_turns(&mut file, FIRST, 1).unwrap();
    assert_eq!(order(&file), before);
    assert!(told[0].contains("fill still waits for mix"), "{told:?}");
    assert!(change_turns(&mut file, FIRST, 3).is_err());
}

#[test]
fn a_gap_between_two_steps_keeps_their_order() {
    let mut file = of_steps(&[("weigh", None), ("mix", None), ("fill", None)]);
    steps::set_gap(&mut file, FIRST, (1, 2), (None, Some(5.0))).unwrap();
    let before = order(&file);
    let told = change_turns(&mut file, FIRST, 1).unwrap();
    assert_eq!(order(&file), before);
    assert!(told[0].contains("still waits"), "{told:?}");
}

#[test]
fn a_step_nothing_waits_for_any_more_is_told() {
    let mut file = of_steps(&[("weigh", None), ("mix", None), ("fill", None)]);
    let before = file.recipes[0].methods[0].clone();
    steps::erase(&mut file, FIRST, 0, 1).unwrap();
    let told = steps::loosened(&before, &file.recipes[0].methods[0]);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].starts_with("nothing waits for weigh now"), "{told:?}");
}

/// Whatever is moved, recipes of the library stay recipes.
#[test]
fn moved_anywhere_the_librarys_recipes_can_still_be_planned() {
    for recipe in library::recipes().unwrap() {
        let mut file = library::lesson_of(recipe).unwrap();
        file.beforehand.clear();
        file.collected.clear();
        for method in 0..file.recipes[0].methods.len() {
            let at = At { recipe: 0, method };
            for upper in 0..file.recipes[0].methods[method].steps.len() - 1 {
                let mut moved = file.clone();
                let names = |f: &LessonFile| -> Vec<String> {
                    f.recipes[0].methods[method].steps.iter().map(|s| s.name.clone()).collect()
                };
                change_turns(&mut moved, at, upper).unwrap();
                let mut wanted = names(&file);
                wanted.swap(upper, upper + 1);
                assert_eq!(names(&moved), wanted);
                let (lesson, findings) = ovenbell::file::lesson_or_findings(&moved, &[]);
                assert!(lesson.is_some(), "{upper} of {}: {findings:?}", file.recipes[0].name);
            }
        }
    }
}
