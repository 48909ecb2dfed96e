//! The numbers of a lesson's things where it is joined with others, and back.

use std::collections::BTreeSet;

use super::model::Week;
use crate::model::{
    AdultId, ClassStepId, GroupId, KitId, KitPool, Lesson, LessonParts, LockedTo, OvenId, PeriodId,
    PoolId, RecipeId, RoomId, Timing, TinId, UnitId,
};
use crate::units::{Minute, Minutes};

/// By how much the numbers of a lesson are higher where it is joined with others.
#[derive(Debug)]
pub(super) struct Shift {
    pub rooms: usize,
    pub units: usize,
    pub ovens: usize,
    pub tins: usize,
    pub periods: usize,
    pub class_steps: usize,
    pub recipes: usize,
    pub groups: usize,
    pub later: Minutes,
    /// What moves is the same by its name; other kit is the lesson's own.
    kit: Vec<KitId>,
    /// So are its pools.
    pools: Vec<PoolId>,
    /// Adults that several share are the same by their name.
    adults: Vec<AdultId>,
}

impl Shift {
    /// Adds a lesson that begins so much later to the others, with the adults that
    /// several of them share.
    pub fn add(
        parts: &mut LessonParts,
        lesson: &Lesson,
        (week, adults): (&Week, &BTreeSet<&str>),
        later: Minutes,
    ) -> Self {
        let mut shift = Self {
            rooms: parts.rooms.len(),
            units: parts.units.len(),
            ovens: parts.ovens.len(),
            tins: parts.tins.len(),
            periods: parts.periods.len(),
            class_steps: parts.class_steps.len(),
            recipes: parts.recipes.len(),
            groups: parts.groups.len(),
            later,
            kit: Vec::new(),
            pools: Vec::new(),
            adults: Vec::new(),
        };
        shift.room(week, parts, lesson);
        shift.adults(adults, parts, lesson);
        shift.time(parts, lesson);
        shift.baking(parts, lesson);
        shift
    }

    fn of_room(&self, room: RoomId) -> RoomId {
        RoomId(room.0 + self.rooms)
    }

    fn unit(&self, unit: UnitId) -> UnitId {
        UnitId(unit.0 + self.units)
    }

    fn minute(&self, minute: Minute) -> Minute {
        minute + self.later
    }

    /// The rooms with all that is in them. What moves is there once for all.
    fn room(&mut self, week: &Week, parts: &mut LessonParts, lesson: &Lesson) {
        parts.rooms.extend(lesson.rooms.iter().cloned());
        for mut unit in lesson.units.iter().cloned() {
            unit.room = self.of_room(unit.room);
            parts.units.push(unit);
        }
        for mut oven in lesson.ovens.iter().cloned() {
            oven.room = self.of_room(oven.room);
            oven.unit = oven.unit.map(|unit| self.unit(unit));
            oven.out_from = oven.out_from.map(|minute| self.minute(minute));
            oven.on_from = oven.on_from.map(|minute| self.minute(minute));
            parts.ovens.push(oven);
        }
        for kind in &lesson.kit_kinds {
            let moves = week.moves.iter().any(|m| m.name == kind.name);
            let known = parts.kit_kinds.iter().position(|k| moves && k.name == kind.name);
            self.kit.push(KitId(known.unwrap_or(parts.kit_kinds.len())));
            if known.is_none() {
                parts.kit_kinds.push(kind.clone());
            }
        }
        for mut pool in lesson.kit_pools.iter().cloned() {
            pool.kit = self.kit[pool.kit.0];
            pool.room = pool.room.map(|room| self.of_room(room));
            pool.unit = pool.unit.map(|unit| self.unit(unit));
            let is_it = |p: &KitPool| p.room.is_none() && p.kit == pool.kit;
            let known = parts.kit_pools.iter().position(|p| pool.room.is_none() && is_it(p));
            self.pools.push(PoolId(known.unwrap_or(parts.kit_pools.len())));
            if known.is_none() {
                parts.kit_pools.push(pool);
            }
        }
        parts.tins.extend(lesson.tins.iter().cloned());
        for mut pool in lesson.tin_pools.iter().cloned() {
            pool.tin = TinId(pool.tin.0 + self.tins);
            pool.room = self.of_room(pool.room);
            parts.tin_pools.push(pool);
        }
    }

    /// Adults: those that several lessons share go between rooms. Whoever goes between
    /// several rooms of one lesson might here go to others', which asks less of them
    /// than it should.
    fn adults(&mut self, adults: &BTreeSet<&str>, parts: &mut LessonParts, lesson: &Lesson) {
        let all = 0..lesson.rooms.len();
        let only = (all.len() == 1).then_some(RoomId(0));
        for mut adult in lesson.adults.iter().cloned() {
            let shared = adults.contains(&*adult.name);
            adult.room = if shared { None } else { adult.room.or(only) };
            adult.room = adult.room.map(|room| self.of_room(room));
            adult.attached_to = adult.attached_to.map(|g| GroupId(g.0 + self.groups));
            for hours in &mut adult.hours {
                *hours = (self.minute(hours.0), self.minute(hours.1));
            }
            let known = parts.adults.iter().position(|a| shared && a.name == adult.name);
            self.adults.push(AdultId(known.unwrap_or(parts.adults.len())));
            match known {
                Some(known) if parts.adults[known].attached_to != adult.attached_to => {
                    parts.adults[known].attached_to = None;
                }
                Some(_) => {}
                None => parts.adults.push(adult),
            }
        }
    }

    /// Periods and class steps.
    fn time(&self, parts: &mut LessonParts, lesson: &Lesson) {
        for mut period in lesson.periods.iter().cloned() {
            period.start = self.minute(period.start);
            period.end = self.minute(period.end);
            period.ovens_on_from = self.minute(period.ovens_on_from);
            period.ovens_on_by = period.ovens_on_by.map(|adult| self.adults[adult.0]);
            parts.periods.push(period);
        }
        for mut step in lesson.class_steps.iter().cloned() {
            step.period = PeriodId(step.period.0 + self.periods);
            step.timing = match step.timing {
                Timing::InTurn => Timing::InTurn,
                Timing::At(minute) => Timing::At(self.minute(minute)),
                Timing::Between(a, b) => Timing::Between(self.minute(a), self.minute(b)),
            };
            step.adults.iter_mut().for_each(|adult| *adult = self.adults[adult.0]);
            parts.class_steps.push(step);
        }
    }

    /// Recipes, groups and what is held.
    fn baking(&self, parts: &mut LessonParts, lesson: &Lesson) {
        for mut recipe in lesson.recipes.iter().cloned() {
            recipe.tins.iter_mut().for_each(|tin| tin.tin = TinId(tin.tin.0 + self.tins));
            for method in &mut recipe.methods {
                let kit = method.steps.iter_mut().flat_map(|step| step.kit.iter_mut());
                kit.for_each(|(kit, _)| *kit = self.kit[kit.0]);
                method.holds.iter_mut().for_each(|hold| hold.kit = self.kit[hold.kit.0]);
            }
            parts.recipes.push(recipe);
        }
        for mut group in lesson.groups.iter().cloned() {
            group.room = self.of_room(group.room);
            group.unit = group.unit.map(|unit| self.unit(unit));
            group.period = PeriodId(group.period.0 + self.periods);
            group.recipe = RecipeId(group.recipe.0 + self.recipes);
            parts.groups.push(group);
        }
        for mut lock in lesson.locks.iter().cloned() {
            lock.group = GroupId(lock.group.0 + self.groups);
            lock.to = match lock.to {
                LockedTo::Start(step, minute) => LockedTo::Start(step, self.minute(minute)),
                LockedTo::Oven(oven, shelf) => LockedTo::Oven(OvenId(oven.0 + self.ovens), shelf),
                to @ (LockedTo::Tin(_) | LockedTo::Method(_)) => to,
            };
            parts.locks.push(lock);
        }
    }
}

/// From the joined numbers back to a lesson's own; `None` of what is another's.
impl Shift {
    /// A group.
    pub fn own_group(&self, lesson: &Lesson, group: GroupId) -> Option<GroupId> {
        own(group.0, self.groups, lesson.groups.len()).map(GroupId)
    }

    /// An oven.
    pub fn own_oven(&self, lesson: &Lesson, oven: OvenId) -> Option<OvenId> {
        own(oven.0, self.ovens, lesson.ovens.len()).map(OvenId)
    }

    /// A kind of tin.
    pub fn own_tin(&self, lesson: &Lesson, tin: TinId) -> Option<TinId> {
        own(tin.0, self.tins, lesson.tins.len()).map(TinId)
    }

    /// A step of the class.
    pub fn own_class_step(&self, lesson: &Lesson, step: ClassStepId) -> Option<ClassStepId> {
        own(step.0, self.class_steps, lesson.class_steps.len()).map(ClassStepId)
    }

    /// Kit in one place.
    pub fn own_pool(&self, pool: PoolId) -> Option<PoolId> {
        self.pools.iter().position(|p| *p == pool).map(PoolId)
    }

    /// An adult.
    pub fn own_adult(&self, adult: AdultId) -> Option<AdultId> {
        self.adults.iter().position(|a| *a == adult).map(AdultId)
    }

    /// A minute.
    pub fn own_minute(&self, minute: Minute) -> Minute {
        minute - self.later
    }
}

fn own(number: usize, first: usize, count: usize) -> Option<usize> {
    number.checked_sub(first).filter(|own| *own < count)
}
