//! Whether each member of a contradiction is needed: without any one of them a
//! whole plan is found, not only one of the model, which asks for less than the
//! rules do.

use std::sync::atomic::AtomicBool;

use super::relax::{Longer, anew, lift};
use super::shrink::Contradiction;
use crate::graph::{expand, quick};
use crate::model::{Attendance, GroupId, Lesson};
use crate::plan::why::Family;
use crate::planner::bounds::Pace;
use crate::planner::serve_all;
use crate::units::Millimetres;

/// Plans built to find one without a member.
const TRIES: u64 = 1_000;

static NEVER: AtomicBool = AtomicBool::new(false);

/// A lesson and the pace at which its groups contradict each other.
#[derive(Clone, Copy)]
pub(super) struct Needed<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) pace: Pace,
    /// The group of the lesson at each position of the problem.
    pub(super) ids: &'a [GroupId],
    /// For each position the first that is like it.
    pub(super) like: &'a [usize],
    pub(super) stop: Option<&'a AtomicBool>,
}

impl Needed<'_> {
    /// Whether a plan is found without each one of the groups and each one of
    /// the families, with all other rules kept; `over` says that there is no
    /// more time.
    pub(super) fn each(self, of: &Contradiction, over: impl Fn() -> bool) -> bool {
        let mut kinds: Vec<usize> = Vec::new();
        for &g in of.groups.iter().filter(|_| of.groups.len() > 1) {
            if kinds.contains(&self.like[g]) {
                continue;
            }
            kinds.push(self.like[g]);
            let rest: Vec<usize> = of.groups.iter().copied().filter(|&h| h != g).collect();
            if over() || !self.is_planned(&rest, None) {
                return false;
            }
        }
        of.families.iter().all(|&f| !over() && self.is_planned(&of.groups, Some(f)))
    }

    /// Whether a plan of some groups without a family of rules is found, as
    /// planned or, where that is the pace, at the quickest.
    fn is_planned(self, groups: &[usize], lifted: Option<Family>) -> bool {
        let groups: Vec<GroupId> = groups.iter().map(|&g| self.ids[g]).collect();
        let Some(lesson) = lifted_in_lesson(self.lesson, &groups, lifted) else { return false };
        let planned = expand(&lesson);
        let quick = (self.pace == Pace::Quick).then(|| quick(&lesson, &planned));
        std::iter::once(planned).chain(quick).any(|mut problem| {
            let all: Vec<usize> = (0..problem.groups.len()).collect();
            if let Some(family) = lifted {
                lift(&lesson, &mut problem, &all, family, Longer::Twice);
                anew(&mut problem);
            }
            serve_all(&problem, (TRIES, 1), self.stop.unwrap_or(&NEVER)).is_some()
        })
    }
}

/// The lesson with no other groups than these, who take part.
pub fn only(lesson: &Lesson, groups: &[GroupId]) -> Option<Lesson> {
    let mut parts = lesson.clone().into_parts();
    for (g, group) in parts.groups.iter_mut().enumerate() {
        group.attendance = match groups.contains(&GroupId(g)) {
            true => Attendance::TakesPart,
            false => Attendance::LeftOut,
        };
    }
    Lesson::new(parts).ok()
}

/// A lesson of some groups without what no change of the problem lifts.
fn lifted_in_lesson(lesson: &Lesson, groups: &[GroupId], lifted: Option<Family>) -> Option<Lesson> {
    let mut parts = only(lesson, groups)?.into_parts();
    match lifted {
        Some(Family::Locked) => parts.locks.clear(),
        Some(Family::Shelf) => {
            let large = Millimetres::whole(Millimetres::LARGEST);
            for shelf in parts.ovens.iter_mut().flat_map(|o| &mut o.shelves) {
                (shelf.width, shelf.depth, shelf.clear) = (large, large, large);
            }
        }
        _ => {}
    }
    Lesson::new(parts).ok()
}
