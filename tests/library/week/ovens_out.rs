//! Ovens out of order, and how few are enough.

use ovenbell::check::judge_of;
use ovenbell::file::lesson_of_shapes;
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::week::{EntryNo, Planner, Thing, out_of_order, put, wanted};

use super::{EIGHT, FEW, GO_ON, OTHER, TEN, day, department, sound, told, week_of};

#[test]
fn an_oven_out_breaks_what_planning_without_it_breaks() {
    let folder = department();
    let entries = [
        r#"(file: "ten.ron", class: "8A", on: Mon, at: "P1", room: "Room 1"),"#,
        r#"(file: "eight.ron", class: "8B", on: Mon, at: "P2", room: "Room 1"),"#,
        r#"(file: "scones.ron", class: "8C", on: Tue, at: "P1", room: "Room 1"),"#,
        r#"(file: "ten.ron", class: "8A", on: Wed, at: "P1", room: "Room 1"),"#,
        r#"(file: "eight.ron", class: "9C", on: Mon, at: "P1", room: "Room 2"),"#,
    ];
    let week = sound(folder.path(), &week_of(&entries));
    let mut out = week.clone();
    out.out.push(out_of_order(&week, "Room 1/Oven 4=2026-11-30..2026-12-01").unwrap());
    let report = told(&out);
    let found: Vec<_> =
        report.broken[0].breaks.iter().map(|b| (b.entry, b.before, b.now)).collect();
    let mut expected = Vec::new();
    for entry in &week.entries {
        let served = |without: bool| {
            let mut file = put(&week, &entry.lesson().unwrap().shapes, &entry.slot).unwrap();
            if without {
                file.room.out_of_order.push("Oven 4".to_owned());
            }
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let budget = Budget { within: None, decodings: Some(FEW), seed: 1 };
            let plan = plan_lesson(&lesson, &budget, &GO_ON, judge_of(&lesson), |_| {}).unwrap();
            plan.judged.objective().served
        };
        let there = entry.slot.date <= day(&week, "tue") && entry.number != EntryNo(4);
        let (before, now) = (served(false), served(there));
        if now < before {
            expected.push((entry.number, before, now));
        }
    }
    assert_eq!(found, expected);
    assert_eq!(found, [(EntryNo(0), 10, 8)], "two pairs stand in an oven");
    assert_eq!(report.broken[0].keeps, [EntryNo(1), EntryNo(2)]);
    // What is out that day is not counted as there.
    let oven = &report.lessons.iter().find(|t| t.entry == EntryNo(0)).unwrap();
    assert_eq!(oven.ovens, Some(4));
    for wrong in [
        "Room 1/Oven 6=mon",
        "Room 9/Oven 4=mon",
        "Room 1/Oven 4",
        "Room 1/Oven 4=2026-12-24",
        "whisk=wed..mon",
    ] {
        assert!(out_of_order(&week, wrong).is_err(), "{wrong}");
    }
}

#[test]
fn the_fewest_ovens_are_enough_and_one_fewer_is_not() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    let served = |entry: EntryNo, ovens: u32| {
        let of = report.lessons.iter().find(|t| t.entry == entry).unwrap();
        let mut parts = of.alone.as_ref().unwrap().lesson.clone().into_parts();
        parts.ovens.iter_mut().skip(ovens as usize).for_each(|oven| oven.out_of_order = true);
        let lesson = ovenbell::model::Lesson::new(parts).unwrap();
        let budget = Budget { within: None, decodings: Some(FEW), seed: 1 };
        let found = plan_lesson(&lesson, &budget, &GO_ON, judge_of(&lesson), |_| {}).unwrap();
        found.judged.objective().served
    };
    for told in &report.lessons {
        let (needs, of) = (told.needs.unwrap(), told.alone.as_ref().unwrap().of());
        assert_eq!(served(told.entry, needs.ovens), of, "{:?}", told.entry);
        assert!(served(told.entry, needs.ovens - 1) < of, "{:?}", told.entry);
    }
    let tightest: Vec<EntryNo> = report.tightest().iter().map(|t| t.entry).collect();
    assert_eq!(tightest[2], EntryNo(2), "scones have more time to spare");
    let needs = |t: usize| report.tightest()[t].needs.unwrap();
    assert_eq!((needs(0).ovens + needs(1).ovens, needs(0).proved), (9, true));
    // With one oven fewer the last two pairs whisk when a place is free: the bake's
    // 12 minutes and one to take out, less the 3 that are spare.
    assert!(needs(0).late.unwrap().get() >= 8, "{:?}", needs(0));
}

#[test]
fn more_of_a_thing_never_makes_it_worse() {
    let folder = department();
    let mut before = i64::MAX;
    for whisks in [8, 10, 14, 18] {
        let text = week_of(&[TEN, EIGHT]).replace("whisk\": 10", &format!("whisk\": {whisks}"));
        let week = sound(folder.path(), &text);
        let planner = Planner::new(&[], FEW, &GO_ON);
        let of = wanted(&week, &planner, day(&week, "thu"));
        let excess = of.iter().find(|c| c.what == Thing::Moving(0)).unwrap().excess();
        assert!(excess <= before, "{whisks} whisks: {excess}, with fewer {before}");
        before = excess;
    }
    assert_eq!(before, 0);
}
