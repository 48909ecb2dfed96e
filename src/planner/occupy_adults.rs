//! Adults with steps and at the doors of ovens.

use super::construct::{Constructor, Scene};
use super::oven_book::Stay;
use crate::graph::Problem;
use crate::graph::problem::GroupTask;

impl Constructor<'_> {
    /// Whether in each minute of an open door an adult is free for it, or stands at
    /// some door already. Sooner asked than where the tins would stand.
    pub(super) fn may_be_watched(&self, scene: Scene<'_>, stay: Stay) -> bool {
        let is_open = |minute| {
            self.watches.iter().any(|w| w.1 == minute)
                || scene.group.adults.iter().any(|&a| self.timeline.free(a, minute, minute + 1) > 0)
        };
        !self.problem.adult_at_doors
            || (stay.start..stay.loaded).chain(stay.taken_out..stay.end).all(is_open)
    }

    pub(super) fn watch_doors(&mut self, scene: Scene<'_>) -> bool {
        if !self.problem.adult_at_doors {
            return true;
        }
        let stays = self.schedule[scene.index].stays.clone();
        for (oven, stay, _) in stays {
            for minute in (stay.start..stay.loaded).chain(stay.taken_out..stay.end) {
                if self.watches.iter().any(|w| w.0 == oven && w.1 == minute) {
                    continue;
                }
                let wished = self.adults.as_ref().and_then(|of| of.at_door(oven, minute));
                let Some(adult) = self.free_adult(scene, wished, (minute, minute + 1)) else {
                    return false;
                };
                self.timeline.take(adult, minute, minute + 1, 1);
                self.watches.push((oven, minute, adult, scene.index));
                self.schedule[scene.index].watches.push((oven, minute, adult));
            }
        }
        true
    }

    /// An adult who is free from minute to minute and may serve the group: the one that is
    /// wished for, else the first.
    fn free_adult(
        &self,
        scene: Scene<'_>,
        wished: Option<usize>,
        (from, until): (i32, i32),
    ) -> Option<usize> {
        let of_group = &self.adults_of[scene.index];
        let first = wished.filter(|adult| of_group.contains(adult)).into_iter();
        let is_free = |&adult: &usize| self.timeline.free(adult, from, until) > 0;
        first.chain(of_group.iter().copied()).find(is_free)
    }

    /// Takes an adult for a task that wants one with it, if one is free.
    pub(super) fn take_adult(
        &mut self,
        scene: Scene<'_>,
        task: usize,
        (start, end): (i32, i32),
    ) -> bool {
        if !scene.task(task).with_adult {
            return true;
        }
        let wished = self.adults.as_ref().and_then(|of| of.with(scene.index, task));
        let Some(adult) = self.free_adult(scene, wished, (start, end)) else { return false };
        self.timeline.take(adult, start, end, 1);
        self.schedule[scene.index].adults.push((task, adult));
        true
    }
}

/// Adults who may serve a group, who serve fewest first: what those do leaves the others
/// free.
pub(super) fn few_first(problem: &Problem, group: &GroupTask) -> Vec<usize> {
    let mut adults = group.adults.clone();
    let serves = |adult: usize| problem.groups.iter().filter(|g| g.adults.contains(&adult)).count();
    adults.sort_by_key(|&adult| serves(adult));
    adults
}
