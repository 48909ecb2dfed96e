//! What lessons want of what a department shares, each as if it were alone, and
//! where all together want more than is there.

use std::sync::Arc;

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::model::{Entry, EntryNo, RoomNo, Slot, Week, What, of_day};
use super::profile::{Profile, Span};
use crate::check::CheckedPlan;
use crate::file::oven_names;
use crate::model::Lesson;
use crate::plan::Stock;
use crate::play::{Task, jobs};
use crate::units::{Minute, Minutes};

/// Something that several lessons may want.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    /// Ovens of a room.
    Ovens(RoomNo),
    /// What goes from room to room, by its number there.
    Moving(usize),
    /// An adult, by the number among the week's.
    Adult(usize),
}

impl Thing {
    /// What it is called.
    pub fn name(self, week: &Week) -> String {
        match self {
            Self::Ovens(room) => format!("{}/ovens", week.room_name(room)),
            Self::Moving(moving) => {
                week.moves.get(moving).map_or_else(String::new, |m| m.name.clone())
            }
            Self::Adult(adult) => {
                week.adults.get(adult).map_or_else(String::new, |a| a.name.clone())
            }
        }
    }

    /// All that can be wanted in a week.
    pub fn all(week: &Week) -> Vec<Thing> {
        let ovens = (0..week.rooms.len()).map(|room| Self::Ovens(RoomNo(room)));
        let moving = (0..week.moves.len()).map(Self::Moving);
        ovens.chain(moving).chain((0..week.adults.len()).map(Self::Adult)).collect()
    }

    /// How many of it there are on a day; of ovens `None` where the week does not
    /// say which a room has.
    pub fn there(self, week: &Week, date: NaiveDate) -> Option<u32> {
        match self {
            Self::Adult(_) => Some(1),
            Self::Moving(moving) => Some(week.there(moving, date)),
            Self::Ovens(room) => {
                let shape = week.rooms.get(room.0)?;
                let names = oven_names(shape);
                let is_out = |name: &&String| {
                    let place = super::model::Place::Oven(room, (*name).clone());
                    shape.out_of_order.contains(name) || week.out_of(&place, date) > 0
                };
                let working = names.iter().filter(|name| !is_out(name)).count();
                (!names.is_empty()).then(|| u32::try_from(working).unwrap_or(u32::MAX))
            }
        }
    }
}

/// What all lessons of a day together want of a thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Contention {
    /// The thing.
    pub what: Thing,
    /// The day.
    pub date: NaiveDate,
    /// How many there are.
    pub there: u32,
    /// How many are wanted, in minutes since midnight.
    pub wanted: Profile,
    /// By whom: the entries that want some at any time.
    pub by: Vec<(EntryNo, Profile)>,
}

/// A stretch for which more is wanted than is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Clash {
    /// The thing.
    pub what: Thing,
    /// The day.
    pub date: NaiveDate,
    /// How many there are.
    pub there: u32,
    /// The stretch, with the most that is wanted in it.
    pub span: Span,
    /// The terms of that sum: who wants how many in the minute in which most is
    /// wanted. They add up to it.
    pub by: Vec<(EntryNo, u32)>,
}

impl Contention {
    /// Where more is wanted than is there.
    pub fn clashes(&self) -> Vec<Clash> {
        let mut clashes: Vec<Clash> = Vec::new();
        for over in self.wanted.spans().into_iter().filter(|span| span.count > self.there) {
            match clashes.last_mut() {
                Some(last) if last.span.until == over.from => {
                    last.span.until = over.until;
                    if over.count > last.span.count {
                        last.span.count = over.count;
                        last.by = self.terms(over.from);
                    }
                }
                _ => clashes.push(Clash {
                    what: self.what,
                    date: self.date,
                    there: self.there,
                    span: over,
                    by: self.terms(over.from),
                }),
            }
        }
        clashes
    }

    fn terms(&self, minute: Minutes) -> Vec<(EntryNo, u32)> {
        let of = |(entry, profile): &(EntryNo, Profile)| (*entry, profile.at(minute));
        self.by.iter().map(of).filter(|(_, count)| *count > 0).collect()
    }

    /// Minutes beyond what is there, each times how many too many are wanted.
    pub fn excess(&self) -> i64 {
        self.wanted.above(self.there).minutes()
    }
}

/// What the lessons of a day want of everything that is shared; things that nobody
/// wants are left out.
pub fn wanted(week: &Week, planner: &Planner<'_>, date: NaiveDate) -> Vec<Contention> {
    wanted_by(week, date, |entry| planner.alone(week, entry))
}

/// The same by the plans that are given of its lessons.
pub(super) fn wanted_by(
    week: &Week,
    date: NaiveDate,
    alone: impl Fn(&Entry) -> Option<Arc<Alone>>,
) -> Vec<Contention> {
    let mut all = Vec::new();
    let on: Vec<_> = week.on(date).map(|entry| (entry, alone(entry))).collect();
    for what in Thing::all(week) {
        let Some(there) = what.there(week, date) else { continue };
        let mut of = Contention { what, date, there, wanted: Profile::default(), by: Vec::new() };
        for (entry, alone) in &on {
            let profile = want(week, (entry, alone.as_deref()), what);
            if profile.minutes() > 0 {
                of.wanted.join(&profile);
                of.by.push((entry.number, profile));
            }
        }
        if !of.by.is_empty() {
            all.push(of);
        }
    }
    all
}

/// What an entry wants of a thing, by that plan of it if it is a lesson.
pub(super) fn want(week: &Week, (entry, alone): (&Entry, Option<&Alone>), what: Thing) -> Profile {
    if let What::Booking { takes, .. } = &entry.what {
        return booked(entry, takes, what);
    }
    let Some(alone) = alone else { return Profile::default() };
    let found = match what {
        Thing::Ovens(room) => Some(ovens(alone, (&entry.slot, room))),
        Thing::Moving(moving) => week.moves.get(moving).map(|m| kit(alone, &m.name)),
        Thing::Adult(adult) => {
            week.adults.get(adult).map(|a| busy((&alone.lesson, &alone.plan), &a.name))
        }
    };
    found.unwrap_or_default()
}

fn booked(entry: &Entry, takes: &[(usize, u32)], what: Thing) -> Profile {
    let mut profile = Profile::default();
    for &(_, count) in takes.iter().filter(|(moving, _)| what == Thing::Moving(*moving)) {
        profile.add(of_day(entry.slot.start()), of_day(entry.slot.end()), count);
    }
    profile
}

/// A minute of a lesson in minutes since midnight.
fn by_day(lesson: &Lesson, minute: Minute) -> Minutes {
    let first = lesson.periods.first().map_or(Minutes::ZERO, |p| of_day(p.start_clock));
    first + (minute - Minute::BELL)
}

/// Ovens with something in them, each once.
fn ovens(alone: &Alone, (slot, room): (&Slot, RoomNo)) -> Profile {
    let lesson = &alone.lesson;
    let mut all = Profile::default();
    // Rooms of a lesson stand in the order of its slot.
    let Some(number) = slot.rooms.iter().position(|r| *r == room) else { return all };
    for (i, _) in lesson.ovens.iter().enumerate().filter(|(_, oven)| oven.room.0 == number) {
        let mut one = Profile::default();
        for load in alone.plan.plan().loads.iter().filter(|load| load.oven.0 == i) {
            one.add(by_day(lesson, load.start), by_day(lesson, load.end), 1);
        }
        all.join(&one.once());
    }
    all
}

/// Whether some kit or tins of a lesson are called so.
fn is_called(lesson: &Lesson, stock: Stock, name: &str) -> bool {
    match stock {
        Stock::Kit(pool) => lesson.kit_kinds[lesson.kit_pools[pool.0].kit.0].name == name,
        Stock::Tin(tin) => lesson.tins[tin.0].name == name,
    }
}

/// Kit or tins of a name beyond what the lesson's rooms have of their own.
fn kit(alone: &Alone, name: &str) -> Profile {
    let lesson = &alone.lesson;
    let mut all = Profile::default();
    for of in &alone.plan.plan().uses {
        if is_called(lesson, of.of, name) {
            let count = u32::try_from(of.items.len()).unwrap_or(u32::MAX);
            all.add(by_day(lesson, of.start), by_day(lesson, of.end), count);
        }
    }
    let own = lesson.kit_pools.iter().filter(|pool| pool.room.is_some());
    let own = own.filter(|pool| lesson.kit_kinds[pool.kit.0].name == name);
    all.above(own.map(|pool| pool.count).sum())
}

/// When an adult is busy in a lesson at minutes that the plan fixes: with the
/// class, with a group, at a door. What is set out before the bell is not among
/// it, as it can be done earlier.
pub(super) fn busy((lesson, plan): (&Lesson, &CheckedPlan), name: &str) -> Profile {
    let mut all = Profile::default();
    for job in jobs(lesson, plan).jobs {
        let is_theirs = job.adult.is_some_and(|adult| lesson.adults[adult.0].name == name);
        let is_fixed = matches!(job.task, Task::Class(_) | Task::With(..) | Task::Door(_));
        if is_theirs && is_fixed && !job.assumed {
            all.add(by_day(lesson, job.start_by), by_day(lesson, job.until), 1);
        }
    }
    all.once()
}
