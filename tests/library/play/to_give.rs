//! What is to give, against a textbook's floats and sums done by hand.

use super::lessons::{all_served, queue, read};
use ovenbell::check::check;
use ovenbell::model::{GroupId, StepId};
use ovenbell::plan::{Choice, Plan, StepPlacement};
use ovenbell::play::{to_give, true_at};
use ovenbell::units::Minute;

/// Activity, duration, what it follows, earliest start, total float: the
/// Reliable Construction project of Hillier and Lieberman, *Introduction to
/// Operations Research*, its chapter on PERT and CPM (from memory; the floats
/// worked out again by hand). Its weeks are taken for minutes.
const PROJECT: [(&str, i32, &[&str], i32, i32); 14] = [
    ("A", 2, &[], 0, 0),
    ("B", 4, &["A"], 2, 0),
    ("C", 10, &["B"], 6, 0),
    ("D", 6, &["C"], 16, 4),
    ("E", 4, &["C"], 16, 0),
    ("F", 5, &["E"], 20, 0),
    ("G", 7, &["D"], 22, 4),
    ("H", 9, &["E", "G"], 29, 4),
    ("I", 7, &["C"], 16, 2),
    ("J", 8, &["F", "I"], 25, 0),
    ("K", 4, &["J"], 33, 1),
    ("L", 5, &["J"], 33, 0),
    ("M", 2, &["H"], 38, 4),
    ("N", 6, &["K", "L"], 38, 0),
];

#[test]
fn to_give_is_the_total_float_of_a_textbooks_project() {
    let steps: Vec<String> = PROJECT
        .iter()
        .map(|(name, lasts, after, ..)| {
            format!("(name: \"{name}\", kind: Wait, minutes: ({lasts}, {lasts}, {lasts}), after: {after:?})")
        })
        .collect();
    let lesson = read(&format!(
        r#"(format: 1, title: "Project", period: (start: "10:00", end: "10:44"),
            room: (name: "Room", ovens: [(name: "Oven")]),
            recipes: [(name: "project", methods: [(name: "as planned", steps: [{}])])],
            groups: [(name: "Unit", count: 1, pupils: 1, recipe: "project")])"#,
        steps.join(", ")
    ));
    let method = &lesson.recipes[0].methods[0];
    let group = GroupId(0);
    let mut plan = Plan::default();
    plan.choices.push(Choice { group, method: ovenbell::model::MethodId(0), tin: None });
    for (name, lasts, _, start, _) in PROJECT {
        let step = method.step_named(name).unwrap();
        let (start, end) = (Minute::new(start), Minute::new(start + lasts));
        let placed = StepPlacement { group, step, start, end, pupils: Vec::new(), adult: None };
        plan.steps.push(placed);
    }
    let plan = check(&lesson, plan).unwrap();
    let gives = to_give(&lesson, &plan);
    for (name, .., float) in PROJECT {
        let step = method.step_named(name).unwrap();
        let found = gives[0].steps.iter().find(|s| s.step == step).unwrap();
        assert_eq!(found.minutes, float, "{name}");
    }
    assert_eq!(gives[0].minutes, 0);
}

/// Register to 2, mix 3, so the first loads at 5, is out at 17 and boxed at 19;
/// the second loads at 17, is out at 29 and boxed at 31; the closing begins at
/// 38.
#[test]
fn in_a_queue_the_first_gives_no_more_than_the_second_has() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let loads: Vec<_> = plan.plan().loads.iter().map(|l| (l.start.get(), l.group)).collect();
    let (first, second) =
        if loads[0] < loads[1] { (loads[0], loads[1]) } else { (loads[1], loads[0]) };
    let ready = |g: GroupId| plan.group_outcome(g).unwrap().ready.unwrap().get();
    let gives = to_give(&lesson, &plan);
    let give = |g: GroupId| gives.iter().find(|of| of.group == g).unwrap();
    let (load, bake, out) = lesson.recipes[0].methods[0].bake_steps().unwrap();
    let boxing = lesson.recipes[0].methods[0].step_named("box").unwrap();
    let at = |g: GroupId, step: StepId| give(g).steps.iter().find(|s| s.step == step).unwrap();
    let spare = 38 - ready(second.1);
    // What the second waits for the first to leave, the first may be late too.
    let between = second.0 - (first.0 + 12);
    assert_eq!(give(second.1).minutes, spare);
    assert_eq!(at(first.1, load).minutes, between + spare);
    assert_eq!(at(first.1, bake).minutes, between + spare);
    assert_eq!(at(first.1, out).minutes, between + spare);
    assert_eq!(at(first.1, boxing).minutes, 38 - ready(first.1));
    assert_eq!(at(second.1, load).call, Some(spare));
}

#[test]
fn what_has_to_be_true_at_a_minute_is_what_can_be_no_later() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let gives = to_give(&lesson, &plan);
    let early = true_at(&lesson, &plan, &gives, Minute::new(0));
    assert!(early.iter().all(|t| t.over.is_empty() && t.begun.is_empty()));
    let closing = true_at(&lesson, &plan, &gives, Minute::new(38));
    assert!(closing.iter().all(|t| t.over.len() == 5 && t.begun.is_empty()));
    let mut held = 0;
    for minute in 0..38 {
        let now = true_at(&lesson, &plan, &gives, Minute::new(minute));
        let over: usize = now.iter().map(|t| t.over.len()).sum();
        assert!(over >= held, "what was true stays true");
        held = over;
    }
    assert!(held > 0);
}
