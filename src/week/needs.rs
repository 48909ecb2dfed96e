//! The fewest ovens with which all groups of a lesson are still out, and by how
//! much the last would be late with one fewer.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

use super::alone::Alone;
use crate::check::{CheckedPlan, judge_of};
use crate::model::{Figure, Lesson, Oven};
use crate::planner::{Budget, plan_until};
use crate::units::Minutes;

/// The ovens that a lesson needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Needs {
    /// The fewest with which a plan gets all groups out.
    pub ovens: u32,
    /// Whether it is proved that one fewer is not enough; else no plan was found
    /// with one fewer.
    pub proved: bool,
    /// By how much the class would end after its bell with one oven fewer, as far as
    /// was found; `None` where even an hour more did not help, or it was not looked
    /// for.
    pub late: Option<Minutes>,
}

/// How much later the end bell is when it is looked how late a class would be.
const LATER: Minutes = Minutes::new(60);

/// The ovens that a lesson needs, planning with fewer and fewer until that fails.
/// `None` if not all groups are out with all ovens, or `stop` was set.
pub(super) fn needs(alone: &Alone, decodings: u64, stop: &AtomicBool) -> Option<Needs> {
    if alone.not_out() > 0 || !alone.whole {
        return None;
    }
    let looking = Looking { decodings, stop };
    // Ovens the plan does without are not needed: that much it shows.
    let used = |oven: usize| alone.plan.plan().loads.iter().any(|load| load.oven.0 == oven);
    let mut lesson = alone.lesson.clone();
    for oven in working(&alone.lesson).into_iter().filter(|&oven| !used(oven)) {
        lesson = without(&lesson, oven)?;
    }
    let mut of_a_kind = true;
    loop {
        let kinds = kinds(&lesson);
        let ovens = u32::try_from(working(&lesson).len()).unwrap_or(u32::MAX);
        if ovens == 0 {
            return Some(Needs { ovens, proved: true, late: None });
        }
        // With ovens of several kinds it matters which ones were taken away before.
        of_a_kind &= kinds.len() == 1;
        let mut all_proved = of_a_kind;
        let mut fewer = None;
        for &oven in &kinds {
            let less = without(&lesson, oven)?;
            match looking.all_out(&less) {
                Outcome::AllOut => {
                    fewer = Some(less);
                    break;
                }
                Outcome::NotAll { proved } => all_proved &= proved,
                Outcome::Stopped => return None,
            }
        }
        match fewer {
            Some(less) => lesson = less,
            None => {
                let less = without(&lesson, *kinds.first()?)?;
                let late = if ovens == 1 { None } else { looking.late(&less) };
                return Some(Needs { ovens, proved: all_proved, late });
            }
        }
    }
}

/// What came of planning with fewer ovens.
enum Outcome {
    AllOut,
    NotAll { proved: bool },
    Stopped,
}

#[derive(Clone, Copy)]
struct Looking<'a> {
    decodings: u64,
    stop: &'a AtomicBool,
}

impl Looking<'_> {
    fn is_stopped(self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn planned(
        self,
        lesson: &Lesson,
        each: impl FnMut(&CheckedPlan) -> ControlFlow<()>,
    ) -> Option<CheckedPlan> {
        let budget = Budget { within: None, decodings: Some(self.decodings), seed: 1 };
        let found = plan_until(lesson, &budget, self.stop, judge_of(lesson), each);
        found.ok().map(|found| found.judged)
    }

    fn all_out(self, lesson: &Lesson) -> Outcome {
        let all = lesson.attending().count();
        let is_all = |plan: &CheckedPlan| plan.objective().served as usize == all;
        let found = self.planned(lesson, |plan| {
            if is_all(plan) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        match found {
            Some(plan) if is_all(&plan) => Outcome::AllOut,
            _ if self.is_stopped() => Outcome::Stopped,
            None => Outcome::NotAll { proved: false },
            Some(plan) => {
                let at_most = plan.plan().bounds.map(|bounds| bounds.served_at_most as usize);
                Outcome::NotAll { proved: at_most.is_some_and(|most| most < all) }
            }
        }
    }

    /// By how much a class ends after its bell that does not get out in time.
    fn late(self, lesson: &Lesson) -> Option<Minutes> {
        let longer = longer(lesson)?;
        let length = lesson.periods.first()?.length();
        let plan = self.planned(&longer, |_| ControlFlow::Continue(()))?;
        let all = plan.objective().served as usize == longer.attending().count();
        let late = Minutes::new(plan.objective().ends) - length;
        (all && late > Minutes::ZERO).then_some(late)
    }
}

/// Numbers of the ovens that work.
fn working(lesson: &Lesson) -> Vec<usize> {
    (0..lesson.ovens.len()).filter(|&oven| !lesson.ovens[oven].out_of_order).collect()
}

/// One oven that works of each kind: those that differ in their names alone are of
/// a kind.
fn kinds(lesson: &Lesson) -> Vec<usize> {
    let nameless = |oven: usize| Oven { name: String::new(), ..lesson.ovens[oven].clone() };
    let mut kinds: Vec<usize> = Vec::new();
    for oven in working(lesson) {
        if !kinds.iter().any(|&known| nameless(known) == nameless(oven)) {
            kinds.push(oven);
        }
    }
    kinds
}

fn without(lesson: &Lesson, oven: usize) -> Option<Lesson> {
    let mut parts = lesson.clone().into_parts();
    parts.ovens.get_mut(oven)?.out_of_order = true;
    Lesson::new(parts).ok()
}

/// The lesson with a later end bell, to be ready as early as can be; `None` with
/// several periods, whose bells belong to others too.
fn longer(lesson: &Lesson) -> Option<Lesson> {
    let mut parts = lesson.clone().into_parts();
    let [period] = parts.periods.as_mut_slice() else { return None };
    let before = period.end;
    period.end = before + LATER;
    // The wanted spare is the whole period: the best plan is the one ready first.
    parts.rules.wanted_spare = Figure::assumed(period.length());
    // Who stays to the bell stays to the later one.
    for hours in parts.adults.iter_mut().flat_map(|a| a.hours.iter_mut()) {
        if hours.1 >= before {
            hours.1 = hours.1.max(before + LATER);
        }
    }
    Lesson::new(parts).ok()
}
