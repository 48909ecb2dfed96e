//! Whose job is what, and when something is hot and nobody is free.

use super::lessons::{all_served, read};
use ovenbell::check::CheckedPlan;
use ovenbell::model::{AdultId, Lesson, OvenId};
use ovenbell::play::{Task, jobs};

fn lesson(adults: &str, demo: &str) -> (Lesson, CheckedPlan) {
    switched_on(adults, demo, "")
}

fn switched_on(adults: &str, demo: &str, by: &str) -> (Lesson, CheckedPlan) {
    let lesson = read(&format!(
        r#"(format: 2, title: "Jobs",
            period: (start: "10:00", end: "11:00",
                opening: [(name: "register", minutes: (2, 2, 2)), (name: "demo", minutes: (5, 5, 5){demo})],
                closing: [(name: "dismissal", minutes: (2, 2, 2))], ovens_on_from: -20{by}),
            room: (name: "Room", ovens: [(name: "Oven", warm_up: 12)]),
            adults: [{adults}],
            recipes: [(name: "buns", methods: [(name: "stirred", steps: [
                    (name: "weigh", minutes: 3, may_be_beforehand: true),
                    (name: "mix", minutes: 3),
                    (name: "bake", kind: Bake),
                    (name: "box", minutes: 2),
                ])],
                tins: [(tin: "tray", celsius: 180, minutes: (9, 10, 14))])],
            tins: [(name: "tray", form: Holes(count: 12, across_mm: 60), rim_mm: (350, 270), height_mm: 30)],
            beforehand: ["weigh"],
            groups: [(name: "Unit", count: 1, recipe: "buns")])"#
    ));
    let plan = all_served(&lesson);
    (lesson, plan)
}

#[test]
fn what_nobody_is_named_for_is_assumed_of_who_is_there() {
    let adults = r#"(name: "teacher", hours: [(0, 60)]), (name: "technician", hours: [(-60, 60)])"#;
    let (lesson, plan) = lesson(adults, r#", adults: ["teacher"]"#);
    let told = jobs(&lesson, &plan);
    let (teacher, technician) = (Some(AdultId(0)), Some(AdultId(1)));
    let of = |want: fn(&Task) -> bool| told.jobs.iter().filter(move |j| want(&j.task));
    let weigh: Vec<_> = of(|t| matches!(t, Task::Beforehand(..))).collect();
    assert_eq!(weigh.len(), 1);
    assert_eq!((weigh[0].adult, weigh[0].assumed), (technician, true));
    assert!(weigh[0].until.get() <= 0);
    let steps: Vec<_> = of(|t| matches!(t, Task::Class(_))).collect();
    let whose: Vec<_> = steps.iter().map(|j| (j.adult, j.assumed)).collect();
    assert_eq!(whose, [(teacher, true), (teacher, false), (teacher, true)]);
    let set: Vec<_> = of(|t| matches!(t, Task::Set(OvenId(0)))).collect();
    let setting = &plan.plan().settings[0];
    // Before the bell only who is named.
    let expected = if setting.set_at.get() < 0 { None } else { teacher };
    assert_eq!((set.len(), set[0].adult, set[0].assumed), (1, expected, true));
    assert_eq!(set[0].start_by, setting.set_at);
    assert_eq!(told.unwatched, [], "the technician is free all along");
}

#[test]
fn who_is_named_for_the_ovens_switches_them_on_before_the_bell() {
    let adults = r#"(name: "teacher", hours: [(0, 60)]), (name: "technician", hours: [(-60, 60)])"#;
    let (lesson, plan) = switched_on(adults, "", r#", ovens_on_by: "technician""#);
    assert!(plan.plan().settings[0].set_at.get() < 0, "on before the bell");
    let told = jobs(&lesson, &plan);
    let set = told.jobs.iter().find(|j| matches!(j.task, Task::Set(_))).unwrap();
    assert_eq!((set.adult, set.assumed), (Some(AdultId(1)), false));
}

#[test]
fn where_nobody_is_there_nobody_is_named() {
    let (lesson, plan) =
        lesson(r#"(name: "teacher", hours: [(0, 60)])"#, r#", adults: ["teacher"]"#);
    let told = jobs(&lesson, &plan);
    let weigh = told.jobs.iter().find(|j| matches!(j.task, Task::Beforehand(..))).unwrap();
    assert_eq!((weigh.adult, weigh.assumed), (None, true));
    // On before the bell: nobody is there; in the demo, from 2 to 7, the
    // teacher is not free.
    let setting = &plan.plan().settings[0];
    let on = setting.set_at.get();
    let stretches: Vec<_> = told.unwatched.iter().map(|u| (u.from.get(), u.until.get())).collect();
    let mut expected = Vec::new();
    if on < 0 {
        expected.push((on, 0));
    }
    if on < 7 {
        expected.push((on.max(2), 7));
    }
    assert_eq!(stretches, expected);
}
