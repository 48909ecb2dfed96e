//! Whose job is what, and when something is hot and nobody is free.

use super::lessons::{all_served, read};
use ovenbell::check::{CheckedPlan, check};
use ovenbell::model::{AdultId, Lesson, OvenId};
use ovenbell::play::{Task, jobs};
use ovenbell::units::Minute;
use ovenbell::view::technicians_day::{ForLesson, TechniciansDay};

fn lesson(adults: &str, demo: &str) -> (Lesson, CheckedPlan) {
    switched_on(adults, demo, "")
}

fn switched_on(adults: &str, demo: &str, by: &str) -> (Lesson, CheckedPlan) {
    let lesson = read(&text(adults, demo, by));
    let plan = all_served(&lesson);
    (lesson, plan)
}

fn text(adults: &str, demo: &str, by: &str) -> String {
    format!(
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
    )
}

/// Four sets by one pair of hands: each has minutes of its own before the bell,
/// that which is kept apart the first, and what may not be left standing the
/// last.
#[test]
fn sets_are_weighed_one_after_another() {
    let adults = r#"(name: "teacher", hours: [(0, 60)]), (name: "technician", hours: [(-60, 60)])"#;
    let many =
        text(adults, "", "").replace("(name: \"Oven\",", "(name: \"Oven\", count: 4,").replace(
            "count: 1, recipe: \"buns\")",
            "count: 3, recipe: \"buns\"), (name: \"Last\", recipe: \"buns\", keep_apart: true)",
        );
    for (text, gap) in [
        (many.clone(), None),
        (many.replace("(name: \"mix\",", "(name: \"wait\", kind: Wait, minutes: 1, may_be_beforehand: true), (name: \"mix\",")
            .replace("beforehand: [\"weigh\"]", "beforehand: [\"weigh\", \"wait\"]"), Some(1)),
    ] {
        let lesson = read(&text);
        let plan = all_served(&lesson);
        let told = jobs(&lesson, &plan);
        let weigh: Vec<_> =
            told.jobs.iter().filter(|j| matches!(j.task, Task::Beforehand(..))).collect();
        assert_eq!(weigh.len(), 4);
        let ends: Vec<i32> = weigh.iter().map(|j| j.until.get()).collect();
        let last = -gap.unwrap_or(0);
        assert_eq!(ends, [last - 9, last - 6, last - 3, last], "three minutes each");
        assert!(weigh.iter().all(|j| (j.until - j.start_by).get() == 3));
        let Task::Beforehand(first, _) = weigh[0].task else { unreachable!() };
        assert_eq!(lesson.group(first).name, "Last", "what is kept apart is first");
    }
}

/// Steps that may not wait for each other stay together; where that is too much
/// for one pair of hands, it is told.
#[test]
fn what_may_not_stand_is_not_weighed_any_sooner() {
    let adults = r#"(name: "teacher", hours: [(0, 60)]), (name: "technician", hours: [(-60, 60)])"#;
    let two = text(adults, "", "")
        .replace("(name: \"Oven\",", "(name: \"Oven\", count: 2,")
        .replace("count: 1, recipe", "count: 2, recipe");
    let linked = |text: &str, link: &str| {
        let last = "(name: \"box\", minutes: 2),\n                ]";
        assert!(text.contains(last));
        text.replace(last, &format!("{last}, links: [{link}]"))
    };
    let rubbed = two
        .replace(
            "(name: \"mix\",",
            "(name: \"rub in\", minutes: 2, may_be_beforehand: true), (name: \"mix\",",
        )
        .replace("[\"weigh\"]", "[\"weigh\", \"rub in\"]");
    let read_jobs = |text: &str| {
        let lesson = read(text);
        let plan = all_served(&lesson);
        let told = jobs(&lesson, &plan).jobs.into_iter();
        let of: Vec<_> = told
            .filter_map(|j| match j.task {
                Task::Beforehand(group, _) => Some((group.0, j.start_by.get(), j.until.get())),
                _ => None,
            })
            .collect();
        let of_it = ForLesson { lesson: &lesson, plan: &plan, set_out: None };
        (of, TechniciansDay::of(&[of_it]).clashes)
    };
    let at_once = |clashes: &[String]| clashes.iter().any(|words| words.starts_with("At once: "));
    let (of, clashes) = read_jobs(&linked(&rubbed, r#"(from: "weigh", to: "rub in", longest: 1)"#));
    assert_eq!(of, [(0, -10, -7), (0, -7, -5), (1, -5, -2), (1, -2, 0)]);
    assert!(!at_once(&clashes), "{clashes:?}");
    // Eight minutes from the bell it is to be mixed, register and demo take seven.
    let (of, clashes) = read_jobs(&linked(&two, r#"(from: "weigh", to: "mix", longest: 8)"#));
    assert!(of.iter().all(|(_, start, _)| *start >= -4), "{of:?}");
    assert!(at_once(&clashes), "{clashes:?}");
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
    // Setting up before the bell is the technician's, who is there by then.
    let expected = if setting.set_at.get() < 0 { technician } else { teacher };
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

#[test]
fn after_the_last_bell_nobody_is_asked_who_watches_an_oven() {
    let (lesson, plan) = lesson(r#"(name: "teacher", hours: [(0, 20)])"#, "");
    let mut left_on = plan.into_plan();
    let last_bell = lesson.periods.iter().map(|p| p.end).max().unwrap();
    for setting in &mut left_on.settings {
        setting.until = Minute::new(i32::MAX);
    }
    let ovens: Vec<_> = left_on.settings.iter().map(|s| s.oven).collect();
    let left_on = check(&lesson, left_on).expect("an oven may stay on");
    let told = jobs(&lesson, &left_on);
    for oven in ovens {
        let until = told.unwatched.iter().filter(|u| u.oven == oven).map(|u| u.until).max();
        assert_eq!(until, Some(last_bell), "nobody is there from 20 on");
    }
}
