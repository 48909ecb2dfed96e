//! A lesson at one pace, and the question whether some groups can all be
//! served under some families of rules.

use std::cell::{OnceCell, RefCell};

use super::family::families;
use super::relax::{Longer, lift};
use crate::graph::{Problem, expand, quick};
use crate::model::Lesson;
use crate::plan::why::Family;
use crate::planner::bounds::Pace;
use crate::planner::exact::Limits;
use crate::planner::exact::lesson::{Said, ServeQuestion, Shelves, ask};

/// A lesson at one pace.
pub(super) struct Stage<'a> {
    lesson: &'a Lesson,
    pub(super) pace: Pace,
    pub(super) problem: Problem,
    /// The same without locks, once it is asked for.
    unlocked: OnceCell<Option<Problem>>,
    shelves: &'a RefCell<Shelves>,
}

fn at(pace: Pace, lesson: &Lesson, planned: Problem) -> Problem {
    match pace {
        Pace::Quick => quick(lesson, &planned),
        Pace::Planned => planned,
    }
}

impl<'a> Stage<'a> {
    /// `planned` is the expanded lesson.
    pub(super) fn new(
        lesson: &'a Lesson,
        planned: &Problem,
        pace: Pace,
        shelves: &'a RefCell<Shelves>,
    ) -> Self {
        let problem = at(pace, lesson, planned.clone());
        Self { lesson, pace, problem, unlocked: OnceCell::new(), shelves }
    }

    /// The families that could bind some groups.
    pub(super) fn families(&self, groups: &[usize]) -> Vec<Family> {
        families(self.lesson, &self.problem, groups)
    }

    fn unlocked(&self) -> Option<&Problem> {
        let expanded = || {
            let mut parts = self.lesson.clone().into_parts();
            parts.locks.clear();
            let lesson = Lesson::new(parts).ok()?;
            Some(at(self.pace, &lesson, expand(&lesson)))
        };
        self.unlocked.get_or_init(expanded).as_ref()
    }

    fn without(&self, groups: &[usize], kept: &[Family], longer: Longer) -> Problem {
        let all = self.families(groups);
        let lifted = |family: &Family| all.contains(family) && !kept.contains(family);
        let free = Some(()).filter(|()| lifted(&Family::Locked)).and_then(|()| self.unlocked());
        let mut problem = free.unwrap_or(&self.problem).clone();
        for &family in all.iter().filter(|f| lifted(f)) {
            lift(self.lesson, &mut problem, groups, family, longer);
        }
        problem
    }

    /// Whether all of some groups can be served under the families kept. With
    /// `likely`, *yes* is expected, and the shorter way to *no* not tried.
    pub(super) fn said(
        &self,
        groups: &[usize],
        kept: &[Family],
        likely: bool,
        limits: Limits<'_>,
    ) -> Said {
        if limits.over() {
            return Said::Open;
        }
        let asked = ServeQuestion {
            groups,
            in_halves: self.pace == Pace::Quick,
            shelf_room: kept.contains(&Family::Shelf),
            together_first: !likely,
        };
        let one = |longer| {
            let problem = self.without(groups, kept, longer);
            ask(&problem, asked, limits, self.shelves)
        };
        match one(Longer::Twice) {
            Said::No if !kept.contains(&Family::Bell) => one(Longer::OneByOne),
            said => said,
        }
    }
}
