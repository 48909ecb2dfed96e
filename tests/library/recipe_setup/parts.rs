//! Methods and tins put in and taken out.

use ovenbell::file::format::{Entries, LessonFile, LockShape, StatedMinutes};
use ovenbell::file::{lesson_or_findings, library};
use ovenbell::setup::recipe::{add_tin, copy_method, remove_method, remove_tin};
use ovenbell::setup::steps::At;

fn of(name: &str) -> LessonFile {
    library::lesson_of(library::recipe(name).unwrap().unwrap()).unwrap()
}

fn sound(file: &LessonFile) {
    let (lesson, findings) = lesson_or_findings(file, &[]);
    assert!(lesson.is_some(), "{findings:?}");
}

#[test]
fn every_method_but_the_last_can_go_and_a_lesson_is_left() {
    for recipe in library::recipes().unwrap() {
        for method in 0..recipe.methods.len() {
            let mut file = library::lesson_of(recipe.clone()).unwrap();
            let names: Vec<String> = recipe.methods.iter().map(|m| m.name.clone()).collect();
            file.groups[0].methods = names.clone();
            let lock = LockShape { method: Some(names[method].clone()), ..LockShape::default() };
            file.locks.push(LockShape { group: file.groups[0].name.clone(), ..lock });
            let made = remove_method(&mut file, At { recipe: 0, method });
            if recipe.methods.len() == 1 {
                assert!(made.unwrap_err().contains("at least one method"));
                continue;
            }
            assert!(!file.groups[0].methods.contains(&names[method]));
            assert!(file.locks.is_empty());
            sound(&file);
            assert_eq!(
                made.unwrap().is_empty(),
                recipe.tins.iter().all(|t| { t.methods != [names[method].clone()] })
            );
        }
    }
}

#[test]
fn what_is_said_of_steps_goes_with_the_last_method_that_has_them() {
    let mut file = of("Orchard crumble");
    file.recipes[0].tins[3].methods.clear();
    file.recipes[0].tins[3].step_minutes =
        Entries(vec![("soften apples".into(), StatedMinutes::Usual(6.0))]);
    sound(&file);
    let told = remove_method(&mut file, At { recipe: 0, method: 1 }).unwrap();
    assert_eq!(told, ["2 foil trays, apples softened was for it alone and is gone too"]);
    assert!(file.recipes[0].tins.iter().all(|t| t.step_minutes.0.is_empty()));
    sound(&file);
}

#[test]
fn a_method_like_another_has_its_tins() {
    let mut file = of("Orchard crumble");
    copy_method(&mut file, At { recipe: 0, method: 0 });
    assert_eq!(file.recipes[0].methods[2].name, "rubbing-in 2");
    assert_eq!(file.recipes[0].tins[0].methods, ["rubbing-in", "rubbing-in 2"]);
    assert_eq!(file.recipes[0].tins[1].methods.len(), 1);
    sound(&file);
}

#[test]
fn tins_come_and_go() {
    let mut file = of("Tower scones");
    add_tin(&mut file, 0, "baking sheet");
    add_tin(&mut file, 0, "baking sheet");
    let label = |i: usize| file.recipes[0].tins[i].label.clone();
    assert_eq!((label(3), label(4)), (None, Some("baking sheet 2".into())));
    assert_eq!(file.recipes[0].tins[4].celsius, Some(200.0), "as the one before");
    file.groups[0].tins = vec!["8 scones".into(), "scored round".into()];
    let name = file.groups[0].name.clone();
    file.locks.push(LockShape { group: name, tin: Some("8 scones".into()), ..Default::default() });
    remove_tin(&mut file, 0, 0);
    assert_eq!(file.groups[0].tins, ["scored round"]);
    assert!(file.locks.is_empty());
    remove_tin(&mut file, 0, 99);
    remove_tin(&mut file, 9, 0);
    assert_eq!(file.recipes[0].tins.len(), 4);
    sound(&file);
}
