//! On the same luck: what must make no difference makes none, and what helps
//! never harms.

use super::lessons::{all_served, chains, generated, queue};
use crate::common::planned::planned;
use ovenbell::check::{CheckedPlan, check};
use ovenbell::model::{Lesson, LessonParts, Phase};
use ovenbell::play::{Cause, Odds, OddsError, Settings, Spread, odds, to_give};
use ovenbell::units::Minutes;

fn played(lesson: &Lesson, plan: &CheckedPlan, settings: &Settings) -> Odds {
    odds(lesson, plan, settings, &[]).unwrap()
}

fn some(runs: u32) -> Settings {
    Settings { runs, ..Settings::default() }
}

fn changed(lesson: &Lesson, change: impl FnOnce(&mut LessonParts)) -> Lesson {
    let mut parts = lesson.clone().into_parts();
    change(&mut parts);
    Lesson::new(parts).unwrap()
}

#[test]
fn any_number_of_threads_gives_the_same_answer() {
    let mut late = 0;
    for seed in 0..6 {
        let (lesson, plan) = generated(seed);
        if plan.objective().served == 0 {
            continue;
        }
        let of = |threads| played(&lesson, &plan, &Settings { threads, ..some(300) });
        let one = of(1);
        assert_eq!(one, of(2), "seed {seed}");
        assert_eq!(one, of(7), "seed {seed}");
        late += one.causes.len();
    }
    assert!(late > 10, "hardly anything was late");
}

#[test]
fn another_seed_is_other_luck() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let of = |seed| played(&lesson, &plan, &Settings { seed, ..some(300) });
    assert_eq!(of(1), of(1));
    assert_ne!(of(1), of(2));
}

#[test]
fn a_longer_period_never_lowers_odds() {
    let mut higher = 0;
    for seed in 0..12 {
        let (lesson, plan) = generated(seed);
        if plan.objective().served == 0 {
            continue;
        }
        let more = Minutes::new(4);
        let longer = changed(&lesson, |parts| {
            let end = parts.periods[0].end;
            parts.periods[0].end = end + more;
            for hours in parts.adults.iter_mut().flat_map(|a| &mut a.hours) {
                if hours.1 >= end {
                    hours.1 = hours.1 + more;
                }
            }
        });
        let mut later = plan.plan().clone();
        for placed in &mut later.class_steps {
            if lesson.class_steps[placed.step.0].phase == Phase::Closing {
                placed.start = placed.start + more;
                placed.end = placed.end + more;
            }
        }
        // What is collected after the bell moves with it.
        let Ok(later) = check(&longer, later) else { continue };
        let (before, after) =
            (played(&lesson, &plan, &some(400)), played(&longer, &later, &some(400)));
        assert!(after.class.before_closing >= before.class.before_closing, "seed {seed}");
        for (b, a) in before.groups.iter().zip(&after.groups) {
            assert!(a.out >= b.out, "seed {seed}: {b:?} {a:?}");
            assert_eq!(a.waited, b.waited, "seed {seed}");
        }
        higher += usize::from(after.class.groups_out > before.class.groups_out);
    }
    assert!(higher >= 5, "four minutes helped in only {higher} lessons");
}

#[test]
fn one_more_item_that_no_order_needs_changes_nothing() {
    let (lesson, plan) = generated(3);
    let more = changed(&lesson, |parts| {
        for pool in &mut parts.kit_pools {
            pool.count += 1;
        }
    });
    let same = check(&more, plan.plan().clone()).unwrap();
    assert_eq!(played(&lesson, &plan, &some(300)), played(&more, &same, &some(300)));
}

#[test]
fn other_names_permute_the_answers() {
    let lesson = chains(3, 12, &[(2.0, 4.0, 9.0), (3.0, 6.0, 8.0)]);
    let plan = all_served(&lesson);
    let renamed = changed(&lesson, |parts| {
        let first = parts.groups[0].name.clone();
        parts.groups[0].name = std::mem::replace(&mut parts.groups[2].name, first);
    });
    let same = check(&renamed, plan.plan().clone()).unwrap();
    let (before, after) = (played(&lesson, &plan, &some(500)), played(&renamed, &same, &some(500)));
    assert_ne!(before.groups[0].out, before.groups[2].out);
    for (i, j) in [(0, 2), (1, 1), (2, 0)] {
        let (a, b) = (before.groups[i], after.groups[j]);
        assert_eq!((a.out, a.late, a.ready), (b.out, b.late, b.ready));
    }
    assert_eq!(before.class, after.class);
}

#[test]
fn without_spread_everybody_is_out() {
    for seed in 0..8 {
        let (lesson, plan) = generated(seed);
        if plan.objective().served == 0 {
            continue;
        }
        let odds = played(&lesson, &plan, &Settings { spread: Spread::NONE, ..some(3) });
        assert_eq!(odds.class.before_closing, 1.0, "seed {seed}");
        assert!(odds.causes.is_empty() && odds.checkpoints.is_empty());
    }
}

#[test]
fn what_makes_a_queue_late_is_what_is_slow_in_it() {
    // Only mixing, baking and boxing vary, and the oven is what is waited for.
    let lesson = queue(33);
    let plan = all_served(&lesson);
    let odds = odds(&lesson, &plan, &some(2_000), &to_give(&lesson, &plan)).unwrap();
    assert!(odds.class.before_closing < 0.9, "{:?}", odds.class);
    for cause in &odds.causes {
        let known = match &cause.what {
            Cause::Step(name) => ["mix", "box"].contains(&name.as_str()),
            Cause::Bake(recipe) => recipe == "buns",
            Cause::Place(_) | Cause::Looking => true,
            _ => false,
        };
        assert!(known, "{cause:?}");
        assert!(cause.minutes > 0.0 && cause.share > 0.0 && cause.share <= 1.0);
    }
    assert!(odds.causes.iter().any(|c| matches!(c.what, Cause::Bake(_))));
    let points = &odds.checkpoints;
    assert!(!points.is_empty() && points.len() <= 4);
    for point in points {
        assert!(point.odds_if > point.odds_if_later, "{point:?}");
        assert!(point.latest >= point.planned, "{point:?}");
    }
}

#[test]
fn what_cannot_be_played_is_refused() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let of = |runs| odds(&lesson, &plan, &some(runs), &[]).map(|o| o.runs);
    assert_eq!(of(0), Err(OddsError::Runs(0)));
    assert_eq!(of(1_000_000_000), Err(OddsError::Runs(1_000_000_000)));
    assert_eq!(of(1), Ok(1));
    let short = queue(12);
    let nobody = planned(&short, 50);
    assert_eq!(odds(&short, &nobody, &some(10), &[]), Err(OddsError::NobodyServed));
    for wrong in ["-1", "-0.001", "3.01", "NaN", "inf", "wide", ""] {
        assert!(wrong.parse::<Spread>().is_err(), "{wrong}");
    }
    assert_eq!("half".parse(), Ok(Spread::HALF));
    assert_eq!("0.25".parse::<Spread>().unwrap().factor(), 0.25);
}
