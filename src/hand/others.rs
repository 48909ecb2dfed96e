//! A plan in which something is to be moved: who stays where, who must have a
//! place in any case.

use crate::check::{CheckedPlan, check};
use crate::graph::{Problem, expand};
use crate::keep::{Base, Changed, Holding, Keeps};
use crate::model::{GroupId, Lesson};
use crate::planner::{Trial, told_anew};
use crate::units::Minute;

/// A lesson and its plan, and the group of which something is moved.
pub(super) struct Others<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) plan: &'a CheckedPlan,
    pub(super) group: GroupId,
    /// Other groups that are served, in the order in which they go into the
    /// ovens.
    pub(super) others: Vec<GroupId>,
}

impl<'a> Others<'a> {
    pub(super) fn new(lesson: &'a Lesson, plan: &'a CheckedPlan, group: GroupId) -> Self {
        let served = plan.plan().choices.iter().map(|c| c.group).filter(|&g| g != group);
        let mut others: Vec<GroupId> = served.collect();
        let first = |g: &GroupId| {
            let loads = plan.plan().loads.iter().filter(|l| l.group == *g).map(|l| l.start);
            let steps = plan.plan().steps.iter().filter(|s| s.group == *g).map(|s| s.start);
            (loads.min(), steps.min(), *g)
        };
        others.sort_by_key(first);
        Self { lesson, plan, group, others }
    }

    /// The group, and others that are served and of which something is held:
    /// they keep their places in any case.
    pub(super) fn staying(&self) -> Vec<GroupId> {
        let is_held = |g: &&GroupId| self.lesson.locks.iter().any(|l| l.group == **g);
        std::iter::once(self.group).chain(self.others.iter().filter(is_held).copied()).collect()
    }

    /// A lesson with all others held to all they have, and the class's own
    /// steps where they are. Groups that are not served are as they were.
    pub(super) fn held(&self, after: &Lesson) -> Option<Lesson> {
        let mut groups = vec![Keeps::Nothing; after.groups.len()];
        for other in &self.others {
            groups[other.0] = Keeps::All;
        }
        // What the teacher holds of them says nothing else.
        let holding = Holding { class: true, instead_of_locks: true, ..Holding::only(&groups) };
        Base::new((self.lesson, self.plan), after).held(holding)
    }

    /// A plan in which the group has its place and no other changes anything,
    /// if the first that comes to mind is one.
    pub(super) fn stays(&self, after: &Lesson) -> Option<CheckedPlan> {
        let held = self.held(after)?;
        let problem = expand(&held);
        let position = |g: &GroupId| problem.groups.iter().position(|t| t.group == *g);
        let group = position(&self.group)?;
        let others: Vec<usize> = self.others.iter().filter_map(position).collect();
        let rest = (0..problem.groups.len()).filter(|g| *g != group && !others.contains(g));
        let rest: Vec<usize> = rest.collect();
        let mut trial = Trial::new(&problem)?;
        for first in [false, true] {
            let mut order = others.clone();
            order.insert(if first { 0 } else { others.len() }, group);
            order.extend(&rest);
            trial.build(&order);
            if !trial.serves(group) || !self.are_back(&problem, &others, &trial) {
                continue;
            }
            let plan = check(after, told_anew(after, trial.written())).ok()?;
            if self.changed(after, &plan).moved.is_empty() {
                return Some(plan);
            }
        }
        None
    }

    /// Whether others, by their positions in a problem in which they are held,
    /// are served and where they were.
    pub(super) fn are_back(&self, problem: &Problem, others: &[usize], trial: &Trial<'_>) -> bool {
        others.iter().all(|&g| {
            let id = problem.groups[g].group;
            let of = self.plan.plan().loads.iter().filter(|l| l.group == id);
            let mut stood: Vec<_> = of
                .map(|l| (problem.ovens.iter().position(|o| o.oven == l.oven), l.shelf.0))
                .collect();
            stood.sort_unstable();
            let stands = trial.stands(g).into_iter().map(|(oven, shelf)| (Some(oven), shelf));
            trial.serves(g) && stood.into_iter().eq(stands)
        })
    }

    /// What becomes of other groups in a plan of the lesson after.
    pub(super) fn changed(&self, after: &Lesson, plan: &CheckedPlan) -> Changed {
        let new = plan.plan().choices.iter().map(|c| c.group);
        let new = new.filter(|g| *g != self.group && !self.others.contains(g));
        let others = self.others.iter().copied().chain(new);
        let mut changed = Changed::between((self.lesson, self.plan), (after, plan), others);
        changed.moved.sort_unstable();
        changed
    }

    /// Where the class's own steps with a window are.
    pub(super) fn floats(&self, problem: &Problem) -> Vec<i32> {
        let placed = &self.plan.plan().class_steps;
        let start = |step| placed.iter().find(|c| c.step == step).map(|c| c.start);
        let of = problem.floating.iter();
        of.map(|f| start(f.step).map_or(f.earliest, Minute::get)).collect()
    }
}
