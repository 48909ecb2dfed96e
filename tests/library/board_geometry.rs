//! What is shown, as numbers: lanes, bars, ovens, ribbons and their geometry.

use std::path::Path;

use crate::common::generate;
use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::file::{load_lesson, read_lesson, write_lesson};
use ovenbell::model::{GroupId, Lesson, OvenId};
use ovenbell::units::Minute;
use ovenbell::view::at_minute::at_minute;
use ovenbell::view::board::{BarId, Board, Work};
use ovenbell::view::cards;
use ovenbell::view::laid_out::{Sizes, lay_out};
use ovenbell::view::scale::TimeScale;

fn demo() -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let lesson = load_lesson(&path).unwrap().lesson;
    let plan = planned(&lesson, 2_000);
    (lesson, plan)
}

const SCALE: TimeScale = TimeScale { from: 0.0, until: 60.0, left: 100.0, width: 600.0 };

#[test]
fn every_step_in_the_lesson_is_a_bar_where_its_minutes_are() {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    let laid = lay_out(&board, &SCALE, &Sizes::default());
    for step in &plan.plan().steps {
        let id = BarId::Step(step.group, step.step);
        if step.end <= Minute::BELL {
            assert!(board.bar(id).is_none(), "what is done beforehand is no bar");
            continue;
        }
        let area = laid.area(id).unwrap();
        let near = |a: f32, b: f32| (a - b).abs() < 1e-3;
        assert!(near(area.x, 100.0 + 10.0 * step.start.get() as f32));
        assert!(near(area.w, 10.0 * (step.end - step.start).get() as f32));
    }
}

#[test]
fn no_two_bars_cover_each_other_and_none_leaves_its_row() {
    for seed in 0..40 {
        let text = write_lesson(&generate::lesson(seed)).unwrap();
        let lesson = read_lesson(&text).unwrap().lesson;
        let plan = planned(&lesson, 30);
        let board = Board::of(&lesson, &plan);
        let laid = lay_out(&board, &SCALE, &Sizes::default());
        for (i, (a, at)) in laid.bars.iter().enumerate() {
            for (b, other) in &laid.bars[..i] {
                let apart = at.x + at.w <= other.x + 0.01
                    || other.x + other.w <= at.x + 0.01
                    || at.y + at.h <= other.y + 0.01
                    || other.y + other.h <= at.y + 0.01;
                assert!(apart, "seed {seed}: {a:?} and {b:?}");
            }
            let inside = |(top, height): &(f32, f32)| {
                at.y >= top - 0.01 && at.y + at.h <= top + height + 0.01
            };
            let home = match a {
                BarId::Step(group, _) => inside(&laid.rows[group.0]),
                _ => laid.ovens.iter().any(inside),
            };
            assert!(home, "seed {seed}: {a:?} leaves its row");
        }
    }
}

#[test]
fn the_first_lane_is_the_way_of_the_tin_and_clearing_lies_below() {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    for row in &board.rows {
        let bake = row.bars.iter().find(|b| b.work == Work::Bake).unwrap();
        assert_eq!(bake.lane, 0);
        for bar in row.bars.iter().filter(|b| b.work == Work::Clear) {
            assert!(bar.lane > 0, "{}", bar.spoken);
        }
        assert!(row.bars.iter().any(|b| b.work == Work::Cool && b.from >= bake.until));
    }
    let rest = board.rows[7].bars.iter().find(|b| b.work == Work::Wait).unwrap();
    assert_eq!(rest.label, "rest");
}

#[test]
fn ovens_climb_before_their_first_tin_and_tell_when_they_are_fullest() {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    for (i, oven) in board.ovens.iter().enumerate() {
        let loads: Vec<_> = plan.plan().loads.iter().filter(|l| l.oven == OvenId(i)).collect();
        let first = loads.iter().map(|l| l.start).min().unwrap();
        let (cold, hot) = (oven.temperature[0], oven.temperature[1]);
        assert_eq!(cold.1, 0.0);
        assert!(cold.0 < hot.0 && hot.0 <= first && hot.1 > 0.9);
        let (from, until, tins) = oven.fullest.unwrap();
        let there = |m| loads.iter().filter(|l| l.start <= m && m < l.end).count();
        assert_eq!(there(from), tins);
        assert!(there(until) < tins);
        let most = (0..60).map(|m| there(Minute::new(m))).max().unwrap();
        assert_eq!(tins, most);
    }
}

#[test]
fn ribbons_count_what_is_in_use_minute_by_minute() {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    let sink = board.ribbons.iter().find(|r| r.name == "sink").unwrap();
    assert_eq!(sink.there, 6);
    for minute in 0..60 {
        let at = Minute::new(minute);
        let in_use: usize = plan
            .plan()
            .uses
            .iter()
            .filter(|u| match u.of {
                ovenbell::plan::Stock::Kit(pool) => {
                    lesson.kit_kinds[lesson.kit_pools[pool.0].kit.0].name == "sink"
                }
                ovenbell::plan::Stock::Tin(_) => false,
            })
            .filter(|u| u.start <= at && at < u.end)
            .map(|u| u.items.len())
            .sum();
        let shown = sink.used.iter().find(|u| u.0 <= at && at < u.1).map_or(0, |u| u.2 as usize);
        assert_eq!(shown, in_use, "minute {minute}");
    }
}

#[test]
fn arrows_walk_along_a_row_and_from_row_to_row() {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    let laid = lay_out(&board, &SCALE, &Sizes::default());
    let first = board.rows[0].bars.iter().find(|b| b.lane == 0).unwrap();
    let second = laid.next(first.id, 1, 0).unwrap();
    assert_eq!(laid.next(second, -1, 0), Some(first.id));
    assert!(laid.next(first.id, -1, 0).is_none());
    // Down from anywhere ends in the ovens, and up again in the first row.
    let mut at = first.id;
    while let Some(below) = laid.next(at, 0, 1) {
        at = below;
    }
    assert!(matches!(at, BarId::Tin(..)));
    while let Some(above) = laid.next(at, 0, -1) {
        at = above;
    }
    assert!(matches!(at, BarId::Step(GroupId(0), _)));
}

#[test]
fn at_every_minute_every_group_oven_and_adult_does_something() {
    let (lesson, plan) = demo();
    for minute in -20..70 {
        let now = at_minute(&lesson, &plan, Minute::new(minute));
        assert_eq!(now.groups.len(), 8);
        assert_eq!(now.ovens.len(), 4);
        assert_eq!(now.adults.len(), 2);
        for doing in now.groups.iter().chain(&now.ovens).chain(&now.adults) {
            assert!(!doing.what.is_empty(), "{} at minute {minute}", doing.who);
        }
    }
    let demo = at_minute(&lesson, &plan, Minute::new(8));
    assert_eq!(demo.class.as_deref(), Some("demo until 10:15"));
    assert_eq!(demo.adults[0].what, "demo");
    assert!(demo.groups.iter().all(|g| g.what == "with the class"));
}

#[test]
fn shelves_are_drawn_to_scale_with_the_tins_as_planned() {
    let (lesson, plan) = demo();
    for oven in 0..4 {
        let (_, shelves) = cards::oven(&lesson, &plan, OvenId(oven), None);
        assert_eq!(shelves.len(), 2);
        for shelf in &shelves {
            assert_eq!(shelf.size, (420.0, 360.0));
            for tin in &shelf.tins {
                let (x, y, w, d) = tin.rim;
                assert!(x >= 0.0 && y >= 0.0 && x + w <= 420.0 && y + d <= 360.0);
            }
        }
    }
}
