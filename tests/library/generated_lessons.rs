//! Generated lessons: whatever the planner says, the checker agrees; whatever
//! is bent, the checker names the rule.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;

use crate::common::how_many::{how_many, how_many_lessons};
use crate::common::{bend, generate};
use ovenbell::check::{Breach, CheckedPlan, check, judge_of};
use ovenbell::file::{self, format::LessonFile};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson, plan_until};

/// How many lessons a default run plans; `OVENBELL_LESSONS` sets another
/// number.
fn read(seed: u64) -> Lesson {
    read_one(seed, &generate::lesson(seed))
}

fn read_one(seed: u64, lesson: &LessonFile) -> Lesson {
    let text = file::write_lesson(lesson).expect("a generated lesson is written");
    match file::read_lesson(&text) {
        Ok(loaded) => loaded.lesson,
        Err(findings) => panic!("seed {seed}: {}\n{text}", listed(&findings)),
    }
}

fn listed<T: ToString>(all: &[T]) -> String {
    all.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

fn told(lesson: &Lesson, breaches: &[Breach]) -> String {
    breaches.iter().map(|b| b.told(lesson).to_string()).collect::<Vec<_>>().join("\n")
}

fn plan(lesson: &Lesson, decodings: u64, seed: u64) -> Result<CheckedPlan, String> {
    let budget = Budget { within: None, decodings: Some(decodings), seed };
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge_of(lesson), |_| {})
        .map(|found| found.judged)
        .map_err(|fault| fault.to_string())
}

#[test]
fn the_checker_agrees_with_every_plan_and_every_plan_is_kept_as_it_was() {
    let mut served = 0;
    let mut of = 0;
    for seed in 0..how_many_lessons(300) {
        let lesson = read(seed);
        let checked = plan(&lesson, 200, seed).unwrap_or_else(|e| panic!("seed {seed}: {e}"));
        served += checked.objective().served as usize;
        of += lesson.attending().count();
        let text = file::write_plan(&lesson, checked.plan());
        let again = file::read_plan(&lesson, &text)
            .unwrap_or_else(|f| panic!("seed {seed}: {}", listed(&f)));
        assert_eq!(&again, checked.plan(), "seed {seed}");
        let again =
            check(&lesson, again).unwrap_or_else(|b| panic!("seed {seed}: {}", told(&lesson, &b)));
        assert_eq!(again.objective(), checked.objective(), "seed {seed}");
    }
    // The generator must make lessons of both kinds, or the test says little.
    assert!(served * 10 > of * 3, "only {served} of {of} groups served");
    assert!(served < of, "every lesson was loose");
}

/// A plan of few decodings of which no more is proved than pencil and paper do.
fn planned_quickly(lesson: &Lesson, decodings: u64, seed: u64) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(decodings), seed };
    let go_on = |_: &CheckedPlan| ControlFlow::Continue(());
    plan_until(lesson, &budget, &AtomicBool::new(false), judge_of(lesson), go_on)
        .unwrap_or_else(|e| panic!("seed {seed}: {e}"))
        .judged
}

/// So many plans are bent in each way, if that is asked for; by default those of a number
/// of lessons, in whatever ways they can be.
fn enough(bent: &[u64], lessons: u64) -> bool {
    match how_many("OVENBELL_BENT", 0) {
        0 => lessons >= how_many_lessons(150),
        asked => bent.iter().all(|n| *n >= asked),
    }
}

#[test]
fn every_bent_plan_is_refused_by_the_right_rule() {
    let broken = |seed, rule, lesson: &Lesson, plan| {
        let breaches = check(lesson, plan).expect_err(&format!("seed {seed}: {rule} bent"));
        assert!(
            breaches.iter().any(|b| b.rule.name() == rule),
            "seed {seed}: {rule} was bent, found was\n{}",
            told(lesson, &breaches)
        );
    };
    // Each of the ways, and a locked step moved.
    let mut bent = [0; bend::WAYS + 1];
    let mut rules = std::collections::BTreeSet::new();
    for seed in 0.. {
        if enough(&bent, seed) {
            break;
        }
        // Some ways are rare in the others.
        let lesson = match seed % 3 {
            0 => read(seed),
            _ => read_one(seed, &generate::lesson_with_all(seed)),
        };
        let checked = planned_quickly(&lesson, 20, seed);
        for one in bend::all(&lesson, checked.plan()) {
            broken(seed, one.rule, &lesson, one.plan);
            bent[one.way] += 1;
            rules.insert(one.rule);
        }
        if let Some((locked, moved)) = bend::locked(&lesson, checked.plan()) {
            check(&locked, checked.plan().clone())
                .unwrap_or_else(|b| panic!("seed {seed}: {}", told(&locked, &b)));
            broken(seed, "locked", &locked, moved);
            bent[bend::WAYS] += 1;
        }
    }
    for rule in bend::RULES {
        assert!(rules.contains(rule), "{rule} was never bent");
    }
    println!("{} plans bent, in each way {bent:?}", bent.iter().sum::<u64>());
    assert!(bent.iter().all(|n| *n > 0), "{bent:?}");
}

#[test]
fn the_same_seed_and_number_of_decodings_give_the_same_plan() {
    for seed in 0..how_many_lessons(40).min(200) {
        let lesson = read(seed);
        let first = plan(&lesson, 150, 9).unwrap();
        let again = plan(&lesson, 150, 9).unwrap();
        assert_eq!(first.plan(), again.plan(), "seed {seed}");
    }
}

#[test]
fn what_is_called_impossible_is_so_by_its_own_sum() {
    // The chain is added up anew, from the model alone and by another way
    // than the planner's: repeated relaxation over the links.
    use ovenbell::model::{MethodId, StepId, TinChoiceId};
    use ovenbell::plan::{Refusal, Rule};
    let mut seen = 0;
    for seed in 0..how_many_lessons(300) {
        let lesson = read(seed);
        let checked = planned_quickly(&lesson, 1, seed);
        for refused in &checked.plan().not_served {
            // Other sums than a group's own speak of shelves and kit.
            let no_sum = refused.rules.contains(&Rule::Shelf) || refused.rules.contains(&Rule::Kit);
            if refused.refusal != Refusal::Cannot || no_sum {
                continue;
            }
            seen += 1;
            let group = lesson.group(refused.group);
            let class = |phase| -> f64 {
                lesson
                    .class_steps_in(group.period, phase)
                    .map(|(_, s)| s.minutes.quick().get())
                    .sum()
            };
            let around =
                class(ovenbell::model::Phase::Opening) + class(ovenbell::model::Phase::Closing);
            let length = f64::from(lesson.periods[group.period.0].length().get());
            let chain = |method: MethodId, tin: TinChoiceId| -> f64 {
                let of = lesson.method_of(refused.group, method);
                let choice = lesson.tin_choice_of(refused.group, tin);
                let own = |s: StepId| {
                    let step = &of.steps[s.0];
                    let out = group.beforehand.contains(&step.name)
                        || group.collected.contains(&step.name);
                    let pace = if step.kind.is_hand() { group.pace } else { 1.0 };
                    let quick = lesson.minutes_of(step, Some(choice)).unwrap().quick().get();
                    if out { 0.0 } else { quick * pace }
                };
                let mut end: Vec<f64> = (0..of.steps.len()).map(|i| own(StepId(i))).collect();
                for _ in 0..of.steps.len() {
                    for l in &of.links {
                        end[l.to.0] = end[l.to.0].max(end[l.from.0] + l.least.get() + own(l.to));
                    }
                }
                end.into_iter().fold(0.0, f64::max)
            };
            for &method in &group.methods {
                for &tin in &group.tins {
                    if lesson.tin_choice_of(refused.group, tin).goes_with(method) {
                        let total = around + chain(method, tin);
                        assert!(total > length, "seed {seed}: {total} of {length}");
                    }
                }
            }
        }
    }
    assert!(seen > 0, "no group was impossible");
}
