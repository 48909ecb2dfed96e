//! A plan with better odds in words and as JSON: what it gains and what it costs.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::better::{Better, Chances};
use crate::check::{CheckedPlan, Verdict};
use crate::model::Lesson;
use crate::view::odds::words::odds_words;
use crate::view::words::{capital, minutes, number};

/// What a plan with better odds is, gains and costs, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GainWords {
    /// What it is.
    pub what: String,
    /// What it gains, in a few words: "all out 4 to 8 of 10, now 2 to 7 of 10".
    pub gain: String,
    /// What it costs, in a few words: "last ready 4 minutes later".
    pub cost: String,
    /// More of what it costs, in sentences.
    pub more: Vec<String>,
}

impl GainWords {
    /// Of a plan that is better than one there is.
    pub fn of(lesson: &Lesson, before: &CheckedPlan, better: &Better) -> Self {
        let later = better.plan.objective().latest_ready - before.objective().latest_ready;
        let cost = match later {
            0 => "last ready as now".to_owned(),
            n if n > 0 => format!("last ready {} later", minutes(n)),
            n => format!("last ready {} sooner", minutes(-n)),
        };
        let tight = |plan: &CheckedPlan| {
            plan.group_outcomes().iter().filter(|g| g.verdict == Verdict::Tight).count()
        };
        let mut more = vec![moved(lesson, before, &better.plan)];
        let (was, is) = (tight(before), tight(&better.plan));
        if was != is {
            let groups = if is == 1 { "group is" } else { "groups are" };
            more.push(format!("Then {} {groups} tight; now {}.", number(is), number(was)));
        }
        Self { what: "other calls and orders".to_owned(), gain: gain(better), cost, more }
    }

    /// All of it in a sentence, for the chip of this number.
    pub fn spoken(&self, place: usize) -> String {
        format!("Change {place}: {}, for better odds: {}; {}", self.what, self.gain, self.cost)
    }
}

fn shares(all: &[Chances]) -> String {
    odds_words(&all.iter().map(|c| c.all).collect::<Vec<_>>())
}

/// By the odds of all being out where those are told differently, else by
/// groups out on average.
fn gain(better: &Better) -> String {
    let (before, after) = (shares(&better.before), shares(&better.after));
    if before != after {
        return format!("all out {after}, now {before}");
    }
    let out = |all: &[Chances]| all.first().map_or(0.0, |c| c.groups_out);
    let (before, after) = (out(&better.before), out(&better.after));
    format!("{} groups out, now {}", tenth(after), tenth(before))
}

/// Enough decimals to tell a gain.
fn tenth(groups: f64) -> String {
    format!("{groups:.2}")
}

fn moved(lesson: &Lesson, before: &CheckedPlan, after: &CheckedPlan) -> String {
    let of = |plan: &CheckedPlan, group| {
        let steps = plan.plan().steps.iter().filter(move |s| s.group == group);
        steps.map(|s| (s.step, s.start)).collect::<BTreeSet<_>>()
    };
    let loads = |plan: &CheckedPlan, group| {
        let loads = plan.plan().loads.iter().filter(move |l| l.group == group);
        loads.map(|l| (l.number, l.oven, l.shelf)).collect::<BTreeSet<_>>()
    };
    let differs = |&g: &_| of(before, g) != of(after, g) || loads(before, g) != loads(after, g);
    match lesson.attending().filter(differs).count() {
        1 => "One group moves.".to_owned(),
        n => format!("{} groups move.", capital(&number(n))),
    }
}

/// A plan with better odds as JSON.
#[derive(Debug, Serialize)]
pub(super) struct BetterJson {
    found: bool,
    plans_built: u32,
    groups_out: Option<[Vec<f64>; 2]>,
    all_out: Option<[Vec<f64>; 2]>,
    gain: Option<String>,
    cost: Option<String>,
}

impl BetterJson {
    pub(super) fn of(found: Option<(&Better, &GainWords)>, plans_built: u32) -> Self {
        let rounded = |share: f64| (share * 100.0).round() / 100.0;
        let both = |of: fn(&Chances) -> f64| {
            let each = |all: &[Chances]| all.iter().map(|c| rounded(of(c))).collect();
            found.map(|(better, _)| [each(&better.before), each(&better.after)])
        };
        Self {
            found: found.is_some(),
            plans_built,
            groups_out: both(|c| c.groups_out),
            all_out: both(|c| c.all),
            gain: found.map(|(_, words)| words.gain.clone()),
            cost: found.map(|(_, words)| words.cost.clone()),
        }
    }
}
