//! What groups have in common is held once, and worked out once.

use std::fmt::Write as _;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use ovenbell::check::judge_of;
use ovenbell::file::{lesson_of_shapes, read_lesson};
use ovenbell::graph::dag::Dag;
use ovenbell::graph::{Problem, expand, quick};
use ovenbell::model::{Lesson, StepId};
use ovenbell::planner::{Budget, plan_lesson};

/// A lesson of one recipe with so many methods of twenty steps, and so many tins.
fn lesson(methods: usize, tins: usize, groups: &str) -> String {
    let (mut of_methods, mut choices, mut kinds) = (String::new(), String::new(), String::new());
    let more: String =
        (0..14).map(|n| format!("(name: \"more {n}\", minutes: 1, after: [\"mix\"]),")).collect();
    for m in 0..methods {
        let _ = write!(
            of_methods,
            "(name: \"way {m}\", steps: [(name: \"mix\", minutes: 4), (name: \"fill\", minutes: 2), \
             (name: \"bake\", kind: Bake), {more} (name: \"wash up\", minutes: 5, after: [\"fill\"])]),"
        );
    }
    for t in 0..tins {
        let _ = write!(choices, "(tin: \"tin {t}\", celsius: 180, minutes: (18, 20, 24)),");
        let rim = 100 + t;
        let _ = write!(kinds, "(name: \"tin {t}\", rim_mm: ({rim}, 100), height_mm: 40),");
    }
    format!(
        "(format: 2, period: (start: \"9:00\", end: \"10:40\"), \
         room: (ovens: [(name: \"Oven\", count: 4)]), \
         recipes: [(name: \"buns\", methods: [{of_methods}], tins: [{choices}])], \
         tins: [{kinds}], groups: [{groups}])"
    )
}

fn shared(problem: &Problem) -> bool {
    let of = |g: usize| &problem.groups[g].options;
    (1..problem.groups.len()).all(|g| Arc::ptr_eq(of(0), of(g)))
}

#[test]
fn groups_of_one_kind_share_their_options_and_those_of_others_are_their_own() {
    let alike = "(name: \"Unit\", count: 6, recipe: \"buns\"), \
                 (name: \"Three\", pupils: 3, keep_apart: true, recipe: \"buns\")";
    let lesson = read_lesson(&lesson(2, 5, alike)).unwrap().lesson;
    let problem = expand(&lesson);
    assert!(shared(&problem));
    assert!(shared(&quick(&lesson, &problem)), "also when they are changed");

    let mut parts = lesson.into_parts();
    parts.groups[1].pace = 1.5;
    parts.groups[2].tins.truncate(2);
    let lesson = Lesson::new(parts).unwrap();
    let problem = expand(&lesson);
    let of = |g: usize| &problem.groups[g].options;
    assert!(!Arc::ptr_eq(of(0), of(1)) && !Arc::ptr_eq(of(0), of(2)));
    assert_eq!(of(2).len(), 4);
    assert!(Arc::ptr_eq(of(0), of(3)));
}

#[test]
fn more_ways_than_can_be_planned_with_are_told_with_what_to_do() {
    let free = "(name: \"Unit\", recipe: \"buns\")";
    let findings = read_lesson(&lesson(20, 60, free)).unwrap_err();
    let finding = findings.iter().find(|f| f.code == "too-many-ways").expect("it is told");
    assert_eq!(finding.path.to_string(), "recipes[0]");
    assert!(finding.place.is_some());
    assert!(finding.message.contains("1200 ways"), "{finding}");
    assert!(finding.hint.contains("`tins`"), "{finding}");

    let named = "(name: \"Unit\", recipe: \"buns\", methods: [\"way 3\"], tins: [\"tin 4\"])";
    assert!(read_lesson(&lesson(20, 60, named)).is_ok(), "it did as it was told");
}

#[test]
fn chains_before_and_after_every_step_are_the_longest() {
    for seed in 0..how_many_lessons(60) {
        let lesson = lesson_of_shapes(&generate::lesson(seed), &[]).unwrap();
        for method in lesson.recipes.iter().flat_map(|r| &r.methods) {
            let dag = Dag::new(method);
            // Some steps take no part.
            let minutes = |s: StepId| (s.0 % 4 != 3).then_some(1.5 * (s.0 % 5) as f64 + 0.5);
            let earliest = |s: StepId| if s.0.is_multiple_of(2) { 7.0 } else { 0.0 };
            let before = dag.ends_before(minutes, earliest);
            let after = dag.lengths_after(minutes);
            for step in (0..method.steps.len()).map(StepId) {
                let of = dag.before(step);
                let chain = dag.longest_chain(|s| minutes(s).filter(|_| of.contains(&s)), earliest);
                let end = if of.iter().all(|s| minutes(*s).is_none()) {
                    0.0
                } else {
                    chain.from + chain.length
                };
                assert!((before[step.0] - end).abs() < 1e-9, "seed {seed}, before {step:?}");
                let of = dag.after(step);
                let chain = dag.longest_chain(|s| minutes(s).filter(|_| of.contains(&s)), |_| 0.0);
                assert!((after[step.0] - chain.length).abs() < 1e-9, "seed {seed}, after {step:?}");
            }
        }
    }
}

#[test]
fn a_plan_stopped_before_it_began_is_one_that_keeps_every_rule() {
    for seed in 0..how_many_lessons(20) {
        let lesson = lesson_of_shapes(&generate::lesson(seed), &[]).unwrap();
        let stopped = AtomicBool::new(true);
        let budget = Budget { within: None, decodings: Some(500), seed: 1 };
        let found = plan_lesson(&lesson, &budget, &stopped, judge_of(&lesson), |_| {}).unwrap();
        assert_eq!(found.judged.objective().served, 0, "seed {seed}");
        assert_eq!(found.decodings, 1, "seed {seed}");
    }
}
