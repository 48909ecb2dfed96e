//! What is told of groups while they are at work: read from the file, and how the
//! lesson stands by it.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::edit::FileChange;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::model::{Fact, FactKind, GroupId, Lesson};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::play::groups_to_give;
use ovenbell::today::{Standing, Tell, start_of_day};
use ovenbell::units::{ClockTime, Minute, Minutes};

fn demo() -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    load_lesson(&path).unwrap().file
}

fn planned(lesson: &Lesson) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(200), seed: 1 };
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    plan_until(lesson, &budget, &AtomicBool::new(false), judge_of(lesson), on).unwrap().judged
}

fn clock(lesson: &Lesson, minute: Minute) -> ClockTime {
    lesson.periods[0].start_clock.after(minute - Minute::BELL)
}

fn told(file: &LessonFile, facts: &[(&str, &str, &str)]) -> LessonFile {
    facts.iter().fold(file.clone(), |file, (at, group, what)| {
        let (at, what) = (ClockTime::parse(at).unwrap(), what.parse().unwrap());
        Tell { group, what, at, past: &[] }.made(&file).unwrap()
    })
}

#[test]
fn facts_are_kept_in_the_copy_in_the_order_in_which_they_were_told() {
    let day = start_of_day(&demo());
    let day = told(&day, &[("10:20", "Unit 3", "go"), ("10:27", "Unit 3", "late 4")]);
    let again = read_lesson(&write_lesson(&day).unwrap()).unwrap();
    assert_eq!(again.file, day);
    let facts = &again.lesson.today.as_ref().unwrap().facts;
    let whats: Vec<FactKind> = facts.iter().map(|f| f.what).collect();
    assert_eq!(whats, [FactKind::Go, FactKind::Late(Minutes::new(4))]);
    assert!(facts.iter().all(|f| f.group == GroupId(2) && !f.settled));
    assert!(again.warnings.is_empty(), "{:?}", again.warnings);

    let refused = Tell {
        group: "Unit 9",
        what: FactKind::Go,
        at: ClockTime::parse("10:20").unwrap(),
        past: &[],
    };
    assert!(refused.made(&day).unwrap_err().hint.contains("Unit 3"));
    let no_copy = Tell { group: "Unit 3", ..refused };
    assert!(no_copy.made(&demo()).unwrap_err().message.contains("not a copy for the day"));
}

#[test]
fn a_fact_that_does_not_agree_is_taken_and_doubted() {
    let day = start_of_day(&demo());
    let day = told(&day, &[("10:40", "Unit 3", "out"), ("10:20", "Unit 4", "go")]);
    let again = read_lesson(&write_lesson(&day).unwrap()).unwrap();
    let codes: Vec<&str> = again.warnings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["out-before-in", "clock-set-back"]);
    assert_eq!(again.lesson.today.as_ref().unwrap().facts.len(), 2);
}

#[test]
fn what_happens_after_a_fact_is_planned_with_it() {
    let mut day = told(&start_of_day(&demo()), &[("10:20", "Unit 3", "late 4")]);
    let event = ovenbell::file::format::HappenedShape {
        at: Some("10:21".into()),
        who: None,
        what: "Oven 2 is out of order.".into(),
    };
    day.today.as_mut().unwrap().happened.push(event);
    let day = told(&day, &[("10:22", "Unit 4", "late 2")]);
    let lesson = lesson_of_shapes(&day, &[]).unwrap();
    let today = lesson.today.as_ref().unwrap();
    let settled: Vec<bool> = today.facts.iter().map(|f| f.settled).collect();
    assert_eq!((settled, today.happened.len()), (vec![true, false], 1));
    let standing = Standing::of(&lesson, &planned(&lesson), &today.facts, Minute::new(17));
    let behind: Vec<(GroupId, i32)> = standing.behind().map(|g| (g.group, g.behind)).collect();
    assert_eq!(behind, [(GroupId(3), 2)]);
}

#[test]
fn where_nothing_is_told_everybody_is_presumed_on_plan() {
    for seed in 0..how_many_lessons(20) {
        let lesson = lesson_of_shapes(&generate::lesson(seed), &[]).unwrap();
        let plan = planned(&lesson);
        for minute in [0, 13, 29, 41] {
            let standing = Standing::of(&lesson, &plan, &[], Minute::new(minute));
            assert_eq!(standing.groups.len(), plan.plan().choices.len());
            for group in &standing.groups {
                let about = format!("seed {seed}, minute {minute}, {:?}", group.group);
                assert_eq!(group.told, None, "{about}");
                assert_eq!(group.ready.ready, Some(group.planned), "{about}");
                assert!(group.ready.is_out(), "{about}");
            }
        }
    }
}

#[test]
fn a_slip_no_longer_than_what_is_to_give_asks_nothing_and_one_minute_more_does() {
    let mut asked = 0;
    for seed in 0..how_many_lessons(15) {
        let lesson = lesson_of_shapes(&generate::lesson(seed), &[]).unwrap();
        let plan = planned(&lesson);
        for (group, give) in groups_to_give(&lesson, &plan) {
            let steps = plan.plan().steps.iter().filter(|s| s.group == group);
            let Some(first) = steps.map(|s| s.start).filter(|&s| s >= Minute::BELL).min() else {
                continue;
            };
            if give + 1 > FactKind::LATEST {
                continue;
            }
            let stands = |late: i32| {
                let late = Minutes::new(late);
                let (at, what) = (clock(&lesson, first + late), FactKind::Late(late));
                let fact = Fact { at, group, what, settled: false };
                Standing::of(&lesson, &plan, &[fact], first)
            };
            let about = format!("seed {seed}, {group:?}, {give} to give");
            let standing = stands(give);
            assert!(standing.all_out(), "{about}");
            assert_eq!(
                standing.groups.iter().filter(|g| g.behind > 0).count(),
                usize::from(give > 0)
            );
            assert!(!stands(give + 1).all_out(), "{about}, and one more");
            asked += 1;
        }
    }
    assert!(asked > 10, "only {asked} groups were looked at");
}

#[test]
fn tins_that_go_in_later_than_called_come_out_later() {
    let lesson = lesson_of_shapes(&start_of_day(&demo()), &[]).unwrap();
    let plan = planned(&lesson);
    let load = plan.plan().loads.iter().min_by_key(|l| l.start).unwrap();
    let fact = |what, at| Fact { at: clock(&lesson, at), group: load.group, what, settled: false };
    let late = Minutes::new(3);
    let method = lesson.method_of(load.group, plan.plan().choice(load.group).unwrap().method);
    let loading = method.bake_steps().unwrap().0;
    let placed = plan.plan().steps.iter().find(|s| s.group == load.group && s.step == loading);
    let loaded = placed.unwrap().end;
    let behind = |facts: &[Fact], now| {
        let standing = Standing::of(&lesson, &plan, facts, now);
        standing.groups.iter().find(|g| g.group == load.group).unwrap().clone()
    };
    let on_time = behind(&[fact(FactKind::In, loaded)], loaded);
    assert_eq!((on_time.behind, on_time.ready.ready), (0, Some(on_time.planned)));
    let slow = behind(&[fact(FactKind::In, loaded + late)], loaded + late);
    assert_eq!(slow.behind, 3);
    assert!(slow.ready.ready.unwrap() > slow.planned);
    // Out in time after all: the last that was told counts.
    let facts = [fact(FactKind::In, loaded + late), fact(FactKind::Out, load.end)];
    let caught_up = behind(&facts, load.end);
    assert_eq!((caught_up.behind, caught_up.ready.ready), (0, Some(caught_up.planned)));
    let done = behind(&[fact(FactKind::Ready, slow.planned + late)], slow.planned + late);
    assert_eq!(done.ready.ready, Some(slow.planned + late));
}
