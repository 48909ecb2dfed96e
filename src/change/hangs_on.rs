//! What an answer hangs on: figures nobody has stated for this lesson whose
//! change, within their range, would turn the verdict, and where it turns.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

use super::figures::{Known, figures};
use super::trial::{judge, planned};
use crate::check::{CheckedPlan, Verdict};
use crate::model::{Lesson, Origin};
use crate::planner::{Budget, plan_lesson};
use crate::units::{halves, plain_number};

/// How carefully values are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Care {
    /// Plans built for a first look at each value.
    pub look: u64,
    /// Plans built for each value on both sides of a turn that is named.
    pub named: u64,
}

impl Default for Care {
    /// What is named is planned as carefully as a lesson is.
    fn default() -> Self {
        Self { look: 1_000, named: Budget::default().decodings.unwrap_or(1_000) }
    }
}

/// Values beyond a turn that are planned carefully; of more, these spread out
/// as far as the end of the range.
const BEYOND: usize = 6;

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
    /// It is proved that it stands no better on the worse side.
    pub proved: bool,
    /// The part of its range that lies between now and where it turns.
    nearness: f64,
    known: Known,
}

impl HangsOn {
    /// The lesson with another value of the figure.
    pub fn with(&self, lesson: &Lesson, value: f64) -> Option<Lesson> {
        self.known.with(lesson, value)
    }

    /// "Fits only if weigh (ginger traybake) takes no more than 6 min (5,
    /// assumed)."
    pub fn sentence(&self) -> String {
        let better = self.then < self.is;
        // Of a change for the better the value reached counts, of one for the
        // worse the last that still holds.
        let told = if self.unit == "min" { halves } else { plain_number };
        let value = told(if better { self.turns } else { self.holds });
        let bound = match (better, self.side) {
            (false, Turns::AtMost) | (true, Turns::AtLeast) => "no more than",
            _ => "at least",
        };
        let now = match self.now {
            Some(now) => format!(" ({}, {})", told(now), self.origin),
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
        let tried = if self.proved { "" } else { ", at least as far as was tried" };
        if better {
            let then = match self.then {
                LessonOutcome::Fits => "It would fit",
                _ => "All would be out by the bell",
            };
            format!("{then} if {figure} {verb} {bound} {value}{unit}{now}{tried}.")
        } else {
            let is = match self.is {
                LessonOutcome::Fits => "Fits only",
                _ => "All are out by the bell only",
            };
            format!("{is} if {figure} {verb} {bound} {value}{unit}{now}{tried}.")
        }
    }
}

/// The two figures that turn the verdict soonest. Ends early, with what is known, if
/// `stop` is set.
pub fn hangs_on(
    lesson: &Lesson,
    plan: &CheckedPlan,
    care: Care,
    stop: &AtomicBool,
) -> Vec<HangsOn> {
    let is = LessonOutcome::of(plan);
    let look = Search { lesson, is, decodings: care.look, stop };
    let mut seen: Vec<(Known, Turn)> = Vec::new();
    for known in figures(lesson, plan) {
        if stop.load(Ordering::Relaxed) {
            break;
        }
        let turn = look.turning(&known);
        seen.extend(turn.map(|turn| (known, turn)));
    }
    seen.sort_by(|a, b| a.1.nearness(&a.0).total_cmp(&b.1.nearness(&b.0)));
    let careful = Search { decodings: care.named, ..look };
    // A plan that more luck has made, or less, is no measure of the others.
    if seen.is_empty() || careful.standing_of(lesson) != Some(is) {
        return Vec::new();
    }
    let mut found: Vec<HangsOn> = Vec::new();
    for (known, turn) in seen {
        if found.len() == NAMED || stop.load(Ordering::Relaxed) {
            break;
        }
        found.extend(careful.confirmed(&known, turn));
    }
    found.sort_by(|a, b| a.nearness.total_cmp(&b.nearness));
    found
}

/// Where a figure turns the verdict on the way to an end of its range.
#[derive(Debug, Clone)]
struct Turn {
    side: Turns,
    /// Where it begins and all values on the way, the end last.
    values: Vec<f64>,
    /// The position of the first at which it does not stand as now.
    turned: usize,
}

impl Turn {
    /// The part of its range that lies between now and where it turns.
    fn nearness(&self, known: &Known) -> f64 {
        let width = (known.range.1 - known.range.0).max(1e-9);
        ((self.values[self.turned] - known.start()).abs() / width).max(known.least_nearness)
    }
}

#[derive(Clone, Copy)]
struct Search<'a> {
    lesson: &'a Lesson,
    is: LessonOutcome,
    decodings: u64,
    stop: &'a AtomicBool,
}

impl Search<'_> {
    /// Where a figure turns the verdict, for the worse or for the better.
    fn turning(&self, known: &Known) -> Option<Turn> {
        let ends = known.ends().into_iter();
        let all = ends.filter_map(|(end, side)| self.towards(known, end, side));
        all.min_by(|a, b| a.nearness(known).total_cmp(&b.nearness(known)))
    }

    fn towards(&self, known: &Known, end: f64, side: Turns) -> Option<Turn> {
        let values: Vec<f64> = std::iter::once(known.start()).chain(known.steps(end)).collect();
        let last = values.len() - 1;
        // As many as the plan uses is not what was planned with.
        if known.now.is_none() && self.standing(known, values[0])? != self.is {
            return None;
        }
        // Worse on one side, better on the other, if at all.
        let beyond = self.standing(known, values[last])?;
        let for_the_worse = beyond > self.is;
        if beyond == self.is
            || (known.only_takes_time() && for_the_worse != (side == Turns::AtMost))
        {
            return None;
        }
        // The first value at which it no longer stands as now, by halving.
        let (mut as_now, mut turned) = (0_usize, last);
        while turned - as_now > 1 {
            let middle = usize::midpoint(as_now, turned);
            if self.standing(known, values[middle])? == self.is {
                as_now = middle;
            } else {
                turned = middle;
            }
        }
        Some(Turn { side, values, turned })
    }

    /// A turn whose two sides are planned again as carefully as a lesson is, and
    /// what lies beyond it; `None` if nothing turns then, or time is up.
    fn confirmed(&self, known: &Known, turn: Turn) -> Option<HangsOn> {
        let Turn { side, values, mut turned, .. } = turn;
        let last = values.len() - 1;
        if known.now.is_none() && self.standing(known, values[0])? != self.is {
            return None;
        }
        let mut then = self.standing(known, values[last])?;
        if then == self.is {
            return None;
        }
        // Luck may have had it turn too soon: the last value beyond at which
        // it stands as now counts.
        let wide = (last - turned).div_ceil(BEYOND).max(1);
        let mut at = last;
        while at > turned {
            at = at.saturating_sub(wide).max(turned);
            if self.standing(known, values[at])? == self.is {
                turned = at + 1;
                break;
            }
        }
        // From there to where it has turned, one by one.
        while turned < last {
            let there = self.standing(known, values[turned])?;
            if there != self.is {
                then = there;
                break;
            }
            turned += 1;
        }
        // Or too late.
        let mut as_now = turned - 1;
        while as_now > 0 {
            let there = self.standing(known, values[as_now])?;
            if there == self.is {
                break;
            }
            (turned, then) = (as_now, there);
            as_now -= 1;
        }
        let (holds, turns) = (values[as_now], values[turned]);
        let worse = if then > self.is { (turns, then) } else { (holds, self.is) };
        let turn = Turn { side, values, turned };
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
            proved: self.is_proved(known, worse),
            nearness: turn.nearness(known),
            known: known.clone(),
        })
    }

    /// How it stands with another value; `None` if there is no such lesson or
    /// no time to see.
    fn standing(&self, known: &Known, value: f64) -> Option<LessonOutcome> {
        self.standing_of(&known.with(self.lesson, value)?)
    }

    fn standing_of(&self, lesson: &Lesson) -> Option<LessonOutcome> {
        if self.stop.load(Ordering::Relaxed) {
            return None;
        }
        standing_of(lesson, self.decodings, self.stop)
    }

    /// Whether it is proved that it stands no better with a value.
    fn is_proved(&self, known: &Known, (value, stands): (f64, LessonOutcome)) -> bool {
        let Some(lesson) = known.with(self.lesson, value) else { return false };
        let budget = Budget { within: None, decodings: Some(self.decodings), ..Budget::default() };
        let found = plan_lesson(&lesson, &budget, self.stop, judge(&lesson), |_| {});
        found.is_ok_and(|found| {
            let Some(bounds) = found.judged.plan().bounds else { return false };
            let best = found.judged.objective();
            let all = usize::try_from(bounds.served_at_most).unwrap_or(usize::MAX);
            match stands {
                LessonOutcome::NotAll => all < lesson.attending().count(),
                // Spare minutes count only beside the fewest departures.
                LessonOutcome::Tight => {
                    bounds.served_at_most == best.served
                        && bounds.departures_at_least == best.departures
                        && bounds.shortfall_at_least == best.shortfall
                        && best.shortfall > 0
                }
                LessonOutcome::Fits => false,
            }
        })
    }
}

/// How it stands with a lesson, as far as so many plans tell.
pub fn standing_of(lesson: &Lesson, decodings: u64, stop: &AtomicBool) -> Option<LessonOutcome> {
    // Not until it fits: a plan that departs less may leave less to spare.
    let plan = planned(lesson, decodings, stop, |_| ControlFlow::Continue(()))?;
    (!stop.load(Ordering::Relaxed)).then(|| LessonOutcome::of(&plan))
}
