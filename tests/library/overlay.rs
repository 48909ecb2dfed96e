//! One plan laid over another, as numbers and words.

use std::path::Path;

use crate::common::planned;
use ovenbell::check::{CheckedPlan, Verdict};
use ovenbell::file::{load_lesson, read_lesson};
use ovenbell::model::Lesson;
use ovenbell::units::{Minute, Minutes};
use ovenbell::view::board::Board;
use ovenbell::view::laid_out::{Over, Sizes, lay_out, lay_out_over};
use ovenbell::view::overlay::{Ghosts, Tense, later};
use ovenbell::view::scale::TimeScale;

const SCALE: TimeScale = TimeScale { from: 0.0, until: 60.0, left: 100.0, width: 600.0 };

fn planned(lesson: &Lesson) -> CheckedPlan {
    planned::planned(lesson, 1_000)
}

fn text() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    std::fs::read_to_string(path).unwrap()
}

fn board(text: &str) -> (Lesson, Board) {
    let lesson = read_lesson(text).unwrap().lesson;
    let board = Board::of(&lesson, &planned(&lesson));
    (lesson, board)
}

fn changed(from: &str, to: &str) -> (Lesson, Board) {
    let text = text();
    assert!(text.contains(from), "the sample lesson has no {from}");
    board(&text.replace(from, to))
}

fn over(ghosts: &Ghosts) -> Over<'_> {
    Over { ghosts: Some(ghosts), ..Over::default() }
}

#[test]
fn a_plan_over_itself_shows_nothing() {
    let (_, board) = board(&text());
    let ghosts = Ghosts::of(&board, &board, Minutes::new(0), Tense::Then);
    assert_eq!(ghosts.bars().count(), 0);
    assert!(ghosts.bells.is_empty() && ghosts.bands.is_empty());
    assert!(ghosts.rows.iter().all(|r| r.ready.is_empty()));
    assert!(ghosts.rows.iter().all(|r| r.spoken.ends_with(", then as now")));
    let over = lay_out_over(&board, over(&ghosts), &SCALE, &Sizes::default());
    assert_eq!(over, lay_out(&board, &SCALE, &Sizes::default()));
}

#[test]
fn rows_are_matched_by_name_and_new_ones_follow() {
    let (_, now) = board(&text());
    let (_, then) = changed("(name: \"Unit 5\", recipe", "(name: \"Extra\", recipe");
    let ghosts = Ghosts::of(&now, &then, Minutes::new(0), Tense::Then);
    assert_eq!(ghosts.rows.len(), now.rows.len() + 1);
    for (row, ghost) in now.rows.iter().zip(&ghosts.rows) {
        assert_eq!(row.name, ghost.name);
    }
    let gone = ghosts.rows.iter().find(|r| r.name == "Unit 5").unwrap();
    assert_eq!((gone.verdict, gone.ready.as_str()), (None, "then joined"));
    assert!(gone.bars.is_empty() && gone.spoken.contains("now; then joined with others"));
    let extra = ghosts.rows.last().unwrap();
    assert_eq!((extra.name.as_str(), extra.verdict), ("Extra", Some(Verdict::Fits)));
    assert!(extra.spoken.starts_with("Extra: no group of its own now; then ready 10:"));
    assert!(extra.bars.iter().all(|b| b.spoken.starts_with("Then: Extra, ")));
    // Its row comes after the others and before the ovens.
    let laid = lay_out_over(&now, over(&ghosts), &SCALE, &Sizes::default());
    assert_eq!(laid.rows.len(), 9);
    assert!(laid.rows[8].0 >= laid.rows[7].0 + laid.rows[7].1);
    assert!(laid.rows[8].0 + laid.rows[8].1 <= laid.gap);
    // The other way round it is the one before that is named.
    let back = Ghosts::of(&then, &now, Minutes::new(0), Tense::Before);
    let new = back.rows.iter().find(|r| r.name == "Extra").unwrap();
    assert_eq!(new.ready, "new");
    assert!(back.bars().all(|b| b.spoken.starts_with("Before: ")));
}

#[test]
fn what_moved_is_drawn_below_what_is_and_covers_none_of_it() {
    let (_, now) = board(&text());
    let (_, then) = changed("end: \"11:10\"", "end: \"11:20\"");
    let ghosts = Ghosts::of(&now, &then, Minutes::new(0), Tense::Then);
    assert_eq!(ghosts.bells, [Minute::new(75)]);
    assert_eq!(ghosts.until, Minute::new(75));
    assert!(ghosts.bands.iter().all(|b| b.spoken.starts_with("Then: The class, ")));
    assert!(!ghosts.bands.is_empty(), "the closing steps lie later");
    let laid = lay_out_over(&now, over(&ghosts), &SCALE, &Sizes::default());
    assert_eq!(laid.ghosts.len(), ghosts.bars().count());
    assert!(!laid.ghosts.is_empty());
    for (bar, area) in ghosts.bars().zip(&laid.ghosts) {
        assert!((area.x - SCALE.x(bar.from.get() as f32)).abs() < 1e-3);
        assert!((area.w - 10.0 * (bar.until - bar.from).get() as f32).abs() < 1e-3);
        for (own, at) in &laid.bars {
            let apart = area.x + area.w <= at.x + 0.01
                || at.x + at.w <= area.x + 0.01
                || area.y + area.h <= at.y + 0.01
                || at.y + at.h <= area.y + 0.01;
            assert!(apart, "{} lies on {own:?}", bar.spoken);
        }
        let inside = |&(top, high): &(f32, f32)| {
            area.y >= top - 0.01 && area.y + area.h <= top + high + 0.01
        };
        assert!(laid.rows.iter().chain(&laid.ovens).any(inside), "{}", bar.spoken);
    }
}

#[test]
fn a_lesson_that_begins_later_is_told_by_the_same_clock() {
    let (lesson, now) = board(&text());
    let (late, then) = changed("start: \"10:05\"", "start: \"10:00\"");
    let by = later(&lesson, &late);
    assert_eq!(by, Minutes::new(-5));
    let ghosts = Ghosts::of(&now, &then, by, Tense::Before);
    assert_eq!(ghosts.from, Minute::new(-5));
    let opening = then.bands.first().unwrap();
    let moved = ghosts.bands.iter().find(|b| b.name == opening.name).unwrap();
    assert_eq!(moved.from, opening.from + by);
}

#[test]
fn a_row_that_is_not_served_gives_its_place_to_the_other_plan() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/e-ginger-square.ron");
    let lesson = load_lesson(&path).unwrap().lesson;
    let now = Board::of(&lesson, &planned(&lesson));
    let text = std::fs::read_to_string(&path).unwrap().replace("10:50", "11:20");
    let (_, then) = board(&text);
    let ghosts = Ghosts::of(&now, &then, Minutes::new(0), Tense::Then);
    let sizes = Sizes::default();
    let laid = lay_out_over(&now, over(&ghosts), &SCALE, &sizes);
    let first = ghosts.rows[0].bars.iter().position(|b| b.lane == 0).unwrap();
    assert_eq!((laid.ghosts[first].y, laid.ghosts[first].h), (laid.rows[0].0, sizes.lane));
    let pair = &ghosts.rows[0];
    assert!(pair.ready.starts_with("then 1"), "{}", pair.ready);
    assert!(pair.spoken.starts_with("Pair 1: cannot now; then ready 1"), "{}", pair.spoken);
    assert_eq!(pair.lanes, then.rows[0].lanes);
}
