//! Why a group is not served: a sum a teacher can do with pencil and paper if
//! one shows it; else a smallest set of groups and rules that contradict each
//! other; else what was tried.

mod family;
mod needed;
mod paper;
mod relax;
mod round_tins;
mod shrink;
mod stage;
mod sums;
mod told;

use std::cell::RefCell;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use super::bounds::{self, Bounder};
use super::exact::Limits;
use super::exact::lesson::{Said, Shelves};
use crate::graph::expand;
use crate::model::{GroupId, Lesson};
use crate::plan::{Refusal, Rule};
use family::rules_of;
use needed::Needed;
use shrink::{Contradiction, Start, shrink};
use stage::Stage;

pub use needed::only;
pub use relax::{Longer, anew, lift, windows};

pub use crate::plan::why::{By, Explanation, Family, Pace, SmallestSet};
pub(in crate::planner) use paper::{LeftOut, Paper};
pub(in crate::planner) use sums::at_pace;

/// What a sum says, of one group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::planner) struct Reason {
    pub refusal: Refusal,
    pub by: By,
    pub pace: Option<Pace>,
    pub rules: Vec<Rule>,
    pub sum: String,
    pub sentence: String,
}

impl Reason {
    /// The sentence, and the sum if there is one.
    pub(in crate::planner) fn in_words(&self) -> String {
        if self.sum.is_empty() {
            return self.sentence.clone();
        }
        format!("{} The sum: {}.", self.sentence, self.sum)
    }
}

/// When to stop explaining.
#[derive(Debug, Clone, Copy)]
pub struct ExplainLimits<'a> {
    /// After so long in all.
    pub within: Duration,
    /// Each question after so many conflicts.
    pub conflicts: u64,
    /// When this is set, within 100 ms.
    pub stop: Option<&'a AtomicBool>,
}

impl Default for ExplainLimits<'_> {
    fn default() -> Self {
        Self { within: Duration::from_secs(5), conflicts: 20_000, stop: None }
    }
}

/// Explains every group of `not_served`, which a plan leaves out while it
/// serves all others that take part.
pub fn explain(
    lesson: &Lesson,
    not_served: &[GroupId],
    limits: ExplainLimits<'_>,
) -> Vec<Explanation> {
    explain_some(lesson, not_served, not_served, limits)
}

/// Explains some of the groups a plan leaves out.
pub fn explain_some(
    lesson: &Lesson,
    asked: &[GroupId],
    not_served: &[GroupId],
    limits: ExplainLimits<'_>,
) -> Vec<Explanation> {
    let until = Instant::now() + limits.within.min(Duration::from_secs(86_400));
    let problem = expand(lesson);
    let shelves = RefCell::new(Shelves::default());
    let place = |id: &GroupId| problem.groups.iter().position(|g| g.group == *id);
    let not_served: Vec<usize> = not_served.iter().filter_map(place).collect();
    let wanted: Vec<usize> = asked.iter().filter_map(place).collect();
    let bounder = Bounder { lesson, problem: &problem };
    let served_at_most = bounder.planned().served_at_most;
    let mut explainer = Explainer {
        bounder,
        not_served: &not_served,
        served_at_most: usize::try_from(served_at_most).unwrap_or(usize::MAX),
        papers: [None, None],
        stages: [Pace::Quick, Pace::Planned]
            .map(|pace| Stage::new(lesson, &problem, pace, &shelves)),
        alone: Vec::new(),
        limits: Limits { stop: limits.stop, until: Some(until), conflicts: Some(limits.conflicts) },
    };
    explainer.all(asked, &wanted, until)
}

/// The families of rules that could bind some groups at a pace.
pub fn families(lesson: &Lesson, groups: &[GroupId], pace: Pace) -> Vec<Family> {
    let problem = expand(lesson);
    let shelves = RefCell::new(Shelves::default());
    let place = |id: &GroupId| problem.groups.iter().position(|g| g.group == *id);
    let groups: Vec<usize> = groups.iter().filter_map(place).collect();
    Stage::new(lesson, &problem, pace, &shelves).families(&groups)
}

/// Whether all of some groups can be served with no rules but those of
/// `families` (and those that are always kept), at a pace; `None` if a limit
/// came first. *Yes* means that the model has a plan, which may ask less than
/// the rules do. For tests of smallest sets.
pub fn holds_together(
    lesson: &Lesson,
    groups: &[GroupId],
    families: &[Family],
    pace: Pace,
    limits: ExplainLimits<'_>,
) -> Option<bool> {
    let problem = expand(lesson);
    let shelves = RefCell::new(Shelves::default());
    let stage = Stage::new(lesson, &problem, pace, &shelves);
    let place = |id: &GroupId| problem.groups.iter().position(|g| g.group == *id);
    let groups: Vec<usize> = groups.iter().filter_map(place).collect();
    let limits = Limits {
        stop: limits.stop,
        until: Instant::now().checked_add(limits.within),
        conflicts: Some(limits.conflicts),
    };
    match stage.said(&groups, families, false, limits) {
        Said::Yes => Some(true),
        Said::No => Some(false),
        Said::Open => None,
    }
}

/// What is found out for a group, and for all that are like it.
struct GroupAnswer {
    reason: Reason,
    set: Option<(usize, Contradiction)>,
    tried: String,
}

struct Explainer<'a> {
    bounder: Bounder<'a>,
    not_served: &'a [usize],
    /// So many groups can be served as planned, by pencil and paper.
    served_at_most: usize,
    /// At quick and at planned minutes, once they are asked for.
    papers: [Option<Paper<'a>>; 2],
    stages: [Stage<'a>; 2],
    /// Whether a group can be served by itself: its stage, the first group
    /// like it, the answer.
    alone: Vec<(usize, usize, Said)>,
    limits: Limits<'a>,
}

/// Of the time for a group, how much goes to quick minutes.
const FOR_QUICK: f64 = 0.4;
/// Of the time for a pace, how much goes to the proof itself.
const FOR_PROOF: f64 = 0.6;
/// Conflicts for a group by itself.
const ALONE: u64 = 2_000;
/// Of the conflicts of a question, the part for one about fewer groups or
/// rules.
const FOR_FEWER: u64 = 4;

fn part_of(until: Instant, part: f64) -> Instant {
    let now = Instant::now();
    now + until.saturating_duration_since(now).mul_f64(part)
}

impl<'a> Explainer<'a> {
    fn all(&mut self, asked: &[GroupId], wanted: &[usize], until: Instant) -> Vec<Explanation> {
        let like = |g: usize| self.bounder.problem.groups[g].like;
        let mut classes: Vec<(usize, usize)> = Vec::new();
        for &g in wanted {
            if classes.iter().all(|&(class, _)| class != like(g)) {
                classes.push((like(g), g));
            }
        }
        let mut answers: Vec<(usize, GroupAnswer)> = Vec::new();
        for (i, &(class, first)) in classes.iter().enumerate() {
            let left = u32::try_from(classes.len() - i).unwrap_or(1);
            let share = part_of(until, 1.0 / f64::from(left));
            answers.push((class, self.answer(first, share)));
        }
        let of = |&id: &GroupId| {
            let groups = &self.bounder.problem.groups;
            let position = groups.iter().position(|g| g.group == id)?;
            let class = groups[position].like;
            let (_, first) = classes.iter().find(|c| c.0 == class)?;
            let (_, answer) = answers.iter().find(|a| a.0 == class)?;
            Some(self.told(position, *first, answer))
        };
        asked.iter().filter_map(of).collect()
    }

    /// The answer found for `first`, told of a group that is like it.
    fn told(&self, position: usize, first: usize, answer: &GroupAnswer) -> Explanation {
        let GroupAnswer { reason, set, tried } = answer;
        let groups = &self.bounder.problem.groups;
        let mut sentence = reason.sentence.clone();
        let set = set.as_ref().map(|(stage, set)| {
            let mut set = set.clone();
            // Whatever holds of one group holds of the others like it.
            if !set.groups.contains(&position) {
                let takes = |g: usize| if g == first { position } else { g };
                set.groups = set.groups.iter().map(|&g| takes(g)).collect();
            }
            set.groups.sort_unstable();
            sentence = told::set(self.bounder, &self.stages[*stage], position, &set);
            SmallestSet {
                groups: set.groups.iter().map(|&g| groups[g].group).collect(),
                families: set.families,
                smallest: set.smallest,
            }
        });
        Explanation {
            group: groups[position].group,
            refusal: reason.refusal,
            by: reason.by,
            pace: reason.pace,
            rules: reason.rules.clone(),
            sum: reason.sum.clone(),
            sentence,
            set,
            tried: tried.clone(),
        }
    }

    fn answer(&mut self, position: usize, until: Instant) -> GroupAnswer {
        let mut tried = vec!["sums with pencil and paper".to_owned()];
        for stage in [0, 1] {
            let until = if stage == 0 { part_of(until, FOR_QUICK) } else { until };
            // Who cannot be served even alone does not count against the others.
            let out = self.impossible(stage, until);
            let group = &self.bounder.problem.groups[position];
            let paper = self.paper(stage, &out);
            let reason = paper
                .alone(group)
                .or_else(|| if out.contains(&position) { None } else { paper.together(position) });
            if let Some(reason) = reason {
                return GroupAnswer { reason, set: None, tried: String::new() };
            }
            if let Some(answer) = self.worked_through(stage, position, until, &mut tried) {
                return answer;
            }
        }
        let others = if self.bounder.problem.groups.len() > 1 { " beside the others" } else { "" };
        let sentence =
            format!("No room was found for it{others}; that there is none is not proved.");
        let reason = Reason {
            refusal: Refusal::NotFound,
            by: By::Nothing,
            pace: None,
            rules: Vec::new(),
            sum: String::new(),
            sentence,
        };
        GroupAnswer { reason, set: None, tried: format!("Tried: {}.", tried.join("; ")) }
    }

    /// Groups not served that cannot be, even by themselves, at a pace or a
    /// quicker one.
    fn impossible(&mut self, stage: usize, until: Instant) -> Vec<usize> {
        let pace = self.stages[stage].pace;
        let mut out = self.bounder.impossible(self.not_served, pace);
        for &g in self.not_served {
            if !out.contains(&g) && (0..=stage).any(|s| self.alone(s, g, until) == Said::No) {
                out.push(g);
            }
        }
        out
    }

    /// The sums at a pace, about all but the groups of `out`.
    fn paper(&mut self, stage: usize, out: &[usize]) -> &Paper<'a> {
        let left = LeftOut {
            not_served: self.not_served,
            alone: out,
            served_at_most: self.served_at_most,
        };
        let (bounder, pace) = (self.bounder, self.stages[stage].pace);
        self.papers[stage].get_or_insert_with(|| Paper::new(bounder, pace, left))
    }

    fn limits(&self, until: Instant, conflicts: u64) -> Limits<'_> {
        let most = self.limits.conflicts.map_or(conflicts, |most| most.min(conflicts));
        Limits { until: Some(until), conflicts: Some(most), ..self.limits }
    }

    /// Whether a group can be served by itself.
    fn alone(&mut self, stage: usize, position: usize, until: Instant) -> Said {
        let class = self.bounder.problem.groups[position].like;
        if let Some(known) = self.alone.iter().find(|a| (a.0, a.1) == (stage, class)) {
            return known.2;
        }
        let one = [position];
        let at = &self.stages[stage];
        let said = at.said(&one, &at.families(&one), false, self.limits(until, ALONE));
        if said != Said::Open {
            self.alone.push((stage, class, said));
        }
        said
    }

    /// The group by itself, then with all others that could be served by
    /// themselves, at one pace.
    fn worked_through(
        &mut self,
        stage: usize,
        position: usize,
        until: Instant,
        tried: &mut Vec<String>,
    ) -> Option<GroupAnswer> {
        if self.alone(stage, position, until) == Said::No {
            return Some(self.contradiction(stage, position, vec![position], until));
        }
        let problem = self.bounder.problem;
        let here = bounds::beside(problem, problem.groups[position].period);
        let together: Vec<usize> = here
            .iter()
            .copied()
            .filter(|&g| g == position || !self.not_served.contains(&g))
            .collect();
        let out = self.impossible(stage, until);
        let all: Vec<usize> = here.into_iter().filter(|g| !out.contains(g)).collect();
        let proof = part_of(until, FOR_PROOF);
        let at = &self.stages[stage];
        let told = match at.pace {
            Pace::Quick => "the quickest",
            Pace::Planned => "the planned",
        };
        let mut said = Said::Open;
        for groups in [&all, &together] {
            let limits = self.limits(proof, u64::MAX);
            said = at.said(groups, &at.families(groups), false, limits);
            match said {
                Said::No => {
                    let groups = groups.clone();
                    return Some(self.contradiction(stage, position, groups, until));
                }
                Said::Yes => break,
                Said::Open if all == together => break,
                Said::Open => {}
            }
        }
        let came_to = match said {
            Said::Yes => "nothing found that stands in the way",
            _ => "not finished",
        };
        tried.push(format!("all {} groups together at {told} minutes ({came_to})", all.len()));
        None
    }

    /// Groups that cannot all be served, as few as time allows.
    fn contradiction(
        &self,
        stage: usize,
        position: usize,
        groups: Vec<usize>,
        until: Instant,
    ) -> GroupAnswer {
        let at = &self.stages[stage];
        let others: Vec<usize> =
            self.not_served.iter().copied().filter(|&g| g != position).collect();
        let like: Vec<usize> = self.bounder.problem.groups.iter().map(|g| g.like).collect();
        let start = Start { asked: position, others: &others, like: &like };
        let all = Contradiction { families: at.families(&groups), groups, smallest: false };
        let limits = self.limits(until, self.limits.conflicts.unwrap_or(u64::MAX) / FOR_FEWER);
        let mut ask =
            |groups: &[usize], kept: &[Family], likely: bool| at.said(groups, kept, likely, limits);
        let mut set = shrink(all, &start, &mut ask);
        let ids: Vec<GroupId> = self.bounder.problem.groups.iter().map(|g| g.group).collect();
        let needed = Needed {
            lesson: self.bounder.lesson,
            pace: at.pace,
            ids: &ids,
            like: &like,
            stop: self.limits.stop,
        };
        set.smallest = set.smallest && needed.each(&set, || limits.over());
        let refusal = match (at.pace, set.groups.len()) {
            (Pace::Quick, 1) if set.groups == [position] => Refusal::Cannot,
            (Pace::Quick, _) => Refusal::CannotAll,
            (Pace::Planned, _) => Refusal::NotFound,
        };
        let reason = Reason {
            refusal,
            by: By::Set,
            pace: Some(at.pace),
            rules: rules_of(&set.families),
            sum: String::new(),
            sentence: String::new(),
        };
        GroupAnswer { reason, set: Some((stage, set)), tried: String::new() }
    }
}
