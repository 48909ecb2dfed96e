//! What is borrowed is there for one lesson: neither a room kept in the
//! library nor the lesson taught again has it.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use ovenbell::change::{Item, menu};
use ovenbell::check::judge_of;
use ovenbell::edit::FileChange;
use ovenbell::file::format::{LessonFile, LockShape};
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::model::ChangeKind;
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::setup::again::{Pupils, again};
use ovenbell::setup::borrowed::own_room;

/// Eighteen whisks wanted of ten.
fn lesson_file() -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/g-whisks-ten.ron");
    load_lesson(&path).unwrap().file
}

fn borrowings(file: &LessonFile) -> Vec<Item> {
    let lesson = lesson_of_shapes(file, &[]).unwrap();
    let budget = Budget { within: None, decodings: Some(300), seed: 1 };
    let judge = |plan| judge_of(&lesson)(plan).map(Arc::new);
    let plan = plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap();
    let goal = ovenbell::change::Goal::Everyone;
    let mut all = menu((file, &lesson), &[], &plan.judged, goal);
    all.retain(|item| matches!(item.kind, ChangeKind::Kit | ChangeKind::Oven));
    all
}

#[test]
fn what_a_change_borrows_goes_back() {
    let before = lesson_file();
    let items = borrowings(&before);
    assert!(!items.is_empty(), "nothing to borrow");
    for item in &items {
        let changed = item.made(&before).unwrap();
        let lesson = lesson_of_shapes(&changed, &[]).unwrap();
        let now = lesson_of_shapes(&before, &[]).unwrap();
        let all = |l: &ovenbell::model::Lesson| {
            l.kit_pools.iter().map(|p| p.count as usize).sum::<usize>() + l.ovens.len()
        };
        assert!(all(&lesson) > all(&now), "{}: it is there for the lesson", item.words);
        assert_eq!(read_lesson(&write_lesson(&changed).unwrap()).unwrap().file, changed);
        let rooms: Vec<_> = changed.rooms().map(own_room).collect();
        let own: Vec<_> = before.rooms().cloned().collect();
        assert_eq!(rooms, own, "{}: not a room's own", item.words);
        let next = again(&changed, Pupils::Same, "2026-11-25".parse().unwrap());
        assert_eq!(next.room, before.room, "{}", item.words);
        assert_eq!(next.shared_kit, before.shared_kit, "{}", item.words);
    }
}

#[test]
fn nothing_is_locked_to_an_oven_that_went_back() {
    let mut file = lesson_file();
    let mut oven = file.room.ovens[0].clone();
    (oven.name, oven.count, oven.borrowed) = ("Borrowed oven".into(), Some(2), true);
    file.room.ovens.push(oven);
    let lock = LockShape {
        group: file.groups[0].name.clone(),
        oven: Some("Borrowed oven 2".into()),
        ..LockShape::default()
    };
    file.locks.push(lock);
    file.room.out_of_order.push("Borrowed oven 1".into());
    let next = again(&file, Pupils::Same, "2026-11-25".parse().unwrap());
    assert!(next.locks.is_empty() && next.room.out_of_order.is_empty());
}
