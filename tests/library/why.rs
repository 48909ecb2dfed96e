//! Why groups are not served: the sums done by hand, smallest sets worked
//! through again from outside, words, and the flag that stops it.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::file::format::StatedMinutes;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::model::{GroupId, Lesson};
use ovenbell::plan::Refusal;
use ovenbell::planner::explain::{
    By, ExplainLimits, Explanation, Family, Pace, SmallestSet, explain, families, holds_together,
};
use serde::Deserialize;

fn stored(name: &str) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    load_lesson(&path).unwrap().lesson
}

fn generated(seed: u64) -> Lesson {
    read_lesson(&write_lesson(&generate::lesson(seed)).unwrap()).unwrap().lesson
}

fn served(lesson: &Lesson, plan: &CheckedPlan) -> Vec<GroupId> {
    lesson.attending().filter(|&g| plan.plan().choice(g).is_some()).collect()
}

fn not_served(lesson: &Lesson, plan: &CheckedPlan) -> Vec<GroupId> {
    lesson.attending().filter(|&g| plan.plan().choice(g).is_none()).collect()
}

fn explained(name: &str) -> (Lesson, Vec<Explanation>) {
    let lesson = stored(name);
    let plan = planned(&lesson, 300);
    let all = explain(&lesson, &not_served(&lesson, &plan), ExplainLimits::default());
    assert!(!all.is_empty());
    (lesson, all)
}

/// The sums of section "scenarios" of the hand-written lessons, term by term.
#[test]
fn rolls_in_a_single_take_fifty_five() {
    let (_, all) = explained("c-rolls-single.ron");
    assert_eq!(all.len(), 10);
    for e in &all {
        assert_eq!((e.refusal, e.by, e.pace), (Refusal::Cannot, By::Chain, Some(Pace::Quick)));
        assert_eq!(
            e.sum,
            "register 1 + aprons and hands 2 + weigh 3 + mix 2 + knead 6 + shape 3 + prove 22 + \
             load 0.5 + bake 8 + take out 0.5 + cool 5 + box and label 1 + dismissal 1 = 55"
        );
        assert!(e.sentence.contains("from register to dismissal"), "{}", e.sentence);
        assert!(e.sentence.contains("need 55 minutes, and the lesson has 50"), "{}", e.sentence);
        assert!(e.sentence.contains("12 mini rolls"), "{}", e.sentence);
    }
}

#[test]
fn twenty_sponges_on_four_shelves_take_sixty_five() {
    let (_, all) = explained("d-sponges-gas.ron");
    for e in &all {
        assert_eq!((e.refusal, e.by), (Refusal::CannotAll, By::Turns));
        assert_eq!(
            e.sum,
            "20 batches, 4 at one time: 5 turns; register 1 + aprons and hands 2 + weigh 3 + \
             whisk 4 + fold in 2 + fill 1 + load 0.5 = 13.5; 13.5 + 4 x 9 = 49.5; 49.5 + bake 8 \
             = 57.5; 57.5 + take out 0.5 + cool 5 + box and label 1 + dismissal 1 = 65, of 60"
        );
        let words = [
            "Four batches stand in the ovens at one time, so twenty batches make five turns.",
            "the first goes in at about 10:13",
            "a turn takes nine minutes",
            "the last comes out at about 10:57",
            "then last until 11:05, five minutes after the bell",
            "Even at the quickest no more than sixteen of them are out in time; at the usual pace, \
             eight.",
        ];
        for said in words {
            assert!(e.sentence.contains(said), "no \"{said}\" in {}", e.sentence);
        }
        assert_eq!(e.sentence, all[0].sentence, "all pupils are alike");
    }
}

#[test]
fn a_square_of_ginger_takes_fifty_one_and_a_half() {
    let (_, all) = explained("e-ginger-square.ron");
    for e in &all {
        assert_eq!((e.refusal, e.by), (Refusal::Cannot, By::Chain));
        assert_eq!(
            e.sum,
            "register 2 + aprons and hands 3 + demo 4 + weigh 5 + melt 3 + mix 3 + fill 1 + load \
             0.5 + bake 23 + take out 0.5 + cool 4 + box and label 1 + dismissal 1.5 = 51.5"
        );
        assert!(e.sentence.contains("need 51.5 minutes, and the lesson has 50"), "{}", e.sentence);
    }
}

/// What holds at usual minutes only is no *cannot*, though it is proved.
#[test]
fn too_few_whisks_are_told_at_usual_minutes() {
    let (_, all) = explained("g-whisks-ten.ron");
    for e in &all {
        assert_eq!((e.refusal, e.by), (Refusal::NotFound, By::Share));
        assert_eq!(e.pace, Some(Pace::Planned));
        assert!(e.sentence.contains("10 electric whisks"), "{}", e.sentence);
        assert!(
            e.sentence.contains("between 10:16, ") && e.sentence.contains("and 10:25, "),
            "{}",
            e.sentence
        );
    }
}

/// The eighteen pairs of that lesson as two classes, ten and eight, each with a
/// period of its own at the same time.
fn in_two_periods() -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/g-whisks-ten.ron");
    let mut file = load_lesson(&path).unwrap().file;
    let mut second = file.period.clone();
    second.name = "second class".to_owned();
    second.opening[2].adults = vec!["second teacher".to_owned()];
    file.adults.push(file.adults[0].clone());
    file.adults[1].name = "second teacher".to_owned();
    file.other_periods.push(second);
    let mut eight = file.groups[0].clone();
    file.groups[0].count = Some(10);
    (eight.name, eight.count) = ("Second class".to_owned(), Some(8));
    eight.period = Some("second class".to_owned());
    file.groups.push(eight);
    lesson_of_shapes(&file, &[]).unwrap()
}

/// Ten whisks for two classes at one time are one sum, whichever class a pair
/// belongs to.
#[test]
fn two_classes_that_share_whisks_are_one_sum() {
    let one = stored("g-whisks-ten.ron");
    let two = in_two_periods();
    let sums = [one, two].map(|lesson| {
        let plan = planned(&lesson, 300);
        let left = not_served(&lesson, &plan);
        assert_eq!(left.len(), 8);
        let bounds = plan.plan().bounds.unwrap();
        assert_eq!(bounds.served_at_most, 10);
        let mut told: Vec<(By, String, String)> = explain(&lesson, &left, ExplainLimits::default())
            .into_iter()
            .map(|e| (e.by, e.sum, e.sentence))
            .collect();
        told.dedup();
        told
    });
    assert_eq!(sums[0].len(), 1, "{sums:?}");
    assert_eq!(sums[0][0].1, "10 electric whisks x 1 stretch = 10 of 6 minutes, 18 needed");
    assert_eq!(sums[0], sums[1]);
}

/// One class with nine of the whisks in its own cupboard is told of its own.
#[test]
fn whisks_of_two_rooms_are_told_with_their_room() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/g-whisks-ten.ron");
    let mut file = load_lesson(&path).unwrap().file;
    file.room.name = "Room 1".to_owned();
    file.room.kit.0[1].1.count = 9;
    let mut second = file.room.clone();
    second.name = "Room 2".to_owned();
    for oven in &mut second.ovens {
        oven.name = "Second oven".to_owned();
    }
    second.kit.0[1].1.count = 8;
    file.other_rooms.push(second);
    let mut eight = file.groups[0].clone();
    file.groups[0].count = Some(10);
    (eight.name, eight.count) = ("Second class".to_owned(), Some(8));
    eight.room = Some("Room 2".to_owned());
    file.groups.push(eight);
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson, 300);
    let left = not_served(&lesson, &plan);
    assert_eq!(left.len(), 1, "{:?}", plan.plan().not_served);
    let told = explain(&lesson, &left, ExplainLimits::default());
    assert!(told[0].sentence.contains("9 electric whisks in Room 1"), "{}", told[0].sentence);
    assert!(told[0].sum.contains("10 needed"), "{}", told[0].sum);
}

/// A pair whose cake bakes for an hour and a half cannot be out whatever the
/// others do, so it is no reason why not all of them can be.
#[test]
fn who_cannot_be_served_alone_counts_against_no_other() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/g-whisks-ten.ron");
    let mut file = load_lesson(&path).unwrap().file;
    let mut slow = file.recipes[0].clone();
    slow.name = "fruit cake".to_owned();
    slow.tins[0].minutes = Some(StatedMinutes::Three(80.0, 90.0, 100.0));
    file.recipes.push(slow);
    let mut one = file.groups[0].clone();
    (one.name, one.count, one.recipe) = ("Slow".to_owned(), None, "fruit cake".to_owned());
    file.groups.push(one);
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson, 3_000);
    let told = |of: &dyn Fn(&str) -> bool| {
        let all = plan.plan().not_served.iter();
        let mut all: Vec<(Refusal, By)> =
            all.filter(|n| of(&lesson.group(n.group).name)).map(|n| (n.refusal, n.by)).collect();
        all.dedup();
        all
    };
    assert_eq!(told(&|name| name == "Slow"), [(Refusal::Cannot, By::Chain)]);
    assert_eq!(told(&|name| name != "Slow"), [(Refusal::NotFound, By::Share)]);
    for e in explain(&lesson, &not_served(&lesson, &plan), ExplainLimits::default()) {
        let slow = lesson.group(e.group).name == "Slow";
        let expected = if slow { Refusal::Cannot } else { Refusal::NotFound };
        assert_eq!(e.refusal, expected, "{}", e.sentence);
    }
}

/// Where it is proved that no plan serves more, no group beside that is told
/// that nothing is proved; and what is proved of a group says by what.
#[test]
fn two_proofs_do_not_speak_against_each_other() {
    let (mut proved, mut usual) = (0, 0);
    for seed in 0..how_many_lessons(60) {
        let lesson = generated(seed);
        let plan = planned(&lesson, 300);
        let most = plan.plan().bounds.unwrap().served_at_most;
        let is_most = most == plan.objective().served;
        for refused in &plan.plan().not_served {
            let told = &refused.reason;
            assert!(!told.contains("arrangements tried"), "seed {seed}: {told}");
            if matches!(refused.refusal, Refusal::Cannot | Refusal::CannotAll) {
                assert_ne!(refused.by, By::Nothing, "seed {seed}: {told}");
            }
            if is_most && refused.refusal != Refusal::LeftOut {
                proved += 1;
                usual += usize::from(told.contains("were all quicker, one might"));
                assert_ne!(refused.by, By::Nothing, "seed {seed}: {told}");
                assert!(!told.contains("not proved"), "seed {seed}: {told}");
            }
        }
    }
    assert!(proved >= 20 && usual >= 3, "{proved} proved, {usual} at the usual pace only");
}

fn patient() -> ExplainLimits<'static> {
    ExplainLimits { within: Duration::from_secs(60), conflicts: 200_000, stop: None }
}

/// Works a set through again, without and with every member of it.
fn is_smallest(lesson: &Lesson, set: &SmallestSet, pace: Pace) -> Result<(), String> {
    let ask = |groups: &[GroupId], families: &[Family]| {
        holds_together(lesson, groups, families, pace, patient())
    };
    if ask(&set.groups, &set.families) != Some(false) {
        return Err("it does not contradict itself".into());
    }
    for g in set.smallest.then_some(&set.groups).into_iter().flatten() {
        let rest: Vec<GroupId> = set.groups.iter().copied().filter(|h| h != g).collect();
        if ask(&rest, &set.families) != Some(true) {
            return Err(format!("{} is not needed", lesson.group(*g).name));
        }
    }
    for f in set.smallest.then_some(&set.families).into_iter().flatten() {
        let rest: Vec<Family> = set.families.iter().copied().filter(|h| h != f).collect();
        if ask(&set.groups, &rest) != Some(true) {
            return Err(format!("{f:?} is not needed"));
        }
    }
    Ok(())
}

#[test]
fn every_smallest_set_is_one() {
    let (mut sets, mut smallest) = (0, 0);
    for seed in 0..how_many_lessons(40) {
        let lesson = generated(seed);
        let plan = planned(&lesson, 400);
        let left = not_served(&lesson, &plan);
        let limits = ExplainLimits { within: Duration::from_secs(20), ..patient() };
        let served = served(&lesson, &plan);
        let mut seen: Vec<SmallestSet> = Vec::new();
        for e in explain(&lesson, &left, limits) {
            let Some(set) = e.set else { continue };
            assert!(
                !set.groups.iter().all(|g| served.contains(g)),
                "seed {seed}: a plan serves all of {:?}",
                set.groups
            );
            if seen.contains(&set) {
                continue;
            }
            sets += 1;
            smallest += usize::from(set.smallest);
            is_smallest(&lesson, &set, e.pace.unwrap())
                .unwrap_or_else(|e| panic!("seed {seed}: {set:?}: {e}"));
            seen.push(set);
        }
    }
    assert!(smallest >= 10, "only {smallest} of {sets} sets are known to be the smallest");
}

/// A plan is a plan of the model, whichever rules are lifted; and without any
/// rules there is always one.
#[test]
fn lifting_rules_takes_no_plan_away() {
    let brief = ExplainLimits { conflicts: 2_000, ..patient() };
    let mut solved = 0;
    for seed in 0..how_many_lessons(16) {
        let lesson = generated(seed);
        let plan = planned(&lesson, 200);
        let served = served(&lesson, &plan);
        for pace in [Pace::Quick, Pace::Planned] {
            let all = families(&lesson, &served, pace);
            let without = |f: &Family| all.iter().copied().filter(|g| g != f).collect::<Vec<_>>();
            let ask = |kept: &[Family]| holds_together(&lesson, &served, kept, pace, brief);
            assert_ne!(ask(&all), Some(false), "seed {seed}, {pace:?}");
            for family in &all {
                let said = ask(&without(family));
                assert_ne!(said, Some(false), "seed {seed}, {pace:?}, without {family:?}");
                solved += u32::from(said == Some(true));
            }
            assert_eq!(ask(&[]), Some(true), "seed {seed}, {pace:?}, without any rule");
        }
    }
    assert!(solved > 100, "hardly anything was solved: {solved}");
}

const FORBIDDEN: [&str; 14] = [
    "solver",
    "constraint",
    "constraints",
    "core",
    "infeasible",
    "feasible",
    "bound",
    "bounds",
    "horizon",
    "node",
    "heuristic",
    "optimal",
    "optimum",
    "model",
];

#[test]
fn explanations_are_told_in_a_teachers_words() {
    let mut told = 0;
    for seed in 0..how_many_lessons(60) {
        let lesson = generated(seed);
        let plan = planned(&lesson, 30);
        let left = not_served(&lesson, &plan);
        let limits = ExplainLimits { within: Duration::from_millis(700), ..patient() };
        for e in explain(&lesson, &left, limits) {
            told += 1;
            assert!(!e.sentence.is_empty() && e.is_proved() == e.tried.is_empty(), "{e:?}");
            let text = format!("{} {} {}", e.sentence, e.sum, e.tried).to_lowercase();
            for word in text.split(|c: char| !c.is_alphabetic()) {
                assert!(!FORBIDDEN.contains(&word), "seed {seed}: \"{word}\" in {text}");
            }
            for odd in ["  ", " .", " ,", "..", "NaN", "inf"] {
                assert!(!e.sentence.contains(odd), "seed {seed}: \"{odd}\" in {}", e.sentence);
            }
        }
    }
    assert!(told > 50, "only {told} explanations");
}

#[test]
fn explaining_heeds_the_flag() {
    for seed in [1, 4, 17, 28, 62] {
        let lesson = generated(seed);
        let plan = planned(&lesson, 200);
        let left = not_served(&lesson, &plan);
        let stop = AtomicBool::new(false);
        let limits = ExplainLimits {
            // A flag that is not heeded shows by the test having no end.
            within: Duration::from_secs(86_400),
            conflicts: u64::MAX,
            stop: Some(&stop),
        };
        std::thread::scope(|scope| {
            let work = scope.spawn(|| explain(&lesson, &left, limits));
            std::thread::sleep(Duration::from_millis(20));
            stop.store(true, Ordering::Relaxed);
            assert_eq!(work.join().unwrap().len(), left.len());
        });
    }
}

/// A lesson of `tests/data/left-out.json`: `tests/differential/run --left-out`
/// says how it is made.
#[derive(Deserialize)]
struct LeftOut {
    seed: u64,
    groups: usize,
    served: usize,
}

fn left_out() -> Vec<LeftOut> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/left-out.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Of groups that CP-SAT has proved must be left out most are told why, and no
/// set speaks of fewer groups than it serves. The bench `why` looks at all.
#[test]
fn most_left_out_groups_are_told_why() {
    let (mut all, mut proved) = (0, 0);
    for of in left_out().iter().take(8) {
        let lesson = generated(of.seed);
        assert_eq!(lesson.attending().count(), of.groups, "seed {}", of.seed);
        let plan = planned(&lesson, 1_500);
        let left = not_served(&lesson, &plan);
        assert!(of.groups - left.len() <= of.served, "seed {}: more than the most", of.seed);
        if of.groups - left.len() < of.served {
            continue;
        }
        let explained = explain(&lesson, &left, ExplainLimits::default());
        all += explained.len();
        proved += explained.iter().filter(|e| e.is_proved()).count();
    }
    assert!(all >= 15, "only {all} groups");
    assert!(proved * 10 >= all * 8, "{proved} of {all}");
}
