//! Minutes next to none, wherever a lesson can state any: the planner and the
//! checker round them alike.

use std::sync::atomic::AtomicBool;

use ovenbell::check::judge_of;
use ovenbell::file::read_lesson;
use ovenbell::planner::{Budget, plan_lesson};

/// A lesson with a figure in each place that minutes can be stated.
fn lesson(of: [&str; 9]) -> String {
    let [class, hand, wait, bake, load, cool, least, shut, pace] = of;
    format!(
        r#"(
    format: 2,
    period: (start: "9:00", end: "10:40", opening: [(name: "register", minutes: {class})],
        during: [(name: "look", minutes: {class}, between: (20, 40))]),
    room: (ovens: [(name: "Oven", count: 2)]),
    recipes: [
        (name: "biscuits", bake: (shut: {shut}, load: {load}, take_out: {load}), methods: [(name: "rubbing in", steps: [
            (name: "mix", minutes: {hand}),
            (name: "rest", kind: Wait, minutes: {wait}),
            (name: "roll", minutes: 10, everyone: true),
            (name: "bake", kind: Bake),
            (name: "cool", kind: Cool, minutes: {cool}),
            (name: "tidy", minutes: {hand}, after: ["roll"]),
        ], links: [(from: "rest", to: "roll", least: {least})])],
        tins: [(tin: "sheet", celsius: 180, minutes: {bake})]),
        (name: "trifle", methods: [(name: "cold", steps: [
            (name: "slice", minutes: 5, after: []),
            (name: "whip", minutes: {hand}, after: []),
            (name: "layer", minutes: 7, after: ["slice", "whip"]),
        ])]),
    ],
    tins: [(name: "sheet", form: Sheet, rim_mm: (360, 280), height_mm: 15)],
    groups: [
        (name: "Pair", count: 2, recipe: "biscuits", pace: {pace}),
        (name: "Solo", pupils: 1, recipe: "trifle", pace: {pace}),
    ],
)"#
    )
}

const USUAL: [&str; 9] = ["3", "4", "5", "12", "1", "6", "2", "8", "1"];

#[test]
fn minutes_next_to_none_are_planned_as_they_are_judged() {
    let mut read = 0;
    for place in 0..USUAL.len() {
        for small in ["1e-7", "0.0000009", "0.3", "1.0000001", "5e-324"] {
            let mut of = USUAL;
            of[place] = small;
            let slow = {
                let mut of = of;
                of[8] = "0.25";
                of
            };
            for of in [of, slow] {
                // Not every figure can be so small: then it is a finding.
                let Ok(loaded) = read_lesson(&lesson(of)) else { continue };
                read += 1;
                let lesson = loaded.lesson;
                let budget = Budget { within: None, decodings: Some(40), seed: 1 };
                let never = AtomicBool::new(false);
                let found = plan_lesson(&lesson, &budget, &never, judge_of(&lesson), |_| {});
                assert!(found.is_ok(), "{of:?}: {}", found.unwrap_err());
            }
        }
    }
    assert!(read > 50, "only {read} could be read");
}
