//! A plan with better odds than another of the same lesson, that costs nobody a
//! place or a first choice.
//!
//! Plans beside the one there is are raced on the same luck; how stands in
//! `src/play/playing.md`. What is found has passed the checker, and on luck on
//! which none of it was chosen it is nowhere lower than the plan before.

mod race;

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use crate::check::{CheckedPlan, check};
use crate::graph::expand;
use crate::model::Lesson;
use crate::plan::Plan;
use crate::planner::Beside;
use crate::play::{OddsError, Outs, Settings, Spread};
use race::{Race, Runner};

/// How long to look.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// So many plans are built.
    pub plans: u32,
    /// And none after this time, if one is given.
    pub until: Option<Instant>,
}

impl Default for Effort {
    /// As many as found most of what longer searches found.
    fn default() -> Self {
        Self { plans: 600, until: None }
    }
}

/// How a plan fares with one spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chances {
    /// The spread it was played with.
    pub spread: Spread,
    /// Groups out on average.
    pub groups_out: f64,
    /// Share of the runs in which all are out.
    pub all: f64,
}

impl Chances {
    fn of(spread: Spread, outs: &Outs) -> Self {
        Self { spread, groups_out: outs.on_average(), all: outs.all() }
    }
}

/// A plan with better odds.
#[derive(Debug, Clone, PartialEq)]
pub struct Better {
    /// The plan.
    pub plan: CheckedPlan,
    /// How the plan before fares, by spread.
    pub before: Vec<Chances>,
    /// How this one fares, on the same luck.
    pub after: Vec<Chances>,
}

/// What the search came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Search {
    /// A plan with better odds, if one was found.
    pub found: Option<Better>,
    /// Plans that were built.
    pub built: u32,
}

/// Looks for a plan with better odds than one there is, of the same groups and
/// with no more departures. `settings` says on which luck both are told, and in
/// how many runs; the search itself goes by other luck. `spreads` are those
/// the odds are told with, the widest first.
///
/// # Errors
/// If nobody is served, or a thread is lost.
pub fn better(
    lesson: &Lesson,
    plan: &CheckedPlan,
    (settings, spreads): (&Settings, &[Spread]),
    effort: &Effort,
    stop: &AtomicBool,
) -> Result<Search, OddsError> {
    let race = Race { lesson, settings, spreads };
    let problem = expand(lesson);
    let mut built = 0;
    let mut kept = vec![race.begin(plan.clone())?];
    if let Some(mut beside) = Beside::new(&problem, plan.plan(), settings.seed) {
        let over = || stop.load(Ordering::Relaxed) || effort.until.is_some_and(is_past);
        while built < effort.plans && !over() {
            built += 1;
            let Some(candidate) = beside.build() else { continue };
            let Some(candidate) = of_the_same_worth(lesson, plan, candidate) else { continue };
            let Some(here) = kept.last() else { break };
            if let Some(winner) = race.against(here, candidate)? {
                beside.go_on();
                kept.push(winner);
            }
        }
    }
    let found = if stop.load(Ordering::Relaxed) { None } else { last_race(&race, kept)? };
    Ok(Search { found, built })
}

fn is_past(until: Instant) -> bool {
    Instant::now() >= until
}

/// How many of the plans that won are tried in the last race, the last first.
const IN_THE_LAST_RACE: usize = 4;

/// Of the plans that won, each against the one before, the last that holds its
/// own on luck on which it was not chosen.
fn last_race(race: &Race<'_>, kept: Vec<Runner>) -> Result<Option<Better>, OddsError> {
    if kept.len() < 2 {
        return Ok(None);
    }
    let before = race.to_the_end(&kept[0].plan)?;
    for winner in kept.into_iter().skip(1).rev().take(IN_THE_LAST_RACE) {
        let after = race.to_the_end(&winner.plan)?;
        if race::is_better(&after, &before) {
            let told = |all: Vec<Outs>| {
                race.spreads.iter().zip(&all).map(|(&s, outs)| Chances::of(s, outs)).collect()
            };
            let (before, after) = (told(before), told(after));
            return Ok(Some(Better { plan: winner.plan, before, after }));
        }
    }
    Ok(None)
}

/// The plan, once checked, if it serves the same groups with no more departures
/// and is another.
fn of_the_same_worth(lesson: &Lesson, plan: &CheckedPlan, other: Plan) -> Option<CheckedPlan> {
    let before = plan.plan();
    let serves_the_same = other.choices.len() == before.choices.len()
        && before.choices.iter().all(|c| other.choice(c.group).is_some());
    if !serves_the_same {
        return None;
    }
    // What is proved is of the lesson, whichever plan is shown.
    let (not_served, bounds) = (before.not_served.clone(), before.bounds);
    let other = Plan { not_served, bounds, ..other };
    if other == *before {
        return None;
    }
    let other = check(lesson, other).ok()?;
    (other.objective().departures == plan.objective().departures).then_some(other)
}
