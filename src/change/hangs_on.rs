//! What an answer hangs on: figures nobody has stated for this lesson whose
//! change, within their range, would turn the verdict, and where it turns.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

use super::figures::{Known, figures};
use super::trial::planned;
use crate::check::{CheckedPlan, Verdict};
use crate::model::{Lesson, Origin};

/// Plans built for each value looked at, where nobody says otherwise.
pub const DECODINGS: u64 = 1_000;

/// How many are named.
const NAMED: usize = 2;

/// Where the verdict is as it is now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turns {
    /// Up to a value.
    AtMost,
    /// From a value on.
    AtLeast,
}

/// How it stands with a lesson, as far as a figure may turn it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LessonOutcome {
    /// All groups fit.
    Fits,
    /// All are out by the bell, some with less than the wanted spare.
    Tight,
    /// Some are not out by the bell.
    NotAll,
}

impl LessonOutcome {
    /// Of a plan.
    pub fn of(plan: &CheckedPlan) -> Self {
        match plan.verdict() {
            Verdict::LeftOut | Verdict::Fits => LessonOutcome::Fits,
            Verdict::Tight => LessonOutcome::Tight,
            Verdict::NotRealistically | Verdict::CannotAll | Verdict::Cannot => {
                LessonOutcome::NotAll
            }
        }
    }

    /// "fits".
    pub const fn word(self) -> &'static str {
        match self {
            LessonOutcome::Fits => "fits",
            LessonOutcome::Tight => "tight",
            LessonOutcome::NotAll => "not all out by the bell",
        }
    }
}

/// A figure an answer hangs on.
#[derive(Debug, Clone, PartialEq)]
pub struct HangsOn {
    /// What it is: "weigh (ginger traybake)".
    pub figure: String,
    /// Its unit; empty for a number of things.
    pub unit: &'static str,
    /// What it is taken to be; `None` if as much as is wanted.
    pub now: Option<f64>,
    /// Where that comes from.
    pub origin: Origin,
    /// Between what it may lie.
    pub range: (f64, f64),
    /// The last value, on the way to where it turns, at which it stands as now.
    pub holds: f64,
    /// The first at which it does not.
    pub turns: f64,
    /// On which side of it the answer is as now.
    pub side: Turns,
    /// How it stands now.
    pub is: LessonOutcome,
    /// How it stands beyond.
    pub then: LessonOutcome,
    /// The part of its range that lies between now and where it turns.
    nearness: f64,
    known: Known,
}

impl HangsOn {
    /// The lesson with another value of the figure.
    pub fn with(&self, lesson: &Lesson, value: f64) -> Option<Lesson> {
        self.known.with(lesson, value)
    }

    /// "Fits as long as weigh (ginger traybake) takes no more than 6 minutes
    /// (5 assumed)."
    pub fn sentence(&self) -> String {
        let better = self.then < self.is;
        // Of a change for the better the value reached counts, of one for the
        // worse the last that still holds.
        let value = crate::units::plain_number(if better { self.turns } else { self.holds });
        let bound = match (better, self.side) {
            (false, Turns::AtMost) | (true, Turns::AtLeast) => "no more than",
            _ => "at least",
        };
        let now = match self.now {
            Some(now) => format!(" ({}, {})", crate::units::plain_number(now), self.origin),
            None => String::new(),
        };
        let (figure, unit) = (&self.figure, self.unit);
        let verb = match (unit, better) {
            ("min", false) => "takes",
            ("min", true) => "took",
            (_, false) => "is",
            (_, true) => "were",
        };
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        if better {
            let then = match self.then {
                LessonOutcome::Fits => "It would fit",
                _ => "All would be out by the bell",
            };
            format!("{then} if {figure} {verb} {bound} {value}{unit}{now}.")
        } else {
            let is = match self.is {
                LessonOutcome::Fits => "Fits only",
                _ => "All are out by the bell only",
            };
            format!("{is} if {figure} {verb} {bound} {value}{unit}{now}.")
        }
    }
}

/// The two figures that turn the verdict soonest. Each value looked at is
/// planned with so many plans built; ends early, with what is known, if `stop`
/// is set.
pub fn hangs_on(
    lesson: &Lesson,
    plan: &CheckedPlan,
    decodings: u64,
    stop: &AtomicBool,
) -> Vec<HangsOn> {
    let is = LessonOutcome::of(plan);
    let search = Search { lesson, is, decodings, stop };
    let mut found: Vec<HangsOn> = Vec::new();
    for known in figures(lesson, plan) {
        if stop.load(Ordering::Relaxed) {
            break;
        }
        found.extend(search.turning(&known));
    }
    found.sort_by(|a, b| a.nearness.total_cmp(&b.nearness));
    found.truncate(NAMED);
    found
}

struct Search<'a> {
    lesson: &'a Lesson,
    is: LessonOutcome,
    decodings: u64,
    stop: &'a AtomicBool,
}

impl Search<'_> {
    /// Where a figure turns the verdict, for the worse or for the better.
    fn turning(&self, known: &Known) -> Option<HangsOn> {
        let mut nearest: Option<HangsOn> = None;
        for (end, side) in known.ends() {
            let Some(found) = self.towards(known, end, side) else { continue };
            if nearest.as_ref().is_none_or(|n| found.nearness < n.nearness) {
                nearest = Some(found);
            }
        }
        nearest
    }

    fn towards(&self, known: &Known, end: f64, side: Turns) -> Option<HangsOn> {
        let steps = known.steps(end);
        let last = steps.len().checked_sub(1)?;
        // As many as the plan uses is not what was planned with.
        if known.now.is_none() && self.standing(known, known.start())? != self.is {
            return None;
        }
        // Worse on one side, better on the other, if at all.
        let mut then = self.standing(known, steps[last])?;
        if then == self.is {
            return None;
        }
        // The first step at which it no longer stands as now, by halving.
        let (mut as_now, mut turned) = (0_usize, last + 1);
        while turned - as_now > 1 {
            let middle = usize::midpoint(as_now, turned);
            let there = self.standing(known, steps[middle - 1])?;
            if there == self.is {
                as_now = middle;
            } else {
                (turned, then) = (middle, there);
            }
        }
        let holds = as_now.checked_sub(1).map_or(known.start(), |i| steps[i]);
        let turns = steps[turned - 1];
        let width = (known.range.1 - known.range.0).max(1e-9);
        Some(HangsOn {
            figure: known.name.clone(),
            unit: known.unit,
            now: known.now,
            origin: known.origin,
            range: known.range,
            holds,
            turns,
            side,
            is: self.is,
            then,
            known: known.clone(),
            nearness: ((turns - known.start()).abs() / width).max(known.least_nearness),
        })
    }

    /// How it stands with another value; `None` if there is no such lesson or
    /// no time to see.
    fn standing(&self, known: &Known, value: f64) -> Option<LessonOutcome> {
        if self.stop.load(Ordering::Relaxed) {
            return None;
        }
        let lesson = known.with(self.lesson, value)?;
        standing_of(&lesson, self.decodings, self.stop)
    }
}

/// How it stands with a lesson, as far as so many plans tell.
pub fn standing_of(lesson: &Lesson, decodings: u64, stop: &AtomicBool) -> Option<LessonOutcome> {
    let plan = planned(lesson, decodings, stop, |plan| {
        if LessonOutcome::of(plan) == LessonOutcome::Fits {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    })?;
    (!stop.load(Ordering::Relaxed)).then(|| LessonOutcome::of(&plan))
}
