//! Lessons with round tins: two that stand corner to corner are served, what
//! does not stand is refused with its sum, and over generated lessons no plan
//! is refused and no proof is beaten.

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use crate::common::planned::{planned, planned_within};
use ovenbell::check::{CheckedPlan, Objective, check};
use ovenbell::export::json;
use ovenbell::file::format::{FormShape, LessonFile};
use ovenbell::file::{read_lesson, read_plan, write_lesson, write_plan};
use ovenbell::model::Lesson;
use ovenbell::plan::{Place, Refusal};
use ovenbell::planner::Budget;
use ovenbell::planner::explain::{By, ExplainLimits, explain};

const PAIR: &str = include_str!("../cases/good/round_tins.ron");

fn pair(oven: &str) -> Lesson {
    let with = format!("shelves: 1{oven})]");
    read_lesson(&PAIR.replace("shelves: 1)]", &with)).unwrap().lesson
}

#[test]
fn two_sandwich_tins_stand_corner_to_corner() {
    let lesson = pair("");
    let plan = planned(&lesson, 50);
    assert_eq!(plan.objective().served, 1);
    let middle = |place: Place| match place {
        Place::Centre { x, y } => (x.get(), y.get()),
        Place::Corner { .. } => panic!("a round tin stands by its middle: {place:?}"),
    };
    let [a, b] = &plan.plan().loads[..] else { panic!("two tins") };
    let (a, b) = (middle(a.place), middle(b.place));
    let far = f64::from(a.0 - b.0).hypot(f64::from(a.1 - b.1));
    assert!(far >= 23_500.0, "{a:?} and {b:?}");

    let text = write_plan(&lesson, plan.plan());
    assert!(text.contains("centre_mm: ("), "{text}");
    assert!(!text.contains("x_mm"), "{text}");
    assert_eq!(&read_plan(&lesson, &text).unwrap(), plan.plan());
    let timing = json::PlanningTime { decodings: 50, ..Default::default() };
    let answer = json::answer(&lesson, (&plan, false), timing).unwrap();
    assert!(answer.contains("\"centre_x_mm\"") && !answer.contains("\"x_mm\""), "{answer}");
}

#[test]
fn a_plan_that_names_the_corner_of_a_round_tin_still_reads() {
    let lesson = pair("");
    let mut plan = planned(&lesson, 50).plan().clone();
    for load in &mut plan.loads {
        let (x, y, _, _) = load.place.around((215.0, 215.0));
        load.place = Place::Corner {
            x: ovenbell::units::FineMillimetres::new(x).unwrap(),
            y: ovenbell::units::FineMillimetres::new(y).unwrap(),
            turned: false,
        };
    }
    let again = read_plan(&lesson, &write_plan(&lesson, &plan)).unwrap();
    assert_eq!(again, plan);
    assert!(check(&lesson, again).is_ok());
}

#[test]
fn with_eight_centimetres_of_air_two_sandwich_tins_cannot_and_the_sum_says_why() {
    let lesson = pair(", gap_mm: 80");
    let plan = planned(&lesson, 50);
    assert_eq!(plan.objective().served, 0);
    let asked: Vec<_> = lesson.attending().collect();
    let all = explain(&lesson, &asked, ExplainLimits::default());
    let [why] = &all[..] else { panic!("{all:?}") };
    assert_eq!((why.refusal, why.by), (Refusal::Cannot, By::NoPlace));
    // 420 - 215 = 205 and 360 - 215 = 145 are the legs; 205² + 145² = 63 050,
    // and 251.1² = 63 051.
    assert_eq!(
        why.sum,
        "21.5 + air 8 = 29.5 cm from middle to middle needed; 42 - 21.5 = 20.5, 36 - 21.5 = 14.5, \
         \u{221a}(20.5\u{b2} + 14.5\u{b2}) = 25.11 cm there; 1 shelf place, two wanted"
    );
    assert_eq!(
        why.sentence,
        "No oven it may use has room for 20 cm sandwich tin. Two need 29.5 cm from middle to \
         middle, the 21.5 cm of a rim and 8 cm of air; from corner to corner of a shelf 42 cm wide \
         and 36 cm deep the middles are no more than 25.11 cm apart. It holds one, and two are \
         wanted."
    );
    // With a little less air than there is they stand.
    assert_eq!(planned(&pair(", gap_mm: 36"), 50).objective().served, 1);
    assert_eq!(planned(&pair(", gap_mm: 37"), 50).objective().served, 0);
}

fn read(file: &LessonFile) -> Lesson {
    read_lesson(&write_lesson(file).unwrap()).unwrap().lesson
}

fn plan(lesson: &Lesson, decodings: u64, seed: u64) -> CheckedPlan {
    planned_within(lesson, &Budget { within: None, decodings: Some(decodings), seed })
}

/// Whether a plan is better than bounds that are proved of its lesson allow.
fn beats(plan: Objective, of: &CheckedPlan) -> bool {
    let Some(bounds) = of.plan().bounds else { return false };
    if plan.served != bounds.served_at_most {
        return plan.served > bounds.served_at_most;
    }
    if plan.departures != bounds.departures_at_least {
        return plan.departures < bounds.departures_at_least;
    }
    plan.shortfall < bounds.shortfall_at_least
}

/// The same lesson with square tins of the same rims: a plan for them is one
/// for round tins.
fn square(file: &LessonFile) -> LessonFile {
    let mut square = file.clone();
    for tin in &mut square.tins {
        if let Some(FormShape::Round { .. }) = tin.form {
            let (long_mm, wide_mm) = (tin.rim_mm.0 - 15.0, tin.rim_mm.1 - 15.0);
            tin.form = Some(FormShape::Rect { long_mm, wide_mm });
        }
    }
    square
}

#[test]
fn generated_lessons_with_round_tins_are_planned_as_the_checker_wants_and_no_proof_is_beaten() {
    let (mut better, mut corner_to_corner) = (0, 0_u64);
    let lessons = how_many_lessons(50);
    for seed in 0..lessons {
        let file = generate::round_lesson(seed);
        let lesson = read(&file);
        // A plan that the checker refuses is a fault of the planner's, and ends
        // the planning with an error.
        let found = plan(&lesson, 150, seed);
        let other = plan(&lesson, 40, seed + 1);
        for (a, b) in [(&found, &other), (&other, &found)] {
            assert!(!beats(a.objective(), b), "seed {seed}: {:?}", b.plan().bounds);
        }
        let again = read_plan(&lesson, &write_plan(&lesson, found.plan())).unwrap();
        assert_eq!(&again, found.plan(), "seed {seed}");

        let boxy = plan(&read(&square(&file)), 40, seed);
        let mut moved = boxy.plan().clone();
        moved.bounds = None;
        let as_round = check(&lesson, moved);
        let as_round = as_round.unwrap_or_else(|b| panic!("seed {seed}: {b:#?}"));
        assert!(!beats(as_round.objective(), &found), "seed {seed}: {:?}", found.plan().bounds);
        better += i32::from(found.objective().served > boxy.objective().served);
        let middles = |p: &Place| matches!(p, Place::Centre { .. });
        corner_to_corner += u64::from(found.plan().loads.iter().any(|l| middles(&l.place)));
    }
    assert!(corner_to_corner * 10 > lessons, "{corner_to_corner} have round tins in their ovens");
    assert!(better > 0, "no lesson serves more with round tins");
}
