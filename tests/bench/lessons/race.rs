//! The hard form of a lesson, planned here and by CP-SAT: how soon the first
//! whole plan, the best plan and the proof are there.

use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::model::{Figure, Lesson};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::units::Minutes;

use super::outside;

/// The first three aims, each the less the better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Values {
    pub not_served: i64,
    pub departures: i64,
    pub shortfall: i64,
}

/// What a planner came to, and when, in seconds.
#[derive(Debug, Clone, Default)]
pub struct Run {
    pub seen: Vec<(f64, Values)>,
    pub proved: Option<f64>,
}

impl Run {
    fn best(&self) -> Option<Values> {
        self.seen.iter().map(|s| s.1).min()
    }

    /// When a plan was there that serves so many.
    fn serving(&self, not_served: i64) -> Option<f64> {
        self.seen.iter().find(|s| s.1.not_served <= not_served).map(|s| s.0)
    }

    /// When a plan was there that is no worse.
    fn reached(&self, values: Values) -> Option<f64> {
        self.seen.iter().find(|s| s.1 <= values).map(|s| s.0)
    }
}

pub const HEAD: &str = "\
| groups | lessons | first whole plan: here, CP-SAT, ratio | best plan of either: here, CP-SAT, \
ratio | not reached here | worse, better at the end | proved: here, CP-SAT | proof: here, CP-SAT, ratio |
| --- | --- | --- | --- | --- | --- | --- | --- |";

/// The same lesson with the whole period wanted as spare time.
fn hard(lesson: Lesson) -> Lesson {
    let mut parts = lesson.into_parts();
    let whole = parts.periods.iter().map(|p| p.length().get()).max().unwrap();
    parts.rules.wanted_spare = Figure::entered(Minutes::new(whole));
    Lesson::new(parts).unwrap()
}

fn values(plan: &CheckedPlan) -> (Values, bool) {
    let of = plan.objective();
    let values = Values {
        not_served: -i64::from(of.served),
        departures: of.departures.try_into().unwrap(),
        shortfall: of.shortfall.into(),
    };
    let proved = plan.plan().bounds.is_some_and(|b| {
        b.served_at_most == of.served
            && b.departures_at_least == of.departures
            && b.shortfall_at_least == of.shortfall
    });
    (values, proved)
}

fn here(lesson: &Lesson, seconds: f64) -> Run {
    let begun = Instant::now();
    let within = Some(Duration::from_secs_f64(seconds));
    let budget = Budget { within, decodings: None, seed: 1 };
    let judge = judge_of(lesson);
    let mut run = Run::default();
    let stop = AtomicBool::new(false);
    let mut note = |plan: &CheckedPlan| {
        let at = begun.elapsed().as_secs_f64();
        let (values, proved) = values(plan);
        run.seen.push((at, values));
        if proved && run.proved.is_none() {
            run.proved = Some(at);
        }
    };
    let found = plan_lesson(lesson, &budget, &stop, judge, &mut note).unwrap();
    note(&found.judged);
    // The first plan is handed over a little after it is there.
    if let Some(first) = run.seen.first_mut() {
        first.0 = first.0.min(found.times.first_plan.as_secs_f64());
    }
    run
}

/// The least time of several runs, those without one left out.
fn least(times: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    times.flatten().min_by(f64::total_cmp)
}

/// Pairs of times, here and outside.
struct Pairs {
    both: Vec<(f64, f64)>,
    /// All the time there is.
    most: f64,
}

impl Pairs {
    fn within(most: f64) -> Self {
        Self { both: Vec::new(), most }
    }

    /// What was not reached counts as all the time there is.
    fn add(&mut self, here: Option<f64>, outside: Option<f64>) {
        let time = |of: Option<f64>| of.unwrap_or(self.most).min(self.most);
        self.both.push((time(here), time(outside)));
    }

    /// Geometric means of both, and of their ratio.
    fn told(&self) -> String {
        if self.both.is_empty() {
            return "none".into();
        }
        let mean = |of: &dyn Fn(&(f64, f64)) -> f64| {
            let sum: f64 = self.both.iter().map(|p| of(p).max(1e-6).ln()).sum();
            (sum / self.both.len() as f64).exp()
        };
        format!(
            "{:.4} s, {:.3} s, 1/{:.1}",
            mean(&|p| p.0),
            mean(&|p| p.1),
            1.0 / mean(&|p| p.0 / p.1)
        )
    }
}

/// One row of the table. Of the ways CP-SAT is run, the soonest counts, for
/// each figure by itself.
pub fn race(groups: i64, lessons: Vec<Lesson>, seconds: f64) -> Result<String, String> {
    let lessons: Vec<Lesson> = lessons.into_iter().map(hard).collect();
    let outside = outside::runs(&lessons, seconds)?;
    let [mut first, mut best, mut proof] = [(); 3].map(|()| Pairs::within(seconds));
    let (mut missed, mut worse, mut better) = (0, 0, 0);
    let (mut proved_here, mut proved_outside) = (0, 0);
    for (lesson, theirs) in lessons.iter().zip(&outside) {
        let mine = here(lesson, seconds);
        let their_best = theirs.iter().filter_map(Run::best).min();
        let most = mine.best().into_iter().chain(their_best).map(|v| v.not_served).min();
        if let Some(most) = most {
            first.add(mine.serving(most), least(theirs.iter().map(|r| r.serving(most))));
        }
        if let Some(wanted) = their_best {
            let of_either = mine.best().map_or(wanted, |mine| mine.min(wanted));
            missed += usize::from(mine.reached(of_either).is_none());
            best.add(mine.reached(of_either), least(theirs.iter().map(|r| r.reached(of_either))));
            worse += usize::from(mine.best() > Some(wanted));
            better += usize::from(mine.best() < Some(wanted));
        }
        let their_proof = least(theirs.iter().map(|r| r.proved));
        proved_here += usize::from(mine.proved.is_some());
        proved_outside += usize::from(their_proof.is_some());
        proof.add(mine.proved, their_proof);
    }
    Ok(format!(
        "| {groups} | {} | {} | {} | {missed} | {worse}, {better} | {proved_here}, \
         {proved_outside} | {} |",
        lessons.len(),
        first.told(),
        best.told(),
        proof.told()
    ))
}
