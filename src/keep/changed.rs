//! What becomes of some groups from one plan to another of the same groups.

use super::keeps::{Keeps, keeps};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};

/// Groups that fare otherwise than before.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Changed {
    /// Served in both plans, and not keeping all.
    pub moved: Vec<GroupId>,
    /// Served before and no longer.
    pub lost: Vec<GroupId>,
    /// Served now and not before.
    pub gained: Vec<GroupId>,
}

impl Changed {
    /// What becomes of each of `groups`, in their order. Both lessons number
    /// them alike.
    pub fn between(
        before: (&Lesson, &CheckedPlan),
        after: (&Lesson, &CheckedPlan),
        groups: impl Iterator<Item = GroupId>,
    ) -> Self {
        let mut changed = Self::default();
        for g in groups {
            let was = before.1.plan().choice(g).is_some();
            let is = after.1.plan().choice(g).is_some();
            match (was, is) {
                (true, false) => changed.lost.push(g),
                (false, true) => changed.gained.push(g),
                _ => {
                    let kept = keeps((before.0, before.1, g), (after.0, after.1, g));
                    if kept.is_some_and(|kept| kept != Keeps::All) {
                        changed.moved.push(g);
                    }
                }
            }
        }
        changed
    }
}
