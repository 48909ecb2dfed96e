//! What a lesson may say of how its plan is played: a call that waits for its
//! slowest group, how far minutes go together, closing steps that can be dropped.

use super::lessons::{all_served, chains, read};
use ovenbell::check::{CheckedPlan, check};
use ovenbell::model::{GroupId, Lesson, LessonParts, Together};
use ovenbell::play::{Cause, Network, Odds, Play, Settings, odds};

/// Two groups of one pupil who load an oven with room for both at one call of
/// three minutes; its door then stays shut for ten.
fn call_of_two(rules: &str) -> Lesson {
    read(&format!(
        r#"(format: 2, title: "A call of two",
            period: (start: "10:00", end: "10:50",
                opening: [(name: "register", minutes: (2, 2, 2))],
                closing: [(name: "dismissal", minutes: (2, 2, 2))]),
            rules: (call: 3, {rules}),
            room: (name: "Room", ovens: [(name: "Oven", shelves: 2, shelf_mm: (380, 320))]),
            recipes: [(name: "sponge",
                bake: (load: (1, 1, 1), take_out: (1, 1, 1), shut: 10),
                methods: [(name: "whisked", steps: [
                    (name: "mix", minutes: (2, 3, 9)),
                    (name: "bake", kind: Bake),
                    (name: "box", minutes: (1, 2, 4)),
                ])],
                tins: [(tin: "tray", celsius: 180, minutes: (18, 20, 24))])],
            tins: [(name: "tray", form: Holes(count: 12, across_mm: 60), rim_mm: (350, 270), height_mm: 30)],
            groups: [(name: "Unit", count: 2, pupils: 1, recipe: "sponge")])"#
    ))
}

/// When both load, from the minute of the call, where the second has mixed so many
/// minutes after that.
fn loads(lesson: &Lesson, plan: &CheckedPlan, late: f64) -> [f64; 2] {
    let network = Network::new(lesson, plan);
    let mut minutes = network.planned_minutes();
    let quick = vec![0.0; network.nodes.len()];
    let method = &lesson.recipes[0].methods[0];
    let mix = method.step_named("mix").unwrap();
    let (load, ..) = method.bake_steps().unwrap();
    let of = |group: usize, step| network.node(GroupId(group), step).unwrap();
    let planned = network.nodes[of(0, load)].start;
    assert_eq!(planned, network.nodes[of(1, load)].start, "they load at one call");
    minutes.nodes[of(1, mix)] = planned - minutes.opened[0] + late;
    let mut play = Play::new(&network, network.earliest_starts(&quick));
    play.run(&minutes);
    [0, 1].map(|group| play.start_of(of(group, load)) - planned)
}

#[test]
fn a_call_waits_for_its_slowest_group_for_its_own_minutes_at_most() {
    let nobody = call_of_two("");
    let plan = all_served(&nobody);
    let waiting = call_of_two("call_waits: true");
    let same = check(&waiting, plan.plan().clone()).unwrap();
    // Two minutes late the second joins anyway; five minutes late the door is shut.
    for (late, without, with) in [
        (0.0, [0.0, 0.0], [0.0, 0.0]),
        (2.0, [0.0, 2.0], [2.0, 2.0]),
        (5.0, [0.0, 11.0], [3.0, 5.0]),
        (8.0, [0.0, 11.0], [3.0, 14.0]),
    ] {
        assert_eq!(loads(&nobody, &plan, late), without, "{late} min late");
        assert_eq!(loads(&waiting, &same, late), with, "{late} min late, waited for");
    }
}

#[test]
fn a_call_that_waits_is_told_as_a_cause() {
    let lesson = call_of_two("call_waits: true");
    let lesson = changed(&lesson, |parts| {
        let end = parts.periods[0].end;
        parts.periods[0].end = end + ovenbell::units::Minutes::new(-16);
    });
    let plan = all_served(&lesson);
    let odds = played(&lesson, &plan, None);
    assert!(odds.causes.iter().any(|c| c.what == Cause::Call), "{:?}", odds.causes);
}

fn changed(lesson: &Lesson, change: impl FnOnce(&mut LessonParts)) -> Lesson {
    let mut parts = lesson.clone().into_parts();
    change(&mut parts);
    Lesson::new(parts).unwrap()
}

fn played(lesson: &Lesson, plan: &CheckedPlan, together: Option<Together>) -> Odds {
    let settings = Settings { runs: 2_000, together, ..Settings::default() };
    odds(lesson, plan, &settings, &[]).unwrap()
}

#[test]
fn a_lessons_own_factors_are_played_with_and_nought_is_independence() {
    let usual = chains(3, 12, &[(2.0, 4.0, 9.0), (3.0, 6.0, 8.0)]);
    let plan = all_served(&usual);
    let none = Together::INDEPENDENT;
    let own = changed(&usual, |parts| parts.together = none);
    let same = check(&own, plan.plan().clone()).unwrap();
    assert_eq!(played(&own, &same, None), played(&usual, &plan, Some(none)));
    assert_ne!(played(&own, &same, None), played(&usual, &plan, None));
    assert_eq!(played(&own, &same, Some(Together::USUAL)), played(&usual, &plan, None));
}

#[test]
fn factors_of_a_file_are_those_of_its_lesson() {
    let with = |together: &str| {
        let text = include_str!("../../cases/good/scones.ron");
        read(&text.replacen("title:", &format!("{together} title:"), 1)).together
    };
    assert_eq!(with(""), Together::USUAL);
    assert_eq!(with("together: (class: 0, group: 0, oven: 0, mixture: 0),"), Together::INDEPENDENT);
    let some = with("together: (class: 0.4, mixture: 0.5),");
    let wanted = Together { class: 0.4, class_steps: 0.4, mixture: 0.5, ..Together::USUAL };
    assert_eq!(some, wanted);
}

#[test]
fn closing_steps_are_dropped_as_the_file_says_and_else_by_their_names() {
    let dropped = |closing: &str| {
        let text = format!(
            r#"(format: 2, title: "Closing",
                period: (start: "10:00", end: "10:30", closing: [{closing}]),
                room: (name: "Room", ovens: [(name: "Oven")]),
                recipes: [(name: "salad", methods: [(name: "by hand", steps: [
                    (name: "cut", minutes: (5, 10, 20))])])],
                groups: [(name: "Unit", pupils: 1, recipe: "salad")])"#
        );
        let lesson = read(&text);
        lesson.class_steps.iter().map(|step| step.may_be_dropped).collect::<Vec<_>>()
    };
    let named = "(name: \"Plenary\", minutes: 4), (name: \"unit check\", minutes: 2)";
    assert_eq!(dropped(named), [true, false]);
    let said = "(name: \"plenary\", minutes: 4, may_be_dropped: false), \
                (name: \"a word on marks\", minutes: 4, may_be_dropped: true), \
                (name: \"dismissal\", minutes: 2, may_be_dropped: false)";
    assert_eq!(dropped(said), [false, true, false]);
    // Not even by its name.
    assert_eq!(dropped("(name: \"recap and unit check\", minutes: 4)"), [false]);
}
