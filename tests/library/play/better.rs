//! Plans with better odds: what is found costs nobody a place, and is no worse on
//! luck it has not seen.

use std::sync::atomic::AtomicBool;

use super::lessons::{all_served, chains, demo, generated, queue};
use crate::common::how_many::how_many_lessons;
use ovenbell::better::{Better, Effort, better};
use ovenbell::check::{CheckedPlan, check};
use ovenbell::export::better::GainWords;
use ovenbell::model::Lesson;
use ovenbell::play::{OddsError, Outs, Settings, Spread, odds, outs};

const SPREADS: [Spread; 2] = [Spread::LISTED, Spread::HALF];

fn settings(runs: u32) -> Settings {
    Settings { runs, ..Settings::default() }
}

fn found(lesson: &Lesson, plan: &CheckedPlan, runs: u32, plans: u32) -> Option<Better> {
    let effort = Effort { plans, until: None };
    let never = AtomicBool::new(false);
    better(lesson, plan, (&settings(runs), &SPREADS), &effort, &never).unwrap().found
}

#[test]
fn counting_who_is_out_agrees_with_the_odds() {
    let lesson = queue(36);
    let plan = all_served(&lesson);
    for threads in [1, 3] {
        let settings = Settings { threads, ..settings(500) };
        let (told, counted) = (
            odds(&lesson, &plan, &settings, &[]).unwrap().class,
            outs(&lesson, &plan, &settings, 0..500).unwrap(),
        );
        assert!((counted.on_average() - told.groups_out).abs() < 1e-9);
        assert!((counted.all() - told.before_closing).abs() < 1e-9);
        assert!(counted.all() > 0.05 && counted.all() < 0.95, "{}", counted.all());
    }
    // Runs go by their numbers.
    let of = |runs| outs(&lesson, &plan, &settings(500), runs).unwrap().by_run;
    assert_eq!(of(0..300), [of(0..120), of(120..300)].concat());
}

#[test]
fn the_error_of_a_difference_is_that_of_pairs() {
    let outs = |by_run: &[u32]| Outs { groups: 2, by_run: by_run.to_vec() };
    let (a, b) = (outs(&[2, 1, 2, 0]), outs(&[1, 1, 1, 1]));
    // Differences 1, 0, 1, -1: mean 1/4, mean square 11/16 about it.
    let (more, error) = a.more_than(&b);
    assert!((more - 0.25).abs() < 1e-12);
    assert!((error - (11.0_f64 / 16.0 / 4.0).sqrt()).abs() < 1e-12);
    assert_eq!(a.more_than(&a), (0.0, 0.0));
}

#[test]
fn what_is_found_is_no_worse_on_luck_it_has_not_seen() {
    let (mut gains, mut played) = (Vec::new(), 0);
    let all = (0..how_many_lessons(4)).map(|seed| (generated(seed), 40));
    for (seed, ((lesson, plan), plans)) in all.chain([(demo(), 600)]).enumerate() {
        if plan.objective().served == 0 {
            continue;
        }
        played += 1;
        let Some(better) = found(&lesson, &plan, 1_500, plans) else { continue };
        let plan_then = better.plan.plan();
        assert_eq!(check(&lesson, plan_then.clone()).unwrap(), better.plan, "seed {seed}");
        for group in lesson.attending() {
            let (before, then) = (plan.plan().choice(group), plan_then.choice(group));
            assert_eq!(before.is_some(), then.is_some(), "seed {seed}: {group:?}");
        }
        assert_eq!(plan.objective().departures, better.plan.objective().departures);
        for (before, after) in better.before.iter().zip(&better.after) {
            assert!(after.groups_out >= before.groups_out, "seed {seed}");
            assert!(after.all >= before.all, "seed {seed}");
        }
        let fresh = Settings { seed: 4_242, ..settings(1_000) };
        let of = |plan| outs(&lesson, plan, &fresh, 0..1_000).unwrap();
        let (more, error) = of(&better.plan).more_than(&of(&plan));
        assert!(more >= -2.0 * error, "seed {seed}: {more} with an error of {error}");
        gains.push(more);
        let words = GainWords::of(&lesson, &plan, &better);
        assert!(words.gain.contains(", now "), "{words:?}");
        assert!(words.cost.starts_with("last ready "), "{words:?}");
    }
    assert!(played > 2, "only {played} lessons were played");
    assert!(gains.iter().any(|&more| more > 0.0), "nothing was gained anywhere: {gains:?}");
}

#[test]
fn where_there_is_nothing_to_arrange_nothing_is_gained() {
    // Groups that share nothing: no order of them is better than another.
    let lesson = chains(3, 14, &[(2.0, 4.0, 9.0), (3.0, 6.0, 8.0)]);
    let plan = all_served(&lesson);
    assert_eq!(found(&lesson, &plan, 500, 60), None);
}

#[test]
fn the_same_search_finds_the_same_and_one_that_is_stopped_finds_nothing() {
    let (lesson, plan) = generated(3);
    assert_eq!(found(&lesson, &plan, 300, 15), found(&lesson, &plan, 300, 15));
    let stopped = AtomicBool::new(true);
    let how = (&settings(100), &SPREADS[..]);
    let search = better(&lesson, &plan, how, &Effort::default(), &stopped).unwrap();
    assert_eq!((search.found, search.built), (None, 0));
    let short = queue(12);
    let nobody = crate::common::planned::planned(&short, 50);
    let refused = better(&short, &nobody, how, &Effort::default(), &stopped);
    assert_eq!(refused, Err(OddsError::NobodyServed));
}
