//! A rehearsal with a slip: what is past stays, and what comes is told with it.

use std::path::Path;

use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::file::read_lesson;
use ovenbell::model::{Fact, FactKind, GroupId, Lesson, Slip};
use ovenbell::plan::Plan;
use ovenbell::play::{Course, PlayedOn, Standing};
use ovenbell::units::{Minute, Minutes};
use ovenbell::view::day::held_up_words;
use ovenbell::view::rehearsal::Rehearsal;

fn example(name: &str) -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    let lesson = read_lesson(&std::fs::read_to_string(path).unwrap()).unwrap().lesson;
    let plan = planned(&lesson, 100);
    (lesson, plan)
}

#[test]
fn without_a_slip_a_plan_played_on_is_itself() {
    for name in ["demo.ron", "a-scones-hour.ron", "b-rolls-double.ron", "f-lemon-creamed.ron"] {
        let (lesson, plan) = example(name);
        for minute in [0, 25, 41] {
            let played = PlayedOn::of(&lesson, &plan, &[], Minute::new(minute)).unwrap();
            let told = Plan { uses: Vec::new(), ..plan.plan().clone() };
            assert_eq!(*Course::plan(&played), told, "{name} from {minute}");
            assert!(played.held_up.is_empty(), "{name}: {:?}", played.held_up);
        }
    }
}

/// The groups as they stand that are told so late at a minute.
fn standing(
    (lesson, plan): (&Lesson, &CheckedPlan),
    (group, late): (GroupId, i32),
    at: Minute,
) -> Standing {
    let clock = lesson.periods[0].start_clock.after(at - Minute::BELL);
    let what = FactKind::Late(Minutes::new(late));
    Standing::of(lesson, plan, &[Fact { at: clock, group, what, settled: false }], at)
}

#[test]
fn from_its_minute_on_a_slip_reaches_what_every_group_does() {
    let (lesson, plan) = example("demo.ron");
    let before = Rehearsal::of(&lesson, &plan);
    let (mut later_still, mut told_why) = (0, 0);
    for group in lesson.attending() {
        for (late, at) in [(2, 15), (4, 25), (8, 25), (4, 41)] {
            let at = Minute::new(at);
            let standing = standing((&lesson, &plan), (group, late), at);
            let played = PlayedOn::of(&lesson, &plan, &standing.slips, at).unwrap();
            let with = Rehearsal::of(&lesson, &played);
            let rehearsal = before.laid_over(&with, at);
            let past = |of: &Rehearsal| {
                of.minutes.iter().filter(|card| card.minute < at).cloned().collect::<Vec<_>>()
            };
            assert_eq!(past(&rehearsal), past(&before));
            for card in rehearsal.minutes.iter().filter(|card| at <= card.minute) {
                assert_eq!(Some(card), with.at(card.minute));
            }
            let Slip { from, .. } = standing.slips[0];
            for (was, is) in plan.plan().steps.iter().zip(&Course::plan(&played).steps) {
                let moved = is.start - was.start;
                assert!(Minutes::ZERO <= moved && was.end <= is.end, "nothing is sooner");
                if was.start < from {
                    assert_eq!(moved, Minutes::ZERO, "what has begun has begun");
                } else if was.group == group {
                    assert!(Minutes::new(late) <= moved, "{was:?}, {is:?}");
                }
            }
            for of in &standing.groups {
                let steps = Course::plan(&played).steps.iter().filter(|s| s.group == of.group);
                assert_eq!(steps.map(|s| s.end).max(), of.ready.ready, "as the day has it");
                let over = (of.ready.ready.unwrap() - of.planned).get() - of.behind;
                if over > 0 {
                    later_still += 1;
                    told_why += u32::from(played.held_up.iter().any(|h| h.group == of.group));
                }
            }
            for held in &played.held_up {
                let words = held_up_words(&lesson, &plan, held);
                assert!(words.contains(" not before "), "{words}");
            }
        }
    }
    assert!(later_still > 0 && told_why == later_still, "{told_why} of {later_still}");
}

#[test]
fn tins_that_go_in_late_are_in_their_oven_as_long_as_their_group_bakes() {
    let (lesson, plan) = example("demo.ron");
    for load in &plan.plan().loads {
        let at = load.start - Minutes::new(1);
        let standing = standing((&lesson, &plan), (load.group, 4), at);
        let played = PlayedOn::of(&lesson, &plan, &standing.slips, at).unwrap();
        let rehearsal =
            Rehearsal::of(&lesson, &plan).laid_over(&Rehearsal::of(&lesson, &played), at);
        let now = |minute: Minute| {
            let card = rehearsal.at(minute).unwrap();
            let alone = plan.plan().loads.iter().all(|l| {
                l.number == load.number && l.group == load.group
                    || (l.oven, l.shelf) != (load.oven, load.shelf)
            });
            let name = &lesson.group(load.group).name;
            let named = card.ovens[load.oven.0].what.contains(name.as_str());
            let stands = card.cabinets[load.oven.0].shelves[load.shelf.0];
            (named, if alone { stands } else { named })
        };
        assert_eq!(now(load.start), (false, false), "{load:?}");
        assert_eq!(now(load.end + Minutes::new(3)), (true, true), "{load:?}");
    }
}
