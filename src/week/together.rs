//! Lessons that clash planned together, over one set of what goes from room to
//! room: whether they can be reconciled as they stand, and if not, whether that is
//! proved.
//!
//! The lessons are joined as one with several rooms and periods, never in a file. All
//! rules hold across them, as the checker judges the whole. Tins of one kind are
//! counted room by room in a lesson, so that what is joined asks less than it should
//! of tins that move: bounds hold all the same, and a plan is counted over before it
//! is said to be enough.

use super::alone::{Alone, Planner};
use super::model::{EntryNo, Stretch, Week};
use super::wanted::{Clash, Thing, by_day, is_called, kit};
use crate::model::{
    AdultId, GroupId, KitId, KitPool, Lesson, LessonParts, LockedTo, OvenId, PeriodId, RecipeId,
    RoomId, Rules, Timing, TinId, UnitId,
};
use crate::units::{ClockTime, Minute, Minutes};

/// What came of planning lessons together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Together {
    /// Groups out by the bell in the best plan found.
    pub served: u32,
    /// Groups of all the lessons.
    pub of: u32,
    /// No plan of them together gets more out: proved.
    pub at_most: u32,
    /// All are out with what is there.
    pub is_enough: bool,
    /// When each lesson uses what they clash over in that plan, from the first use to
    /// the last.
    pub when: Vec<(EntryNo, Stretch)>,
}

/// More groups than this are not planned together, as in one lesson's file.
const MOST_GROUPS: usize = 60;

/// The lessons of a clash planned together. `None` where they cannot be joined (a
/// booking is among them, they share a room, their rules differ), where the clash is
/// not about what moves, or time is up.
pub(super) fn together(week: &Week, planner: &Planner<'_>, clash: &Clash) -> Option<Together> {
    if !matches!(clash.what, Thing::Moving(_)) || clash.by.len() < 2 {
        return None;
    }
    let entries: Option<Vec<_>> = clash.by.iter().map(|(entry, _)| week.entry(*entry)).collect();
    let mut entries = entries?;
    entries.sort_by_key(|entry| (entry.slot.start(), entry.number));
    let apart = |i: usize| entries[..i].iter().all(|e| !e.slot.shares_room(&entries[i].slot));
    if !(1..entries.len()).all(apart) {
        return None;
    }
    let mut joined: Option<Lesson> = None;
    let mut groups = Vec::new();
    for entry in entries {
        let alone = planner.alone(week, entry)?;
        groups.extend(alone.lesson.groups.iter().map(|_| entry.number));
        joined = Some(match joined {
            None => own_adults(week, &alone.lesson)?,
            Some(first) => join(week, first, &own_adults(week, &alone.lesson)?)?,
        });
    }
    let lesson = joined.filter(|lesson| lesson.groups.len() <= MOST_GROUPS)?;
    let all = planner.planned_lesson(lesson)?;
    if !all.whole {
        return None;
    }
    let at_most = all.plan.plan().bounds.map_or(all.of(), |b| b.served_at_most.min(all.of()));
    let is_enough = all.not_out() == 0 && tins_suffice(week, &all, clash);
    let when = when(week, &all, (clash, &groups));
    Some(Together { served: all.served(), of: all.of(), at_most, is_enough, when })
}

/// When each lesson uses what they clash over; the lesson of each group is given.
fn when(
    week: &Week,
    all: &Alone,
    (clash, groups): (&Clash, &[EntryNo]),
) -> Vec<(EntryNo, Stretch)> {
    let name = clash.what.name(week);
    let mut found: Vec<(EntryNo, Stretch)> = Vec::new();
    for of in all.plan.plan().uses.iter().filter(|of| is_called(&all.lesson, of.of, &name)) {
        let Some(&entry) = groups.get(of.group.0) else { continue };
        let clock = |minute| ClockTime::MIDNIGHT.after(by_day(&all.lesson, minute));
        let (from, until) = (clock(of.start), clock(of.end));
        match found.iter_mut().find(|(known, _)| *known == entry) {
            Some((_, known)) => *known = (known.0.min(from), known.1.max(until)),
            None => found.push((entry, (from, until))),
        }
    }
    found.sort_by_key(|(entry, (from, _))| (*from, *entry));
    found
}

/// Whether a plan keeps to the tins that go from room to room.
fn tins_suffice(week: &Week, all: &Alone, clash: &Clash) -> bool {
    (0..week.moves.len()).all(|moving| {
        let there = week.there(moving, clash.date);
        let is_tin = all.lesson.tins.iter().any(|tin| tin.name == week.moves[moving].name);
        !is_tin || kit(all, &week.moves[moving].name).above(there).minutes() == 0
    })
}

fn is_shared(week: &Week, adult: &str) -> bool {
    week.adults.iter().any(|a| a.name == adult)
}

/// A lesson whose own adults keep to its room; those of the week go between rooms.
/// `None` if it has several rooms or kit of its own that they share.
fn own_adults(week: &Week, lesson: &Lesson) -> Option<Lesson> {
    let mut parts = lesson.clone().into_parts();
    let moves = |kit: KitId| week.moves.iter().any(|m| m.name == lesson.kit_kinds[kit.0].name);
    let own_kit = parts.kit_pools.iter().any(|pool| pool.room.is_none() && !moves(pool.kit));
    if parts.rooms.len() != 1 || own_kit {
        return None;
    }
    for adult in &mut parts.adults {
        adult.room = if is_shared(week, &adult.name) { None } else { Some(RoomId(0)) };
    }
    Lesson::new(parts).ok()
}

/// Two lessons as one, the second no earlier than the first. `None` if their rules
/// differ.
fn join(week: &Week, first: Lesson, second: &Lesson) -> Option<Lesson> {
    let like_first = Rules {
        wanted_spare: first.rules.wanted_spare,
        class_limit: first.rules.class_limit,
        ..second.rules.clone()
    };
    if like_first != first.rules {
        return None;
    }
    let later =
        second.periods.first()?.start_clock.minutes_since(first.periods.first()?.start_clock);
    let mut parts = first.into_parts();
    // Told of single lessons only.
    parts.assumed.clear();
    parts.today = None;
    let shift = Shift::new(week, &mut parts, second, later);
    shift.room(&mut parts, second);
    shift.time(&mut parts, second);
    shift.baking(&mut parts, second);
    Lesson::new(parts).ok()
}

/// By how much the numbers of a second lesson are higher in the two joined.
struct Shift {
    rooms: usize,
    units: usize,
    ovens: usize,
    tins: usize,
    periods: usize,
    recipes: usize,
    groups: usize,
    later: Minutes,
    /// Kit is the same by its name.
    kit: Vec<KitId>,
    /// Adults of the week are the same by their name.
    adults: Vec<AdultId>,
}

impl Shift {
    fn new(week: &Week, parts: &mut LessonParts, second: &Lesson, later: Minutes) -> Self {
        let mut kit = Vec::new();
        for kind in &second.kit_kinds {
            let known = parts.kit_kinds.iter().position(|k| k.name == kind.name);
            kit.push(KitId(known.unwrap_or(parts.kit_kinds.len())));
            if known.is_none() {
                parts.kit_kinds.push(kind.clone());
            }
        }
        let mut adults = Vec::new();
        let mut next = parts.adults.len();
        for adult in &second.adults {
            let shared = is_shared(week, &adult.name);
            let known = parts.adults.iter().position(|a| shared && a.name == adult.name);
            adults.push(AdultId(known.unwrap_or(next)));
            next += usize::from(known.is_none());
        }
        Self {
            rooms: parts.rooms.len(),
            units: parts.units.len(),
            ovens: parts.ovens.len(),
            tins: parts.tins.len(),
            periods: parts.periods.len(),
            recipes: parts.recipes.len(),
            groups: parts.groups.len(),
            later,
            kit,
            adults,
        }
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

    /// The room with all that is in it. What moves is there already.
    fn room(&self, parts: &mut LessonParts, second: &Lesson) {
        parts.rooms.extend(second.rooms.iter().cloned());
        for mut unit in second.units.iter().cloned() {
            unit.room = self.of_room(unit.room);
            parts.units.push(unit);
        }
        for mut oven in second.ovens.iter().cloned() {
            oven.room = self.of_room(oven.room);
            oven.unit = oven.unit.map(|unit| self.unit(unit));
            parts.ovens.push(oven);
        }
        for mut pool in second.kit_pools.iter().cloned() {
            let shared = pool.room.is_none();
            pool.kit = self.kit[pool.kit.0];
            let known = |p: &KitPool| p.room.is_none() && p.kit == pool.kit;
            if shared && parts.kit_pools.iter().any(known) {
                continue;
            }
            pool.room = pool.room.map(|room| self.of_room(room));
            pool.unit = pool.unit.map(|unit| self.unit(unit));
            parts.kit_pools.push(pool);
        }
        parts.tins.extend(second.tins.iter().cloned());
        for mut pool in second.tin_pools.iter().cloned() {
            pool.tin = TinId(pool.tin.0 + self.tins);
            pool.room = self.of_room(pool.room);
            parts.tin_pools.push(pool);
        }
    }

    /// Periods, class steps and adults.
    fn time(&self, parts: &mut LessonParts, second: &Lesson) {
        for mut period in second.periods.iter().cloned() {
            period.start = self.minute(period.start);
            period.end = self.minute(period.end);
            period.ovens_on_from = self.minute(period.ovens_on_from);
            period.ovens_on_by = period.ovens_on_by.map(|adult| self.adults[adult.0]);
            parts.periods.push(period);
        }
        for mut step in second.class_steps.iter().cloned() {
            step.period = PeriodId(step.period.0 + self.periods);
            step.timing = match step.timing {
                Timing::InTurn => Timing::InTurn,
                Timing::At(minute) => Timing::At(self.minute(minute)),
                Timing::Between(a, b) => Timing::Between(self.minute(a), self.minute(b)),
            };
            step.adults.iter_mut().for_each(|adult| *adult = self.adults[adult.0]);
            parts.class_steps.push(step);
        }
        for (i, adult) in second.adults.iter().enumerate() {
            if self.adults[i].0 < parts.adults.len() {
                continue;
            }
            let mut adult = adult.clone();
            adult.room = adult.room.map(|room| self.of_room(room));
            adult.attached_to = adult.attached_to.map(|g| GroupId(g.0 + self.groups));
            for hours in &mut adult.hours {
                *hours = (self.minute(hours.0), self.minute(hours.1));
            }
            parts.adults.push(adult);
        }
    }

    /// Recipes, groups and what is held.
    fn baking(&self, parts: &mut LessonParts, second: &Lesson) {
        for mut recipe in second.recipes.iter().cloned() {
            recipe.tins.iter_mut().for_each(|tin| tin.tin = TinId(tin.tin.0 + self.tins));
            for method in &mut recipe.methods {
                let kit = method.steps.iter_mut().flat_map(|step| step.kit.iter_mut());
                kit.for_each(|(kit, _)| *kit = self.kit[kit.0]);
                method.holds.iter_mut().for_each(|hold| hold.kit = self.kit[hold.kit.0]);
            }
            parts.recipes.push(recipe);
        }
        for mut group in second.groups.iter().cloned() {
            group.room = self.of_room(group.room);
            group.unit = group.unit.map(|unit| self.unit(unit));
            group.period = PeriodId(group.period.0 + self.periods);
            group.recipe = RecipeId(group.recipe.0 + self.recipes);
            parts.groups.push(group);
        }
        for mut lock in second.locks.iter().cloned() {
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
