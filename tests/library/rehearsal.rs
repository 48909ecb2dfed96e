//! A rehearsal counted anew from its plan: what is along the clock, cues, what comes
//! next, and the frame where nobody is free.

use std::path::Path;

use crate::common::collecting::collecting;
use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::file::read_lesson;
use ovenbell::model::Lesson;
use ovenbell::units::Minute;
use ovenbell::view::board::Board;
use ovenbell::view::rehearsal::{Many, Rehearsal, standing};
use ovenbell::view::scale::TimeScale;
use ovenbell::view::scene::rehearsal::{AlongTheClock, NAMES, cabinet};
use ovenbell::view::scene::{Colour, Measure, Shape, Weight};

/// The sample lesson; its technician leaves after ten minutes if so wanted.
fn demo(technician_leaves: bool) -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut text = std::fs::read_to_string(path).unwrap();
    if technician_leaves {
        let hours = "hours: [(-60, 30), (45, 65)]";
        assert!(text.contains(hours));
        text = text.replace(hours, "hours: [(-30, 10)]");
    }
    let lesson = read_lesson(&text).unwrap().lesson;
    let plan = planned(&lesson, 100);
    (lesson, plan)
}

fn count(spans: &[Many], minute: Minute) -> usize {
    spans.iter().filter(|s| s.0 <= minute && minute < s.1).map(|s| s.2 as usize).sum()
}

#[test]
fn what_is_along_the_clock_is_what_the_plan_has() {
    for leaves in [false, true] {
        let (lesson, plan) = demo(leaves);
        let told = plan.plan();
        let rehearsal = Rehearsal::of(&lesson, &plan);
        let along = &rehearsal.along;
        for card in &rehearsal.minutes {
            let minute = card.minute;
            let during = |from: Minute, until: Minute| from <= minute && minute < until;
            let on = told.settings.iter().filter(|s| during(s.set_at, s.until)).count();
            assert_eq!(count(&along.on, minute), on, "{minute}");
            let loads = told.loads.iter().filter(|l| during(l.start, l.end));
            let baking: std::collections::BTreeSet<_> = loads.map(|l| l.oven).collect();
            assert_eq!(count(&along.baking, minute), baking.len(), "{minute}");
            let free = (0..lesson.adults.len()).filter(|&a| {
                let of_class = told.class_steps.iter().any(|c| {
                    let takes = &lesson.class_steps[c.step.0].adults;
                    during(c.start, c.end) && takes.iter().any(|adult| adult.0 == a)
                });
                let mut steps = told.steps.iter().filter(|s| during(s.start, s.end));
                let with_group = steps.any(|s| s.adult.is_some_and(|adult| adult.0 == a));
                lesson.adults[a].is_there(minute) && !of_class && !with_group
            });
            let free = free.count();
            assert_eq!(count(&along.free, minute), free, "{minute}");
            // One room: an oven that is on with nobody free is a gap, and nothing else is.
            let mut gaps = rehearsal.gaps.iter();
            let is_gap = gaps.any(|gap| during(gap.from, gap.until));
            assert_eq!(is_gap, on > 0 && free == 0, "{minute}");
        }
        assert_eq!(rehearsal.gaps.is_empty(), !leaves);
        assert!(count(&along.doors, Minute::new(0)) == 0 && !along.doors.is_empty());
    }
}

#[test]
fn calls_follow_one_another_and_none_is_passed_over() {
    let (lesson, plan) = demo(true);
    let rehearsal = Rehearsal::of(&lesson, &plan);
    let (first, last) = rehearsal.ends().unwrap();
    let walk = |mut minute: Minute, next: bool| {
        let mut found = Vec::new();
        while let Some(to) = rehearsal.call_beside(minute, next) {
            found.push(to);
            minute = to;
        }
        found
    };
    let before = Minute::new(first.get() - 1);
    let forward = walk(before, true);
    let mut backward = walk(Minute::new(last.get() + 1), false);
    backward.reverse();
    assert_eq!(forward, backward);
    let with_calls = rehearsal.minutes.iter().filter(|card| !card.say.is_empty());
    assert_eq!(forward, with_calls.map(|card| card.minute).collect::<Vec<_>>());
    assert!(forward.len() > 8 && forward.iter().all(|&m| rehearsal.is_cue(m)));
    for gap in &rehearsal.gaps {
        assert!(rehearsal.is_cue(gap.from));
        let words = gap.sentence(&lesson);
        assert!(words.contains(" nobody is free and ") && words.contains("? "), "{words}");
    }
    // What comes is every call once, with what is to be begun.
    let coming: Vec<Minute> = rehearsal.coming(before).map(|(minute, _)| minute).collect();
    assert!(coming.windows(2).all(|pair| pair[0] < pair[1]));
    assert!(forward.iter().all(|minute| coming.contains(minute)));
    assert_eq!(rehearsal.coming(last).count(), 0);
}

#[test]
fn groups_that_do_the_same_stand_together() {
    let (lesson, plan) = demo(false);
    for card in &Rehearsal::of(&lesson, &plan).minutes {
        let together = card.together();
        let all: usize = together.iter().map(|(who, _)| who.len()).sum();
        assert_eq!(all, card.groups.len());
        for (who, what) in together {
            let same = card.groups.iter().filter(|doing| doing.what == what);
            assert_eq!(who, same.map(|doing| doing.who.clone()).collect::<Vec<_>>());
        }
        let class = plan.plan().class_steps.iter();
        let is_class = class.clone().any(|c| c.start <= card.minute && card.minute < c.end);
        assert!(!is_class || card.waiting().is_empty(), "{}", card.at);
    }
}

#[test]
fn a_group_none_of_whose_pupils_has_anything_in_hand_waits() {
    let mut while_it_bakes = 0;
    for collects in [false, true] {
        let lesson = if collects { collecting() } else { demo(false).0 };
        let plan = planned(&lesson, 100);
        let told = plan.plan();
        for card in Rehearsal::of(&lesson, &plan).minutes {
            let is_on = |from: Minute, until: Minute| from <= card.minute && card.minute < until;
            let is_class = told.class_steps.iter().any(|c| is_on(c.start, c.end));
            for (id, doing) in lesson.attending().zip(&card.groups) {
                let group = lesson.group(id);
                let Some(choice) = told.choice(id) else { continue };
                let steps = &lesson.method_of(id, choice.method).steps;
                let mut own = told.steps.iter().filter(|s| s.group == id);
                let has = own.clone().any(|s| is_on(s.start, s.end) && !s.pupils.is_empty());
                let is_left = own.any(|s| {
                    s.end > card.minute && !group.collected.contains(&steps[s.step.0].name)
                });
                let waits = card.minute >= Minute::BELL && is_left && !has && !is_class;
                assert_eq!(doing.waits, waits, "{}: {doing:?}", card.at);
                assert_eq!(card.waiting().contains(&doing.who), waits);
                let ready = card.minute >= Minute::BELL && !is_left;
                let says = doing.what.starts_with("ready") || doing.what == "gone";
                assert_eq!(says, ready && !(is_class && doing.what == "with the class"));
                while_it_bakes += u32::from(waits && doing.what.starts_with("bake until"));
            }
        }
    }
    assert!(while_it_bakes > 0, "the sample lesson's pupils wait for their bakes");
}

#[test]
fn a_minute_stands_to_its_bell() {
    let (lesson, _) = demo(false);
    let words = |minute| standing(&lesson, Minute::new(minute));
    assert_eq!(words(18), "minute 18 of 65");
    assert_eq!(words(-1), "1 minute before the bell");
    assert_eq!(words(65), "the last bell has gone");
}

struct Plain;

impl Measure for Plain {
    fn width(&self, words: &str, size: f32, _: Weight) -> f32 {
        0.5 * size * words.chars().count() as f32
    }

    fn height(&self, size: f32, _: Weight) -> f32 {
        1.2 * size
    }
}

fn along<'a>(lesson: &'a Lesson, board: &'a Board, rehearsal: &'a Rehearsal) -> AlongTheClock<'a> {
    let scale = TimeScale { from: -31.0, until: 66.0, left: 104.0, width: 1000.0 };
    AlongTheClock { lesson, board, rehearsal, scale, size: (1128.0, 104.0), under_clock: None }
}

#[test]
fn where_nobody_is_free_an_ink_frame_lies_over_ovens_and_adults() {
    for leaves in [false, true] {
        let (lesson, plan) = demo(leaves);
        let rehearsal = Rehearsal::of(&lesson, &plan);
        let board = Board::of(&lesson, &plan);
        let picture = along(&lesson, &board, &rehearsal);
        let scale = picture.scale;
        let scene = picture.scene(&Plain);
        let frames = scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Rect(rect) if rect.fill.is_none() => {
                rect.edge.filter(|pen| pen.colour == Colour::Ink && pen.width > 2.0)?;
                Some(rect.area)
            }
            _ => None,
        });
        let frames: Vec<_> = frames.collect();
        assert_eq!(frames.len(), rehearsal.gaps.len());
        for (frame, gap) in frames.iter().zip(&rehearsal.gaps) {
            assert!((scale.minute(frame.x) - gap.from.get() as f32).abs() < 0.01);
            assert!((scale.minute(frame.right()) - gap.until.get() as f32).abs() < 0.01);
            let (ovens, adults) = (picture.row(1), picture.row(2));
            assert!(frame.y < ovens.y && frame.bottom() > adults.bottom());
        }
        let words = scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.words.clone()),
            _ => None,
        });
        let words: Vec<String> = words.collect();
        assert!(NAMES.iter().all(|name| words.iter().any(|w| w == name)), "{words:?}");
        assert!(scene.items.iter().all(|item| !matches!(&item.shape, Shape::Text(t) if t.is_cut)));
    }
}

#[test]
fn the_time_of_a_bell_is_never_half_under_that_of_the_clock() {
    let (lesson, plan) = demo(false);
    let (rehearsal, board) = (Rehearsal::of(&lesson, &plan), Board::of(&lesson, &plan));
    let picture = along(&lesson, &board, &rehearsal);
    let scale = picture.scale;
    let (mut left_out, mut kept) = (0, 0);
    for card in &rehearsal.minutes {
        let x = scale.x(card.minute.get() as f32 + 0.5);
        let picture = AlongTheClock { under_clock: picture.bell_under(x), ..picture };
        // The clock's time is larger than a bell's, and stands on a patch of its own.
        let half = |size: f32| 0.5 * Plain.width("10:05", size, Weight::Bold);
        for item in &picture.scene(&Plain).items {
            let Shape::Text(text) = &item.shape else { continue };
            if !text.words.contains(':') {
                continue;
            }
            let bell = board.bells.iter().find(|b| text.words == lesson_time(&lesson, **b));
            let away = (scale.x(bell.unwrap().get() as f32) - x).abs();
            assert!(half(14.0) + 4.0 + half(13.0) <= away, "{}: {}", card.at, text.words);
            kept += 1;
        }
        left_out += u32::from(picture.under_clock.is_some());
    }
    assert!(left_out > 0 && kept > left_out);
}

fn lesson_time(lesson: &Lesson, bell: Minute) -> String {
    lesson.periods[0].start_clock.after(bell - Minute::BELL).to_string()
}

#[test]
fn a_cabinet_shows_which_shelves_are_taken() {
    let tins = |shelves: &[bool]| {
        let scene = cabinet(shelves, false, (30.0, 44.0));
        let rects = scene.items.iter().filter(|item| match &item.shape {
            Shape::Rect(rect) => rect.fill.is_some(),
            _ => false,
        });
        rects.count()
    };
    assert_eq!(tins(&[]), 0);
    assert_eq!(tins(&[false, false]), 0);
    assert_eq!(tins(&[true, false, true]), 2);
}

#[test]
fn every_oven_has_somebody_who_has_it_on() {
    let (lesson, plan) = demo(false);
    let told = Rehearsal::of(&lesson, &plan).who_has_ovens_on(&lesson).join("; ");
    let ovens = plan.plan().settings.iter().map(|s| s.oven.0 + 1);
    for oven in ovens {
        // "Oven 1 to Oven 3" stands for the one between.
        let named = told.contains(&format!("Oven {oven}")) || (oven == 2 && told.contains("1 to "));
        assert!(named, "nobody has Oven {oven} on: {told}");
    }
}
