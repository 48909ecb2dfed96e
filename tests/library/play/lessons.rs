//! Small lessons to play. All of them are invented.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use crate::common::generate;
use crate::common::planned::planned;
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_until};

pub fn read(text: &str) -> Lesson {
    match read_lesson(text) {
        Ok(loaded) => loaded.lesson,
        Err(findings) => panic!("{}\n{text}", findings[0]),
    }
}

/// Groups of one pupil who do these steps by hand, one after another, in so
/// many minutes from bell to bell.
pub fn chains(groups: u32, minutes: u32, steps: &[(f64, f64, f64)]) -> Lesson {
    let steps: Vec<String> = (1..)
        .zip(steps)
        .map(|(i, m)| format!("(name: \"step {i}\", minutes: ({:?}, {:?}, {:?})),", m.0, m.1, m.2))
        .collect();
    let end = 10 * 60 + minutes;
    read(&format!(
        r#"(format: 1, title: "Chains",
            period: (start: "10:00", end: "{:02}:{:02}"),
            room: (name: "Room", ovens: [(name: "Oven")]),
            recipes: [(name: "salad", methods: [(name: "by hand", steps: [{}])])],
            groups: [(name: "Unit", count: {groups}, pupils: 1, recipe: "salad")])"#,
        end / 60,
        end % 60,
        steps.join(" ")
    ))
}

/// Two groups of one pupil and one oven with room for one of their tins.
pub fn queue(minutes: u32) -> Lesson {
    let end = 10 * 60 + minutes;
    read(&format!(
        r#"(format: 1, title: "A queue of two",
            period: (start: "10:00", end: "{:02}:{:02}",
                opening: [(name: "register", minutes: (2, 2, 2))],
                closing: [(name: "dismissal", minutes: (2, 2, 2))]),
            room: (name: "Room", ovens: [(name: "Oven", shelves: 1, shelf_mm: (380, 320))]),
            recipes: [(name: "buns",
                bake: (load: (1, 1, 1), take_out: (1, 1, 1)),
                methods: [(name: "stirred", steps: [
                    (name: "mix", minutes: (2, 3, 6)),
                    (name: "bake", kind: Bake),
                    (name: "box", minutes: (1, 2, 4)),
                ])],
                tins: [(tin: "tray", celsius: 180, minutes: (9, 10, 14))])],
            tins: [(name: "tray", form: Holes(count: 12, across_mm: 60), rim_mm: (350, 270), height_mm: 30)],
            groups: [(name: "Unit", count: 2, pupils: 1, recipe: "buns")])"#,
        end / 60,
        end % 60
    ))
}

/// The plan in which all are served.
pub fn all_served(lesson: &Lesson) -> CheckedPlan {
    let plan = planned(lesson, 300);
    assert_eq!(plan.objective().served as usize, lesson.attending().count());
    plan
}

/// A generated lesson and a plan of it, found quickly and without proofs.
pub fn generated(seed: u64) -> (Lesson, CheckedPlan) {
    quickly(read(&write_lesson(&generate::lesson(seed)).unwrap()), 40)
}

/// The demo and a plan of it, likewise.
pub fn demo() -> (Lesson, CheckedPlan) {
    quickly(read(include_str!("../../../lessons/demo.ron")), 300)
}

fn quickly(lesson: Lesson, decodings: u64) -> (Lesson, CheckedPlan) {
    let budget = Budget { within: None, decodings: Some(decodings), seed: 1 };
    let never = AtomicBool::new(false);
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let found = plan_until(&lesson, &budget, &never, judge_of(&lesson), on).unwrap();
    (lesson, found.judged)
}
