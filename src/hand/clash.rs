//! Locks that cannot all be kept: a smallest set of them, and why.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::alone::{Alone, alone, only};
use super::drop::LockChange;
use super::refusal_words::{Teller, held};
use super::shelves::{place as place_of, possessive};
use super::why::Case;
use crate::graph::expand;
use crate::model::{GroupId, Lesson, Lock, LockedTo};
use crate::plan::Rule;
use crate::planner::serve_all;
use crate::view::words::{capital, clock, list};

/// The name of the step that puts tins in.
const LOAD: &str = "load";
/// Plans built to see whether all can be served.
const TRIES: u64 = 2_000;

/// Locks that contradict each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// Positions in `Lesson::locks`: with any one of them let go the groups
    /// can be served.
    pub locks: Vec<usize>,
    /// The groups that cannot all be served with them.
    pub groups: Vec<GroupId>,
    /// The rule that stands between them.
    pub rule: Rule,
    /// Which they are and why, with the sum.
    pub sentence: String,
    /// It is proved that they cannot be kept; else no way was found.
    pub proved: bool,
}

/// Locks because of which groups are not served that could be without them;
/// `None` if there are none, or `stop` was set first.
pub fn contradiction(lesson: &Lesson, stop: &AtomicBool) -> Option<Contradiction> {
    let finder = Finder { lesson, stop };
    let all: Vec<usize> = (0..lesson.locks.len()).collect();
    let takes_part = |g: &GroupId| lesson.attending().any(|a| a == *g);
    let mut locked: Vec<GroupId> =
        lesson.locks.iter().map(|l| l.group).filter(takes_part).collect();
    locked.sort_unstable();
    locked.dedup();
    if locked.is_empty() {
        return None;
    }
    // One group by itself, two, all of them; then those that are not locked.
    let ones = locked.iter().map(|&g| vec![g]);
    let pairs = locked
        .iter()
        .enumerate()
        .flat_map(|(i, &a)| locked[i + 1..].iter().map(move |&b| vec![a, b]));
    for groups in ones.chain(pairs).chain([locked.clone()]) {
        if stop.load(Ordering::Relaxed) {
            return None;
        }
        if let Some(found) = finder.between(&groups, &all) {
            return Some(found);
        }
    }
    let everyone: Vec<GroupId> = lesson.attending().collect();
    if everyone.len() > locked.len() && finder.search(&everyone, &[]) {
        return finder.between(&everyone, &all);
    }
    None
}

struct Finder<'a> {
    lesson: &'a Lesson,
    stop: &'a AtomicBool,
}

impl Finder<'_> {
    /// The lesson with some of its locks.
    fn with(&self, locks: &[usize]) -> Option<Lesson> {
        let mut parts = self.lesson.clone().into_parts();
        let kept = locks.iter().filter_map(|&l| self.lesson.locks.get(l)).cloned();
        parts.locks = kept.collect();
        Lesson::new(parts).ok()
    }

    /// Whether a plan is found soon that serves these groups with these locks.
    fn search(&self, groups: &[GroupId], locks: &[usize]) -> bool {
        let lesson = self.with(locks).and_then(|l| only(&l, groups));
        lesson.is_some_and(|l| serve_all(&expand(&l), (TRIES, 1), self.stop).is_some())
    }

    fn said(&self, groups: &[GroupId], locks: &[usize]) -> Option<Alone> {
        Some(alone(&self.with(locks)?, groups, self.stop))
    }

    /// A smallest set of locks with which these groups are not all served.
    fn between(&self, groups: &[GroupId], all: &[usize]) -> Option<Contradiction> {
        let mine = |l: &&usize| groups.contains(&self.lesson.locks[**l].group);
        let mut locks: Vec<usize> = all.iter().filter(mine).copied().collect();
        if locks.is_empty() || self.search(groups, &locks) || !self.search(groups, &[]) {
            return None;
        }
        if matches!(self.said(groups, &locks)?, Alone::Served(_)) {
            return None;
        }
        for lock in locks.clone() {
            let rest: Vec<usize> = locks.iter().copied().filter(|l| *l != lock).collect();
            if !matches!(self.said(groups, &rest)?, Alone::Served(_)) {
                locks = rest;
            }
        }
        if self.stop.load(Ordering::Relaxed) {
            return None;
        }
        let proved = matches!(self.said(groups, &locks)?, Alone::Cannot);
        self.told(groups, locks, proved)
    }

    /// The locks in words; place and time of one bake together.
    fn named(&self, locks: &[usize]) -> Vec<String> {
        let all = || locks.iter().map(|&l| &self.lesson.locks[l]);
        let loads = |lock: &Lock| matches!(&lock.to, LockedTo::Start(name, _) if name == LOAD);
        let place = |lock: &Lock| matches!(lock.to, LockedTo::Oven(..));
        let both = |lock: &Lock| {
            let own = || all().filter(|l| l.group == lock.group);
            own().any(loads) && own().any(place)
        };
        let start = |lock: &Lock| {
            let own = all().find(|l| l.group == lock.group && loads(l));
            own.and_then(|l| match &l.to {
                LockedTo::Start(_, at) => Some(*at),
                _ => None,
            })
        };
        let told = |lock: &Lock| match &lock.to {
            LockedTo::Oven(oven, shelf) if both(lock) => Some(format!(
                "{} bake is held at {} on {}",
                possessive(&self.lesson.group(lock.group).name),
                clock(self.lesson, start(lock)?),
                place_of(self.lesson, *oven, *shelf)
            )),
            _ if loads(lock) && both(lock) => None,
            _ => Some(held(self.lesson, lock)),
        };
        all().filter_map(told).collect()
    }

    fn told(&self, groups: &[GroupId], locks: Vec<usize>, proved: bool) -> Option<Contradiction> {
        let lesson = self.with(&locks)?;
        let first = self.lesson.locks.get(*locks.first()?)?.group;
        let drop = LockChange::nothing(first);
        let staying = groups.to_vec();
        let case = Case { after: Arc::new(lesson), drop: &drop, staying, stop: self.stop };
        let reason = case.reason_kept()?;
        let (sum, by_paper) = Teller::new(&case, &reason).sum();
        let proved = proved || by_paper;
        let named = self.named(&locks);
        let cannot = match (proved, named.len()) {
            (true, 1) => "that cannot be kept",
            (true, 2) => "both cannot be kept",
            (true, _) => "they cannot all be kept",
            (false, 1) => "no plan was found that keeps it",
            (false, _) => "no plan was found that keeps them all",
        };
        let sentence = format!("{}: {cannot}. {}.", capital(&list(&named)), capital(&sum));
        let groups = groups.to_vec();
        Some(Contradiction { locks, groups, rule: reason.rule, sentence, proved })
    }
}
