//! Places one task of a group at one minute with all it takes: pupils, kit,
//! adults; or takes all of it back.

use super::construct::{Constructor, Scene, UNPLACED, apart};

impl<'p> Constructor<'p> {
    /// Whether bells and class steps allow a task at a minute, and an adult is
    /// near where it asks for one.
    pub(super) fn time_allows(&self, scene: Scene<'_>, task: usize, start: i32) -> bool {
        let of = scene.task(task);
        let end = start + of.minutes;
        if start < scene.period.start || end > scene.period.closing_start {
            return false;
        }
        let stretch = |of: &Vec<bool>, wanted: bool| {
            let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(of.len());
            of[clip(start)..clip(end)].iter().all(|&b| b == wanted)
        };
        (!of.kind.is_hand() || stretch(&self.class_busy[scene.group.period], false))
            && (!of.adult_near || stretch(&self.problem.adult_near[scene.group.room.0], true))
    }

    /// Places a task at a minute with all it takes, or takes all of it back.
    pub(super) fn place(&mut self, scene: Scene<'p>, task: usize, start: i32) -> bool {
        if !self.time_allows(scene, task, start) {
            return false;
        }
        let of = scene.task(task);
        let end = start + of.minutes;
        let pupils = self.problem.pools.len() + scene.index;
        if of.pupils > 0 && self.timeline.free(pupils, start, end) < of.pupils {
            return false;
        }
        self.place_or_not(scene, task, start, |built| {
            if of.pupils > 0 {
                built.timeline.take(pupils, start, end, of.pupils);
            }
            built.take_kit(scene, task, start, end) && built.take_adult(scene, task, (start, end))
        })
    }

    /// Places a collected task at a minute with what it holds until the end bell,
    /// as cakes on a rack do; or takes all of it back.
    pub(super) fn place_collected(&mut self, scene: Scene<'p>, task: usize, start: i32) -> bool {
        self.place_or_not(scene, task, start, |built| built.take_held_from(scene, task))
    }

    /// Gives a task its start; takes all back that `take` took if that fails.
    fn place_or_not(
        &mut self,
        scene: Scene<'p>,
        task: usize,
        start: i32,
        take: impl FnOnce(&mut Self) -> bool,
    ) -> bool {
        let mark = self.timeline.mark();
        let schedule = &mut self.schedule[scene.index];
        let (blocks, adults) = (schedule.kit.blocks.len(), schedule.adults.len());
        let saved = scene.group.keep_apart.then(|| schedule.kit.blocks.clone());
        schedule.starts[task] = start;
        if take(self) {
            return true;
        }
        self.timeline.back_to(mark);
        let schedule = &mut self.schedule[scene.index];
        schedule.starts[task] = UNPLACED;
        schedule.adults.truncate(adults);
        match saved {
            Some(saved) => schedule.kit.blocks = saved,
            None => schedule.kit.blocks.truncate(blocks),
        }
        false
    }

    fn take_kit(&mut self, scene: Scene<'p>, task: usize, start: i32, end: i32) -> bool {
        let schedule = &mut self.schedule[scene.index];
        for need in &scene.task(task).needs {
            if !schedule.kit.take(&mut self.timeline, need, start, end, apart(scene, need)) {
                return false;
            }
        }
        for hold in &scene.choice.holds {
            if hold.from != task && hold.to != task {
                continue;
            }
            if let Some((from, until)) = scene.span(&schedule.starts, hold.from, hold.to)
                && !schedule.kit.take(
                    &mut self.timeline,
                    &hold.need,
                    from,
                    until,
                    apart(scene, &hold.need),
                )
            {
                return false;
            }
        }
        true
    }

    /// What a task holds, from its start on.
    fn take_held_from(&mut self, scene: Scene<'p>, task: usize) -> bool {
        let schedule = &mut self.schedule[scene.index];
        scene.choice.holds.iter().filter(|h| h.from == task).all(|hold| {
            let Some((from, until)) = scene.span(&schedule.starts, hold.from, hold.to) else {
                return true;
            };
            let apart = apart(scene, &hold.need);
            schedule.kit.take(&mut self.timeline, &hold.need, from, until, apart)
        })
    }
}
