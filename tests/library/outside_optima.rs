//! Plans and bounds against optima that CP-SAT proved for the same problems:
//! a sample of its answers, kept in `tests/data/optima.json`. It is made by
//!
//! `tests/differential/run 0 40 --store tests/data/optima.json`,
//! `tests/differential/run --hard 0 20 --store tests/data/optima-hard.json` and
//! `tests/differential/run --wild 0 3 --store tests/data/optima-wild.json`, of which
//! lessons with locks are left out: what is held in them is what this planner found. One more
//! is of `--wild 204 205`.

use std::fs;
use std::path::{Path, PathBuf};

use crate::common::generate;
use crate::common::generate_wild::{FAMILIES, wild_lesson};
use crate::common::planned::planned;
use ovenbell::check::{CheckedPlan, Objective};
use ovenbell::export::problem::problem;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{load_lesson, read_lesson, write_lesson};
use ovenbell::graph::expand;
use ovenbell::model::{Figure, Lesson};
use ovenbell::units::Minutes;
use serde::Deserialize;

/// What CP-SAT came to.
#[derive(Deserialize)]
struct Answer {
    lesson: String,
    hard: bool,
    /// Fingerprint of the problem it was given.
    problem: String,
    served: u32,
    departures: u64,
    shortfall: i32,
    /// Which of these it proved, in this order.
    proved: Vec<bool>,
    /// The checker has accepted its plan.
    checked: bool,
}

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The generated lesson of a name such as `seed-0007.ron`, or of a family's.
fn generated(name: &str) -> Option<LessonFile> {
    let (of, seed) = name.strip_suffix(".ron")?.rsplit_once('-')?;
    let seed = seed.parse().ok()?;
    if of == "seed" {
        return Some(generate::lesson(seed));
    }
    let family = FAMILIES.into_iter().find(|family| family.name() == of)?;
    Some(wild_lesson(family, seed))
}

fn lesson(answer: &Answer) -> Lesson {
    let name = &answer.lesson;
    let lesson = match generated(name) {
        Some(file) => read_lesson(&write_lesson(&file).unwrap()).unwrap().lesson,
        None => {
            let folders = ["lessons", "tests/cases/good"].map(|f| root(f).join(name));
            let path = folders.iter().find(|p| p.exists()).expect(name);
            load_lesson(path).unwrap().lesson
        }
    };
    if !answer.hard {
        return lesson;
    }
    let mut parts = lesson.into_parts();
    let whole = parts.periods.iter().map(|p| p.length().get()).max().unwrap();
    parts.rules.wanted_spare = Figure::entered(Minutes::new(whole));
    Lesson::new(parts).unwrap()
}

/// FNV-1a.
fn fingerprint(text: &str) -> String {
    let value = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |value, byte| {
        (value ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{value:016x}")
}

/// What of the plan and its bounds contradicts the answer from outside. An
/// aim speaks only of plans that are equal in all aims before it.
fn contradictions(answer: &Answer, plan: &CheckedPlan) -> Vec<String> {
    let mut wrong = Vec::new();
    let Objective { served, departures, shortfall, .. } = plan.objective();
    let bounds = plan.plan().bounds.unwrap();
    // All as "the less the better".
    let aims = [
        (
            "served",
            -i64::from(served),
            -i64::from(answer.served),
            -i64::from(bounds.served_at_most),
        ),
        (
            "departures",
            departures.try_into().unwrap(),
            answer.departures.try_into().unwrap(),
            bounds.departures_at_least.try_into().unwrap(),
        ),
        ("shortfall", shortfall.into(), answer.shortfall.into(), bounds.shortfall_at_least.into()),
    ];
    let (mut all_proved, mut met) = (true, true);
    for (n, (aim, ours, theirs, bound)) in aims.into_iter().enumerate() {
        all_proved &= answer.proved.get(n) == Some(&true);
        if all_proved && ours < theirs {
            wrong.push(format!("{aim}: {ours} is better than the optimum {theirs}"));
        }
        // A bound speaks of the plans that meet all bounds before it.
        if answer.checked && met && bound > theirs {
            wrong.push(format!("{aim}: bound {bound} is beaten by {theirs}"));
        }
        if all_proved && met && bound == ours && ours != theirs {
            wrong.push(format!("{aim}: {ours} is called proved; the optimum is {theirs}"));
        }
        met &= bound == ours;
        if ours != theirs {
            break;
        }
    }
    wrong
}

fn answers(file: &str) -> Vec<Answer> {
    serde_json::from_str(&fs::read_to_string(root(file)).unwrap()).unwrap()
}

fn agree(file: &str, at_least: usize) {
    let (mut wrong, mut reached) = (Vec::new(), 0);
    let answers = answers(file);
    for answer in &answers {
        let lesson = lesson(answer);
        let text = problem(&lesson, &expand(&lesson)).unwrap();
        assert_eq!(
            fingerprint(&text),
            answer.problem,
            "{}: the problem is no longer the one of {file}, which is to be made anew",
            answer.lesson
        );
        let plan = planned(&lesson, 1_500);
        let Objective { served, departures, shortfall, .. } = plan.objective();
        reached += usize::from(
            (served, departures, shortfall) == (answer.served, answer.departures, answer.shortfall),
        );
        let found = contradictions(answer, &plan);
        wrong.extend(found.into_iter().map(|w| format!("{}: {w}", answer.lesson)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(reached >= at_least, "only {reached} of {} optima were found", answers.len());
}

#[test]
fn plans_and_bounds_agree_with_the_optima_proved_outside() {
    agree("tests/data/optima.json", 48);
}

#[test]
fn earliest_finishes_agree_with_the_optima_proved_outside() {
    agree("tests/data/optima-hard.json", 14);
}

#[test]
fn families_that_press_on_one_thing_agree_with_the_optima_proved_outside() {
    agree("tests/data/optima-wild.json", 30);
}

/// Put one after the other, tins of three sizes find no places in which all of them last.
#[test]
fn tins_that_find_no_place_one_by_one_are_arranged_together() {
    let all = answers("tests/data/optima-wild.json");
    let answer = all.iter().find(|answer| answer.lesson == "heats-0204.ron").unwrap();
    let plan = planned(&lesson(answer), 3_000);
    let Objective { served, departures, shortfall, .. } = plan.objective();
    let optimum = (answer.served, answer.departures, answer.shortfall);
    assert_eq!((served, departures, shortfall), optimum);
}
