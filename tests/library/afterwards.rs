//! After the lesson: what the day's facts say that it took, and what is learned.
//!
//! What is learned is held against the same model worked out another way, by sums
//! over a grid, and against made-up classes whose minutes are known.

use std::path::Path;

use chrono::NaiveDate;
use ovenbell::afterwards::{
    Answers, Asked, BakeAsked, ENOUGH, Learned, Observed, learned, observed, told_of_groups,
};
use ovenbell::check::CheckedPlan;
use ovenbell::edit::FileChange;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::model::{FactKind, GroupId, Lesson, LessonPart, PastMinutes};
use ovenbell::today::{Tell, start_of_day};
use ovenbell::units::{ClockTime, ExactMinutes, Minute};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use statrs::distribution::{ContinuousCDF, Normal};

use crate::common::how_many::how_many;
use crate::common::planned::planned;

/// The 95th of 100 of Student's t with 4 degrees of freedom, by the tables of
/// statistics textbooks.
const T_4: f64 = 2.132;
/// Lessons the recipe's minutes are worth.
const WORTH: f64 = 4.0;

fn past(planned: f64, took: f64) -> PastMinutes {
    PastMinutes {
        date: NaiveDate::default(),
        class: "8 Harbour".into(),
        part: LessonPart::Opening,
        planned: ExactMinutes::new(planned).unwrap(),
        took: ExactMinutes::new(took).unwrap(),
    }
}

fn taught(spread: (f64, f64), planned: f64, took: &[f64]) -> Learned {
    let all: Vec<PastMinutes> = took.iter().map(|&took| past(planned, took)).collect();
    learned(spread, &all.iter().collect::<Vec<_>>())
}

/// Of an inverse gamma distribution the β with which a lesson of which nothing is
/// known lies within what is stated 90 times in 100.
fn beta((quick, slow): (f64, f64)) -> f64 {
    let scale = (slow / quick).ln() / 2.0 / T_4;
    scale * scale * (WORTH / 2.0) * WORTH / (WORTH + 1.0)
}

#[test]
fn of_nothing_the_span_is_the_stated_one_and_the_median_the_plans() {
    for spread in [(0.75, 1.5), (0.8, 1.25), (0.9, 1.6)] {
        let learned = taught(spread, 20.0, &[]);
        assert!((learned.median - 1.0).abs() < 1e-12);
        let factor = spread.1 / spread.0;
        assert!((learned.band.1 / learned.band.0 - factor).abs() < 1e-3, "{learned:?}");
        assert!(!learned.is_offered());
    }
    assert!(taught((0.8, 1.3), 20.0, &[21.0; ENOUGH]).is_offered());
}

/// The share of next lessons below a factor, summed over a grid of means and spreads
/// weighed by prior and likelihood.
fn below(factor: f64, spread: (f64, f64), took: &[f64]) -> f64 {
    let (alpha, beta) = (WORTH / 2.0, beta(spread));
    let normal = Normal::standard();
    let (mut all, mut below) = (0.0, 0.0);
    for i in 1..400 {
        // Geometric steps: each weighs as much as it is wide, which is its sigma.
        let sigma = 0.005 * 1.015_f64.powi(i);
        let variance = sigma * sigma;
        for j in -300..=300 {
            let mu = f64::from(j) * 0.003;
            let n = |x: f64| (-(x - mu) * (x - mu) / (2.0 * variance)).exp() / sigma;
            let prior = variance.powf(-alpha - 1.0)
                * (-beta / variance).exp()
                * sigma
                * (-WORTH * mu * mu / (2.0 * variance)).exp()
                / sigma;
            let weight = prior * sigma * took.iter().map(|took| n(took.ln())).product::<f64>();
            all += weight;
            below += weight * normal.cdf((factor.ln() - mu) / sigma);
        }
    }
    below / all
}

#[test]
fn sums_over_a_grid_find_the_same_median_and_span() {
    for (spread, took) in [
        ((0.8, 1.3), vec![1.1, 1.25, 1.2]),
        ((0.75, 1.5), vec![0.8]),
        ((0.9, 1.2), vec![1.0, 1.3, 0.95, 1.05, 1.2, 1.15]),
    ] {
        let minutes: Vec<f64> = took.iter().map(|f| f * 20.0).collect();
        let learned = taught(spread, 20.0, &minutes);
        for (factor, share) in
            [(learned.band.0, 0.05), (learned.median, 0.5), (learned.band.1, 0.95)]
        {
            let found = below(factor, spread, &took);
            assert!((found - share).abs() < 0.004, "{spread:?} {took:?}: {found} for {share}");
        }
    }
}

fn normal(rng: &mut Pcg64Mcg) -> f64 {
    Normal::standard().inverse_cdf(rng.random_range(1e-12..1.0))
}

/// `OVENBELL_CLASSES=2000 cargo test --test library afterwards::` for more of them.
#[test]
fn of_made_up_classes_nine_in_ten_next_lessons_lie_in_the_span() {
    let classes = how_many("OVENBELL_CLASSES", 2000);
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    for lessons in [0, 1, 3, 5, 10] {
        let mut inside = 0;
        for _ in 0..classes {
            let quick = rng.random_range(0.6..0.95);
            let spread = (quick, quick * rng.random_range(1.2..2.2));
            // One over the variance is gamma distributed with shape 2: the sum of two
            // exponentials.
            let exponential = |rng: &mut Pcg64Mcg| -rng.random_range(1e-12..1.0_f64).ln();
            let precision = (exponential(&mut rng) + exponential(&mut rng)) / beta(spread);
            let sigma = (1.0 / precision).sqrt();
            let mu = normal(&mut rng) * sigma / WORTH.sqrt();
            let mut lesson = || 20.0 * (mu + sigma * normal(&mut rng)).exp();
            let took: Vec<f64> = (0..lessons).map(|_| lesson()).collect();
            let next = lesson() / 20.0;
            let learned = taught(spread, 20.0, &took);
            inside += u64::from(learned.band.0 <= next && next <= learned.band.1);
        }
        let share = inside as f64 / classes as f64;
        assert!((0.86..=0.94).contains(&share), "{share} after {lessons} lessons");
    }
}

#[test]
fn what_a_class_really_takes_is_found_out() {
    let mut rng = Pcg64Mcg::seed_from_u64(11);
    for truth in [0.8, 1.0, 1.35] {
        let took: Vec<f64> =
            (0..60).map(|_| 20.0 * truth * (0.1 * normal(&mut rng)).exp()).collect();
        let learned = taught((0.8, 1.3), 20.0, &took);
        assert!((learned.median / truth - 1.0).abs() < 0.05, "{truth}: {learned:?}");
    }
}

fn demo() -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    load_lesson(&path).unwrap().file
}

/// A day of the demo, its plan, and what its facts say: each as minutes after the
/// planned moment.
fn day(facts: &[(&str, FactKind, i32)], answers: Answers<'_>) -> (Lesson, CheckedPlan, Observed) {
    let file = start_of_day(&demo());
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson, 200);
    let date = NaiveDate::from_ymd_opt(2026, 11, 26).unwrap();
    let at = |group: &str, what: FactKind, late: i32| -> ClockTime {
        let none = observed(&lesson, &plan, date);
        let of = |d: &&ovenbell::afterwards::GroupDay| lesson.group(d.group).name == group;
        let day = none.groups.iter().find(of).unwrap();
        let moment = day.moments.iter().find(|m| m.what == what).unwrap();
        let minute = moment.planned - Minute::BELL;
        lesson.periods[0].start_clock.after(minute + ovenbell::units::Minutes::new(late))
    };
    let mut told = file.clone();
    for &(group, what, late) in facts {
        told = Tell { group, what, at: at(group, what, late), past: &[] }.made(&told).unwrap();
    }
    let told = answers.made(&told).unwrap();
    let read = read_lesson(&write_lesson(&told).unwrap()).unwrap();
    assert_eq!(read.file, told);
    let found = observed(&read.lesson, &plan, date);
    (read.lesson, plan, found)
}

#[test]
fn what_was_told_counts_and_what_was_presumed_does_not() {
    let facts = [
        ("Unit 1", FactKind::Go, 1),
        ("Unit 1", FactKind::In, 3),
        ("Unit 1", FactKind::Out, 5),
        ("Unit 2", FactKind::In, 4),
        ("Unit 6", FactKind::Out, 0),
        ("Unit 6", FactKind::Ready, 2),
    ];
    let (lesson, _, found) = day(&facts, Answers::default());
    let parts: Vec<(String, f64)> = found
        .parts
        .iter()
        .map(|p| {
            (p.minutes.part.names().0.to_owned(), p.minutes.took.get() - p.minutes.planned.get())
        })
        .collect();
    // Unit 2 did not say when it set to work, and Unit 6 when it went in.
    let expected = [("opening", 1.0), ("making up", 2.0), ("finishing", 2.0)];
    let expected: Vec<(String, f64)> = expected.map(|(p, m)| (p.to_owned(), m)).to_vec();
    assert_eq!(parts, expected);
    assert_eq!(found.bakes.len(), 1);
    assert_eq!(found.bakes[0].recipe, "lemon bake");
    assert!(found.unlikely.is_empty());
    assert!(found.parts.iter().all(|p| p.minutes.class == lesson.class.name));
    // The answer stands in for groups that did not say it.
    let bell = lesson.periods[0].start_clock;
    let answers = Answers {
        set_to_work: Some(bell.after(ovenbell::units::Minutes::new(11))),
        last: Some(("Unit 2", bell.after(ovenbell::units::Minutes::new(58)))),
        held: Some("Oven 2"),
        next: Some("Drop the demo."),
        past: &[],
    };
    let (lesson, _, found) = day(&facts[3..4], answers);
    let making = found.parts.iter().any(|p| matches!(p.minutes.part, LessonPart::MakingUp(..)));
    assert!(making, "{:?}", found.parts);
    let after = lesson.today.as_ref().unwrap().afterwards.as_ref().unwrap();
    assert_eq!((after.held.as_str(), after.next.as_str()), ("Oven 2", "Drop the demo."));
    assert_eq!(lesson.today.as_ref().unwrap().facts.last().unwrap().what, FactKind::Ready);
}

/// The bake of Unit 1 by its recipe: from the end of loading until it is called out.
fn baked(lesson: &Lesson, plan: &CheckedPlan) -> (Minute, Minute) {
    let unit = lesson.groups.iter().position(|g| g.name == "Unit 1").map(GroupId).unwrap();
    let method = lesson.method_of(unit, plan.plan().choice(unit).unwrap().method);
    let (_, bake, _) = method.bake_steps().unwrap();
    let placed = plan.plan().steps.iter().find(|s| s.group == unit && s.step == bake).unwrap();
    (placed.start, placed.end)
}

#[test]
fn planned_and_noted_minutes_of_a_bake_are_those_of_the_recipe() {
    let (lesson, plan, found) = day(&[], Answers::default());
    let asked = Asked::of((&lesson, &plan), &found, &[]);
    let (from, until) = baked(&lesson, &plan);
    let planned = f64::from((until - from).get());
    let is_it = |b: &&BakeAsked| b.planned.oven == oven_of_unit_1(&lesson, &plan);
    let of_unit = asked.bakes.iter().filter(is_it).find(|b| b.planned.recipe == "lemon bake");
    assert_eq!(of_unit.unwrap().planned.minutes.get(), planned);
    // Minutes after loading and taking out are over, which take a minute each: told when
    // that is called, or when it is done, a bake is on plan.
    for (was_in, was_out, longer) in [
        (-1, -1, 0),
        (-1, 0, 0),
        (0, -1, 0),
        (0, 0, 0),
        (4, 4, 0),
        (4, 3, 0),
        (4, 7, 3),
        (-6, -6, 0),
        (-6, -1, 4),
        (-1, -4, -3),
    ] {
        let facts = [("Unit 1", FactKind::In, was_in), ("Unit 1", FactKind::Out, was_out)];
        let (_, _, found) = day(&facts, Answers::default());
        let took = found.bakes[0].minutes.get();
        assert_eq!(took, planned + f64::from(longer), "in {was_in}, out {was_out}");
    }
}

fn oven_of_unit_1(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let unit = lesson.groups.iter().position(|g| g.name == "Unit 1").map(GroupId).unwrap();
    let load = plan.plan().loads.iter().find(|load| load.group == unit).unwrap();
    lesson.ovens[load.oven.0].name.clone()
}

#[test]
fn what_is_told_when_it_is_called_is_as_planned() {
    let facts = [FactKind::Go, FactKind::In, FactKind::Out, FactKind::Ready];
    let called = |what: &FactKind| matches!(what, FactKind::In | FactKind::Out);
    let facts = facts.map(|what| ("Unit 1", what, if called(&what) { -1 } else { 0 }));
    let (lesson, _, found) = day(&facts, Answers::default());
    for part in &found.parts {
        assert_eq!(part.minutes.took.get(), part.minutes.planned.get(), "{:?}", part.minutes);
    }
    assert!(found.parts.len() == 3, "{:?}", found.parts);
    let told = told_of_groups(&lesson, &found);
    assert_eq!(told[0].matches("as planned").count(), 4, "{told:?}");
}

#[test]
fn garbage_is_kept_in_the_note_and_not_learned_from() {
    for (facts, why) in [
        ([("Unit 1", FactKind::Go, 0), ("Unit 1", FactKind::In, 90)], "longer than the lesson"),
        ([("Unit 1", FactKind::Go, 0), ("Unit 1", FactKind::In, -60)], "before it began"),
        ([("Unit 1", FactKind::In, 0), ("Unit 1", FactKind::Out, -17)], "a quarter"),
        ([("Unit 1", FactKind::Go, -40), ("Unit 1", FactKind::In, -40)], "before it began"),
    ] {
        let (lesson, _, found) = day(&facts, Answers::default());
        assert_eq!(lesson.today.as_ref().unwrap().facts.len(), 2, "it stands in the copy");
        assert!(found.unlikely.iter().any(|u| u.why.contains(why)), "{why}: {:?}", found.unlikely);
        let learned = |p: &&ovenbell::afterwards::Part| p.minutes.took.get() > 60.0;
        assert!(!found.parts.iter().any(|p| learned(&p)));
        assert!(found.bakes.is_empty());
    }
}
