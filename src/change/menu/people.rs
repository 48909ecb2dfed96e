//! Pupils who bake by themselves, put in pairs or with another group.

use super::super::alteration::Alteration;
use super::Menu;
use crate::change::alter::may_pair;
use crate::finding::shortened;
use crate::model::{ChangeKind, GroupId};

/// A group is no larger than this by a change (common practice of the trade:
/// at a unit three can work, of four one looks on).
const LARGEST: u32 = 3;

impl Menu<'_> {
    pub(super) fn pairs(&mut self) {
        let single = self.file.groups.iter().filter(|g| may_pair(self.file, g));
        let pupils: i64 = single.map(|g| g.count.unwrap_or(1)).sum();
        if pupils < 2 {
            return;
        }
        let words = "pupils who bake by themselves bake in pairs".to_owned();
        let asks = vec![
            "One full batch to a pair: the class wants half as much of everything, and each pupil \
             does half the steps."
                .to_owned(),
        ];
        self.add(ChangeKind::Pairs, Alteration::Pairs, words, asks);
    }

    /// The only pupil who bakes alone joins a pair that makes the same.
    pub(super) fn join(&mut self) {
        let alone: Vec<GroupId> =
            self.groups().filter(|&g| self.lesson.group(g).pupils == 1).collect();
        let &[one] = alone.as_slice() else { return };
        let group = self.lesson.group(one);
        let entry = self.file.groups.iter().find(|g| g.count.is_none() && g.name == group.name);
        if !entry.is_some_and(|g| may_pair(self.file, g)) {
            return;
        }
        let fits = |&other: &GroupId| {
            let of = self.lesson.group(other);
            other != one
                && of.pupils < LARGEST
                && of.recipe == group.recipe
                && (of.period, of.room) == (group.period, group.room)
                && of.pace.to_bits() == group.pace.to_bits()
                && !of.keep_apart
                && of.needs.is_empty()
                && self.lesson.locks.iter().all(|lock| lock.group != other)
        };
        // The last of them: at the far end of the list, as the one alone is.
        let Some(other) = self.groups().filter(fits).last() else { return };
        let (alone, with) = (group.name.clone(), self.lesson.group(other).name.clone());
        let (a, b) = (shortened(&alone, 40), shortened(&with, 40));
        let pupils = self.lesson.group(other).pupils + 1;
        let words = format!("{a} joins {b}");
        let asks = vec![format!(
            "{a} bakes with {b}: {pupils} pupils share one batch, one oven place and one bake."
        )];
        self.add(ChangeKind::Join, Alteration::Join { alone, with }, words, asks);
    }
}
