//! The teacher's notes hang on something of the lesson and are told when a plan
//! has it.

use crate::common;
use ovenbell::check::CheckedPlan;
use ovenbell::file::read_lesson;
use ovenbell::model::{Lesson, Peg};
use ovenbell::units::Minute;
use ovenbell::view::rehearsal::{Rehearsal, minute_of, pegs_at};

/// Two periods, two pairs, two ovens; `more` stands in the lesson's file.
fn written(more: &str) -> String {
    format!(
        r#"(format: 2,
            period: (name: "first", start: "10:00", end: "11:00",
                opening: [(name: "demo", minutes: (3, 3, 3))],
                closing: [(name: "check", minutes: (2, 2, 2))]),
            other_periods: [(name: "second", start: "11:20", end: "12:20",
                opening: [(name: "demo", minutes: (4, 4, 4))])],
            room: (name: "Room", ovens: [(name: "Oven", count: 2, warm_up: 12)]),
            adults: [(name: "teacher")],
            recipes: [(name: "buns", methods: [(name: "stirred", steps: [
                    (name: "mix", minutes: 3),
                    (name: "bake", kind: Bake),
                    (name: "box", minutes: 2),
                ])],
                tins: [(tin: "tray", celsius: 180, minutes: (9, 10, 14))])],
            tins: [(name: "tray", rim_mm: (350, 270), height_mm: 30)],
            groups: [(name: "Pair 1", recipe: "buns"), (name: "Pair 2", recipe: "buns"),
                (name: "Late", recipe: "buns", period: "second")],
            {more})"#
    )
}

fn lesson(more: &str) -> Lesson {
    read_lesson(&written(more)).unwrap_or_else(|findings| panic!("{findings:#?}")).lesson
}

fn planned(lesson: &Lesson) -> CheckedPlan {
    let plan = common::planned::planned(lesson, 100);
    assert_eq!(plan.plan().choices.len(), lesson.attending().count());
    plan
}

/// Minutes of the notes, in their order.
fn minutes(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Option<i32>> {
    let rehearsal = Rehearsal::of(lesson, plan);
    rehearsal.notes.iter().map(|note| note.minute.map(Minute::get)).collect()
}

#[test]
fn a_note_is_told_at_the_bell_the_step_or_the_call_it_hangs_on() {
    let lesson = lesson(
        r#"teacher: [(at: "start bell"), (at: "end bell"), (at: "start bell of second"),
            (at: "demo"), (at: "demo of second"), (at: "mix Late"), (at: "load Pair 2"),
            (at: "load Oven 9"), (at: "check of second")]"#,
    );
    let plan = planned(&lesson);
    let told = minutes(&lesson, &plan);
    assert_eq!(told[..5], [Some(0), Some(60), Some(80), Some(0), Some(80)]);
    let step = |group: usize, step: usize| {
        let placed = plan.plan().steps.iter().find(|s| (s.group.0, s.step.0) == (group, step));
        Some(placed.unwrap().start.get())
    };
    assert_eq!(told[5..], [step(2, 0), step(1, 1), None, None]);
}

#[test]
fn notes_move_with_a_new_plan_and_one_whose_place_is_gone_is_kept() {
    let notes = r#"teacher: [(at: "mix Pair 1", say: "Slowly.")]"#;
    for at in [10, 17] {
        let lesson =
            lesson(&format!(r#"locks: [(group: "Pair 1", step: "mix", at: {at})], {notes}"#));
        assert_eq!(minutes(&lesson, &planned(&lesson)), [Some(at)]);
    }
    // Left out, the group has no place in the plan: that is no fault of the lesson.
    let pair = r#"(name: "Pair 1", recipe: "buns""#;
    let text = written(notes).replace(pair, &format!("{pair}, left_out: true"));
    let whole = read_lesson(&text).unwrap_or_else(|findings| panic!("{findings:#?}")).lesson;
    let plan = planned(&whole);
    let rehearsal = Rehearsal::of(&whole, &plan);
    let lost: Vec<&str> = rehearsal.lost_notes().map(|note| note.say.as_str()).collect();
    assert_eq!(lost, ["Slowly."]);
}

#[test]
fn whatever_a_note_may_hang_on_at_a_minute_is_read_again_and_is_there() {
    let lesson = lesson("");
    let plan = planned(&lesson);
    let mut offered = 0;
    for minute in (-30..150).map(Minute::new) {
        let (at, pegs) = pegs_at(&lesson, &plan, minute);
        assert!(at <= minute || pegs.is_empty(), "{minute}: {at}");
        for words in pegs {
            let peg = Peg::read(&lesson, &words).unwrap_or_else(|| panic!("{words}"));
            assert_eq!(peg.written(&lesson), words);
            assert_eq!(minute_of(&lesson, &plan, &peg), Some(at), "{words}");
            offered += 1;
        }
    }
    assert!(offered > 100, "{offered}");
}
