//! Keeping things as they were: what is held of a plan is held as it was there,
//! and the things of one lesson are found again in another.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{CheckedPlan, check, judge_of};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_plan, write_plan};
use ovenbell::keep::{Base, CALLED, Changed, Holding, Keeps, Renumber, stands, taken_over};
use ovenbell::model::{Attendance, GroupId, Lesson, Lock, LockedTo, OvenId};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::units::Minute;

fn file(name: &str) -> LessonFile {
    load_lesson(&Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)).unwrap().file
}

fn planned(lesson: &Lesson, seed: u64) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(300), seed };
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget, &never, judge_of(lesson), on).unwrap().judged
}

fn lesson_and_plan(name: &str) -> (Lesson, CheckedPlan) {
    let lesson = lesson_of_shapes(&file(name), &[]).unwrap();
    let plan = planned(&lesson, 1);
    (lesson, plan)
}

/// Locks that were added to those of the lesson.
fn added(lesson: &Lesson, held: &Lesson) -> Vec<Lock> {
    held.locks.iter().filter(|l| !lesson.locks.contains(l)).cloned().collect()
}

#[test]
fn what_began_before_a_minute_stays_and_nothing_else_is_held() {
    let (lesson, plan) = lesson_and_plan("demo.ron");
    let base = Base::new((&lesson, &plan), &lesson);
    // Some bakes are in their ovens by then, others are not.
    let mut loaded: Vec<Minute> = plan.plan().loads.iter().map(|l| l.start).collect();
    loaded.sort_unstable();
    loaded.dedup();
    assert!(loaded.len() > 1, "all load in one minute");
    let now = loaded[loaded.len() / 2];
    let holding = Holding { begun_before: Some(now), ..Holding::only(&[]) };
    let held = base.held(holding).unwrap();

    let steps = &plan.plan().steps;
    let begun = steps.iter().filter(|s| s.start < now).count();
    let is_called = |l: &&ovenbell::plan::Load| now <= l.start && l.start < now + CALLED;
    let mut called: Vec<GroupId> =
        plan.plan().loads.iter().filter(is_called).map(|l| l.group).collect();
    called.dedup();
    assert!(0 < begun && begun < steps.len(), "the minute lies within the lesson");
    let locks = added(&lesson, &held);
    let starts = locks.iter().filter(|l| matches!(l.to, LockedTo::Start(..)));
    assert_eq!(starts.count(), begun + called.len());
    for lock in &locks {
        if let LockedTo::Start(_, at) = lock.to {
            let soon = called.contains(&lock.group) && at < now + CALLED;
            assert!(at < now || soon, "{lock:?} had not begun and was not called");
        }
        if let LockedTo::Oven(oven, shelf) = lock.to {
            let first = plan.plan().loads.iter().find(|l| l.group == lock.group).unwrap();
            assert!(first.start < now + CALLED, "{lock:?} is neither in nor called");
            assert_eq!(stands(plan.plan(), lock.group), Some((oven, shelf)));
        }
    }
    let in_oven = locks.iter().filter(|l| matches!(l.to, LockedTo::Oven(..))).count();
    assert!(0 < in_oven && in_oven < plan.plan().choices.len());

    let again = planned(&held, 2);
    let mut moved = 0;
    for was in steps {
        let is = again.plan().steps.iter().find(|s| (s.group, s.step) == (was.group, was.step));
        let Some(is) = is else { continue };
        if was.start < now {
            assert_eq!(is.start, was.start, "it began and stays");
        } else {
            assert!(is.start >= now, "it begins in the past");
        }
        moved += usize::from(is.start != was.start);
    }
    assert!(moved > 0, "what had not begun may move");
}

#[test]
fn before_anything_begins_nothing_is_held() {
    let (lesson, plan) = lesson_and_plan("a-scones-hour.ron");
    let first = plan.plan().steps.iter().map(|s| s.start).min().unwrap();
    let holding = Holding { begun_before: Some(first), ..Holding::only(&[]) };
    let held = Base::new((&lesson, &plan), &lesson).held(holding).unwrap();
    let begun = held.begun.clone().unwrap();
    assert_eq!((begun.by, begun.bakes.len()), (first, 0));
    let mut parts = held.into_parts();
    parts.begun = None;
    assert_eq!(Lesson::new(parts).unwrap(), lesson);
}

#[test]
fn a_group_is_held_to_as_much_as_is_said() {
    let (lesson, plan) = lesson_and_plan("demo.ron");
    let base = Base::new((&lesson, &plan), &lesson);
    let group = plan.plan().choices[0].group;
    let steps = plan.plan().steps.iter().filter(|s| s.group == group).count();
    let locks = |keeps: Keeps| {
        let mut all = vec![Keeps::Nothing; lesson.groups.len()];
        all[group.0] = keeps;
        added(&lesson, &base.held(Holding::only(&all)).unwrap())
    };
    let starts =
        |keeps| locks(keeps).iter().filter(|l| matches!(l.to, LockedTo::Start(..))).count();
    assert!(locks(Keeps::Nothing).is_empty());
    assert_eq!(locks(Keeps::Place).len(), 3, "method, tin and oven");
    assert_eq!((starts(Keeps::Place), starts(Keeps::Bake), starts(Keeps::All)), (0, 1, steps));
    assert!(locks(Keeps::All).iter().all(|l| l.group == group));
    assert_eq!(base.keeps(&plan, group), Some(Keeps::All));
}

#[test]
fn who_was_not_served_is_kept_by_being_left_out() {
    let (lesson, plan) = lesson_and_plan("demo.ron");
    let all = vec![Keeps::All; lesson.groups.len()];
    let mut parts = lesson.clone().into_parts();
    let group = plan.plan().choices[0].group;
    parts.groups[group.0].attendance = Attendance::LeftOut;
    let without = Lesson::new(parts).unwrap();
    // In the plan before it took no part, and it takes part now.
    let fewer = planned(&without, 1);
    let base = Base::new((&without, &fewer), &lesson);
    assert!(!base.was_refused(group));
    let held = base.held(Holding::only(&all)).unwrap();
    assert_eq!(held.group(group).attendance, Attendance::TakesPart);

    // It took part, and its lock left it no way.
    let mut parts = lesson.clone().into_parts();
    let method = lesson.method_of(group, plan.plan().choice(group).unwrap().method);
    let late = LockedTo::Start(method.steps[0].name.clone(), Minute::new(600));
    parts.locks.push(Lock { group, to: late });
    let late = Lesson::new(parts).unwrap();
    let refused = planned(&late, 1);
    assert!(refused.plan().choice(group).is_none());
    let base = Base::new((&late, &refused), &lesson);
    assert!(base.was_refused(group));
    let held = base.held(Holding::only(&all)).unwrap();
    assert_eq!(held.group(group).attendance, Attendance::LeftOut);
}

#[test]
fn a_plan_is_renumbered_as_by_the_names_in_its_file() {
    for name in ["demo.ron", "b-rolls-double.ron", "d-sponges-gas.ron", "g-whisks-ten.ron"] {
        let file = file(name);
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = planned(&lesson, 1);
        let mut turned = file.clone();
        turned.groups.reverse();
        turned.adults.reverse();
        turned.tins.reverse();
        turned.room.ovens.reverse();
        turned.room.units.reverse();
        turned.room.kit.0.reverse();
        for recipe in &mut turned.recipes {
            recipe.tins.reverse();
            recipe.methods.reverse();
        }
        let turned = lesson_of_shapes(&turned, &[]).unwrap();
        let by_text = read_plan(&turned, &write_plan(&lesson, plan.plan())).unwrap();
        let by_number = Renumber::new(&lesson, &turned).plan(plan.plan()).unwrap();
        assert_eq!(by_number, by_text, "{name}");
        assert_ne!(by_number, *plan.plan(), "{name}: the turned lesson has other numbers");
        let back = Renumber::new(&turned, &lesson).plan(&by_number).unwrap();
        assert_eq!(back, *plan.plan(), "{name}");
    }
}

#[test]
fn what_has_gone_has_no_number() {
    let (lesson, plan) = lesson_and_plan("demo.ron");
    let mut parts = lesson.clone().into_parts();
    let used = plan.plan().loads[0].oven;
    parts.ovens[used.0].name = "another oven".to_owned();
    let other = Lesson::new(parts).unwrap();
    let names = Renumber::new(&lesson, &other);
    assert_eq!(names.oven(used), None);
    assert!(names.plan(plan.plan()).is_none());
    let kept = (0..lesson.ovens.len()).filter(|&o| names.oven(OvenId(o)).is_some()).count();
    assert_eq!(kept, lesson.ovens.len() - 1);
}

#[test]
fn a_plan_is_taken_over_without_who_takes_no_part() {
    let (lesson, plan) = lesson_and_plan("demo.ron");
    let gone = plan.plan().choices[0].group;
    let mut parts = lesson.clone().into_parts();
    parts.groups[gone.0].attendance = Attendance::LeftOut;
    let without = Lesson::new(parts).unwrap();
    let over = taken_over((&lesson, &plan), &without).unwrap();
    check(&without, over.plan().clone()).unwrap();
    let all = (0..lesson.groups.len()).map(GroupId);
    let changed = Changed::between((&lesson, &plan), (&without, &over), all);
    assert_eq!(changed, Changed { lost: vec![gone], ..Changed::default() });
}
