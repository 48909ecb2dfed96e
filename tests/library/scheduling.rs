//! The general scheduling core: published optima, problems small enough to
//! try every schedule, and answers to what cannot be.

use std::sync::atomic::AtomicBool;

use crate::common::psplib::{JobShop, ft06, j30};
use crate::common::scheduling::{
    Activity, Lag, Outcome, Resource, ScheduleWanted, Scheduling, serial, solve,
};
use ovenbell::planner::exact::Limits;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

fn of_shop(shop: &JobShop) -> Scheduling {
    let mut problem = Scheduling::default();
    let mut on_machine: Vec<Vec<usize>> = vec![Vec::new(); 6];
    for job in &shop.jobs {
        for (o, &(machine, time)) in job.iter().enumerate() {
            let this = problem.activities.len();
            problem.activities.push(Activity::lasting(time));
            on_machine[machine].push(this);
            if o > 0 {
                let least = job[o - 1].1;
                problem.lags.push(Lag { from: this - 1, to: this, least });
            }
        }
    }
    for on in on_machine {
        for (i, &a) in on.iter().enumerate() {
            problem.apart.extend(on[..i].iter().map(|&b| (a, b)));
        }
    }
    problem
}

fn proved(problem: &Scheduling, asked: &ScheduleWanted) -> Option<i32> {
    match solve(problem, asked, Limits::default()) {
        Outcome::Optimal(best) => {
            assert!(problem.keeps(&best.starts));
            assert_eq!(problem.finish(&best.starts), best.finish);
            Some(best.finish)
        }
        Outcome::Infeasible => None,
        other => panic!("no limit was given: {other:?}"),
    }
}

#[test]
fn published_optima_are_proved() {
    for published in j30() {
        let found = proved(&published.problem, &ScheduleWanted::default());
        assert_eq!(found, Some(published.optimum), "{}", published.name);
    }
    let shop = ft06();
    let found = proved(&of_shop(&shop), &ScheduleWanted::default());
    assert_eq!(found, Some(shop.optimum), "{}", shop.name);
}

#[test]
fn schedules_without_proof_are_schedules_and_no_better_than_the_optimum() {
    for published in j30() {
        let found = serial(&published.problem, 50, published.optimum, 1, Limits::default());
        let found = found.unwrap_or_else(|| panic!("{}: none was found", published.name));
        assert!(published.problem.keeps(&found.starts), "{}", published.name);
        assert!(found.finish >= published.optimum, "{}", published.name);
    }
}

#[test]
fn nothing_earlier_than_the_optimum_is_refuted() {
    for published in j30() {
        let earlier =
            ScheduleWanted { at_most: Some(published.optimum - 1), ..ScheduleWanted::default() };
        assert_eq!(proved(&published.problem, &earlier), None, "{}", published.name);
    }
}

#[test]
fn a_limit_of_no_conflicts_and_a_set_flag_stop_at_once() {
    let problem = j30().pop().unwrap().problem;
    let stop = AtomicBool::new(true);
    for limits in [
        Limits { conflicts: Some(0), ..Limits::default() },
        Limits { stop: Some(&stop), ..Limits::default() },
    ] {
        let outcome = solve(&problem, &ScheduleWanted::default(), limits);
        assert!(matches!(outcome, Outcome::Unknown { at_least } if at_least > 0), "{outcome:?}");
    }
}

/// A few activities with lags in both directions, windows and two resources.
fn random(rng: &mut Pcg64Mcg) -> Scheduling {
    let n = rng.random_range(2..=5);
    let mut problem = Scheduling::default();
    for _ in 0..n {
        let latest = rng.random_bool(0.2).then(|| rng.random_range(2..8));
        problem.activities.push(Activity {
            minutes: rng.random_range(0..=3),
            earliest: rng.random_range(0..=1),
            latest,
        });
    }
    for _ in 0..rng.random_range(0..=n) {
        let (from, to) = (rng.random_range(0..n), rng.random_range(0..n));
        if from != to {
            problem.lags.push(Lag { from, to, least: rng.random_range(-4..=3) });
        }
    }
    for _ in 0..2 {
        let demands = (0..n).map(|a| (a, rng.random_range(0..=2))).collect();
        problem.resources.push(Resource { capacity: rng.random_range(1..=3), demands });
    }
    if n > 2 {
        problem.apart.push((0, 2));
    }
    problem
}

/// The earliest finish by trying every start to `most`.
fn brute_force(problem: &Scheduling, most: i32) -> Option<i32> {
    let n = problem.activities.len();
    let mut starts = vec![0; n];
    let mut best: Option<i32> = None;
    loop {
        if problem.keeps(&starts) {
            let finish = problem.finish(&starts);
            best = Some(best.map_or(finish, |b: i32| b.min(finish)));
        }
        let Some(i) = (0..n).find(|&i| starts[i] < most) else { return best };
        starts[..i].fill(0);
        starts[i] += 1;
    }
}

#[test]
fn small_problems_agree_with_trying_everything() {
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    let (mut solved, mut refuted) = (0, 0);
    for case in 0..300 {
        let problem = random(&mut rng);
        // Every lag is at most 4 and every activity at most 3 minutes, so a
        // best schedule of five of them starts nothing after minute 16.
        let most = if problem.activities.len() > 4 { 9 } else { 16 };
        let wanted = brute_force(&problem, most);
        let capped = ScheduleWanted { at_most: Some(most), ..ScheduleWanted::default() };
        let found = proved(&problem, &capped);
        assert_eq!(found, wanted.filter(|&w| w <= most), "case {case}: {problem:?}");
        if found.is_some() {
            solved += 1;
            let doubled = proved(&doubled(&problem), &ScheduleWanted::default());
            assert_eq!(doubled, found.map(|f| 2 * f), "case {case} doubled");
        } else {
            refuted += 1;
        }
    }
    assert!(solved > 100 && refuted > 30, "{solved} solved, {refuted} refuted");
}

fn doubled(problem: &Scheduling) -> Scheduling {
    let mut twice = problem.clone();
    for activity in &mut twice.activities {
        activity.minutes *= 2;
        activity.earliest *= 2;
        activity.latest = activity.latest.map(|l| 2 * l);
    }
    for lag in &mut twice.lags {
        lag.least *= 2;
    }
    twice
}

#[test]
fn a_seed_is_kept_and_bettered_and_never_made_worse() {
    for published in &j30()[..3] {
        let problem = &published.problem;
        let Outcome::Optimal(best) = solve(problem, &ScheduleWanted::default(), Limits::default())
        else {
            panic!("{} was proved above", published.name)
        };
        let late: Vec<i32> = best.starts.iter().map(|s| s + 3).collect();
        let asked = ScheduleWanted { seed: Some(late), ..ScheduleWanted::default() };
        assert_eq!(proved(problem, &asked), Some(published.optimum));
        // A seed that breaks a rule is a hint and no more.
        let asked =
            ScheduleWanted { seed: Some(vec![0; best.starts.len()]), ..ScheduleWanted::default() };
        assert_eq!(proved(problem, &asked), Some(published.optimum));
    }
}
