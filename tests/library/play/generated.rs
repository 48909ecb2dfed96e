//! Generated lessons: without spread a plan is played as it was planned, only
//! sooner.

use super::lessons::generated;
use crate::common::how_many::how_many_lessons;
use ovenbell::check::{CheckedPlan, check};
use ovenbell::model::Lesson;
use ovenbell::play::{Network, Play, Work, groups_to_give, to_give};

/// The seed of a lesson in which an adult takes over at an open door from one
/// who opens another.
const TAKEN_OVER: u64 = 135;

fn each_generated(usual: u64, mut look: impl FnMut(u64, &Lesson, &CheckedPlan)) {
    for seed in (0..how_many_lessons(usual)).chain([TAKEN_OVER]) {
        let (lesson, plan) = generated(seed);
        look(seed, &lesson, &plan);
    }
}

/// The lesson with calls that wait for their slowest group, and the same plan.
fn waiting(lesson: &Lesson, plan: &CheckedPlan) -> (Lesson, CheckedPlan) {
    let mut parts = lesson.clone().into_parts();
    parts.rules.call_waits = true;
    let lesson = Lesson::new(parts).unwrap();
    let plan = check(&lesson, plan.plan().clone()).unwrap();
    (lesson, plan)
}

/// Where everything takes its usual minutes a plan is played as it was planned,
/// only that hands begin sooner; `OVENBELL_LESSONS=500` looks at more lessons.
#[test]
fn nothing_is_later_than_planned_where_everything_takes_its_usual_minutes() {
    let (mut groups, mut sooner, mut lessons) = (0, 0, 0);
    let mut look = |seed: u64, lesson: &Lesson, plan: &CheckedPlan| {
        lessons += 1;
        let network = Network::new(lesson, plan);
        let minutes = network.usual_minutes();
        let mut play = Play::new(&network, network.earliest_starts(&minutes.nodes));
        play.run(&minutes);
        for (i, node) in network.nodes.iter().enumerate() {
            let end = play.end_of(i);
            assert!(end <= node.end + 1e-6, "seed {seed}: {node:?} over at {end}");
            if matches!(node.work, Work::Load | Work::Class) {
                assert_eq!(play.start_of(i), node.start, "seed {seed}: {node:?}");
            }
            sooner += usize::from(end < node.end - 1.0);
        }
        for group in 0..network.groups.len() {
            assert!(play.spare(group, &minutes) >= -1e-6, "seed {seed}: group {group}");
            assert!(!play.waited_too_long(group), "seed {seed}: group {group} waited");
            groups += 1;
        }
    };
    each_generated(24, |seed, lesson, plan| {
        look(seed, lesson, plan);
        let (lesson, plan) = waiting(lesson, plan);
        look(seed, &lesson, &plan);
    });
    let enough = 2 * lessons;
    assert!(groups > enough && sooner > enough, "{groups} groups, {sooner} steps sooner");
}

#[test]
fn planned_minutes_from_planned_starts_are_the_plan() {
    let mut taken_over = 0;
    each_generated(20, |seed, lesson, plan| {
        let network = Network::new(lesson, plan);
        let starts: Vec<f64> = network.nodes.iter().map(|n| n.start).collect();
        let mut play = Play::new(&network, starts);
        play.run(&network.planned_minutes());
        for (i, node) in network.nodes.iter().enumerate() {
            let played = (play.start_of(i), play.end_of(i));
            assert_eq!(played, (node.start, node.end), "seed {seed}: {node:?}");
            taken_over += node.reliefs.len();
        }
    });
    assert!(taken_over > 0);
}

#[test]
fn nobody_has_more_to_give_than_is_spare() {
    let mut some = 0;
    each_generated(12, |seed, lesson, plan| {
        let gives = to_give(lesson, plan);
        let groups: Vec<_> = gives.iter().map(|g| (g.group, g.minutes)).collect();
        assert_eq!(groups, groups_to_give(lesson, plan), "seed {seed}");
        for give in &gives {
            let spare = plan.group_outcomes()[give.group.0].spare.unwrap().get();
            assert!(give.minutes <= spare, "seed {seed}: {give:?}, spare {spare}");
            assert!(give.steps.iter().all(|s| s.call.is_none_or(|c| c <= spare + s.minutes)));
            some += usize::from(give.minutes > 0);
        }
    });
    assert!(some > 15, "only {some} groups have anything to give");
}
