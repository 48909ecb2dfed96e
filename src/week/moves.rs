//! The least moves that clear what does not go well. Each is tried before it is
//! offered: the lessons it touches are planned again, and everything is counted
//! anew on the days it touches.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::{Datelike, NaiveDate, Weekday};

use super::alone::Planner;
use super::model::{Bell, Entry, EntryNo, Lent, RoomNo, Slot, Week, What};
use super::together::{Together, together};
use super::trouble::{Trouble, Worth};
use super::wanted::Thing;
use crate::file::format::KitCount;

/// A move.
#[derive(Debug, Clone, PartialEq)]
pub enum Move {
    /// Two lessons of one class swap what is baked.
    Swap(EntryNo, EntryNo),
    /// A room lends kit for the day.
    Lend(Lent),
    /// A lesson is taught elsewhere or at another time.
    Elsewhere(EntryNo, Slot),
    /// Two lessons change rooms, or periods.
    ChangePlaces(EntryNo, EntryNo),
}

impl Move {
    /// How much it asks of people: 1 the least, 5 the most. The order is that of
    /// common practice of the trade: what stays within one class first, then kit
    /// carried, then another hour, another room, another day; two classes that change
    /// rooms ask as much as one that goes to a free room, two that change hours the most.
    pub fn effort(&self, week: &Week) -> u32 {
        match self {
            Self::Swap(..) => 1,
            Self::Lend(_) => 2,
            Self::Elsewhere(entry, to) => match week.entry(*entry) {
                Some(e) if e.slot.date == to.date && e.slot.rooms == to.rooms => 3,
                Some(e) if e.slot.date == to.date => 4,
                _ => 5,
            },
            Self::ChangePlaces(one, other) => match (week.entry(*one), week.entry(*other)) {
                (Some(a), Some(b)) if a.slot.is_at_the_time_of(&b.slot) => 4,
                _ => 5,
            },
        }
    }

    /// The week with it.
    pub fn made(&self, week: &Week) -> Option<Week> {
        let mut week = week.clone();
        match self {
            Self::Swap(one, other) => {
                let (a, b) = (week.entry(*one)?.what.clone(), week.entry(*other)?.what.clone());
                week.entry_mut(*one)?.what = b;
                week.entry_mut(*other)?.what = a;
            }
            Self::Lend(lent) => week.lent.push(lent.clone()),
            Self::Elsewhere(entry, to) => week.entry_mut(*entry)?.slot = to.clone(),
            Self::ChangePlaces(one, other) => {
                let (a, b) = (week.entry(*one)?.slot.clone(), week.entry(*other)?.slot.clone());
                week.entry_mut(*one)?.slot = b;
                week.entry_mut(*other)?.slot = a;
            }
        }
        Some(week)
    }

    /// The days it touches.
    fn dates(&self, week: &Week) -> Vec<NaiveDate> {
        let date = |entry: &EntryNo| week.entry(*entry).map(|e| e.slot.date);
        let dates: BTreeSet<NaiveDate> = match self {
            Self::Swap(one, other) | Self::ChangePlaces(one, other) => {
                [date(one), date(other)].into_iter().flatten().collect()
            }
            Self::Lend(lent) => BTreeSet::from([lent.on]),
            Self::Elsewhere(entry, to) => date(entry).into_iter().chain([to.date]).collect(),
        };
        dates.into_iter().collect()
    }
}

/// A move that clears a trouble.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The move.
    pub what: Move,
    /// What it asks of people, from 1 to 5.
    pub effort: u32,
    /// What is left after it in the week: lessons whose groups are not all out.
    pub not_all_out: Vec<EntryNo>,
}

/// What came of looking for moves that clear one trouble.
#[derive(Debug, Clone, PartialEq)]
pub struct Moves {
    /// The trouble.
    pub trouble: Trouble,
    /// What came of planning the lessons of a clash together, where they can be.
    pub together: Option<Together>,
    /// Moves that clear it, the least first.
    pub offers: Vec<Offer>,
    /// How many moves were tried.
    pub tried: usize,
    /// How many there were to be tried.
    pub of: usize,
}

impl Moves {
    /// A trouble for which no move was looked for yet.
    pub(super) fn not_looked_for(trouble: Trouble) -> Self {
        Self { trouble, together: None, offers: Vec::new(), tried: 0, of: 0 }
    }
}

/// So many moves are offered, the first of each effort that clears the trouble.
const MOST_OFFERS: usize = 3;
/// So many are tried for one trouble.
const MOST_TRIED: usize = 60;

/// Moves that clear a trouble.
pub fn moves(week: &Week, planner: &Planner<'_>, trouble: &Trouble) -> Moves {
    let all = candidates(week, planner, trouble);
    let together = match trouble {
        Trouble::Clash(clash) => together(week, planner, clash),
        Trouble::NotAllOut { .. } | Trouble::SettingUp { .. } => None,
    };
    let of = all.len();
    let mut found = Moves { together, of, ..Moves::not_looked_for(trouble.clone()) };
    let mut before: Vec<(Vec<NaiveDate>, Worth)> = Vec::new();
    for what in all {
        if planner.is_stopped() || found.offers.len() == MOST_OFFERS || found.tried == MOST_TRIED {
            break;
        }
        // Another that asks as much tells a head nothing new.
        let effort = what.effort(week);
        if found.offers.iter().any(|offer| offer.effort == effort) {
            continue;
        }
        found.tried += 1;
        let dates = what.dates(week);
        let known = before.iter().position(|(of, _)| *of == dates);
        let known = known.unwrap_or_else(|| {
            let worth = Worth::of(week, planner, &dates);
            before.push((dates, worth));
            before.len() - 1
        });
        let Some(offer) = tried((week, planner), &found.trouble, what, &before[known]) else {
            continue;
        };
        found.offers.push(offer);
    }
    found
}

/// A move tried beside what the days it touches come to without it.
fn tried(
    (week, planner): (&Week, &Planner<'_>),
    trouble: &Trouble,
    what: Move,
    (dates, before): &(Vec<NaiveDate>, Worth),
) -> Option<Offer> {
    let then = what.made(week)?;
    let after = Worth::of(&then, planner, dates);
    // A plan that was cut short says nothing.
    if planner.is_stopped() || !after.clears(trouble, before, (&then, planner)) {
        return None;
    }
    let left = |entry: &&Entry| planner.alone(&then, entry).is_some_and(|a| a.not_out() > 0);
    let not_all_out = then.entries.iter().filter(left).map(|e| e.number).collect();
    Some(Offer { effort: what.effort(week), what, not_all_out })
}

/// Moves that might clear a trouble, the least first.
fn candidates(week: &Week, planner: &Planner<'_>, trouble: &Trouble) -> Vec<Move> {
    let movable = |number: &EntryNo| {
        week.entry(*number).filter(|e| !e.held && matches!(e.what, What::Lesson(_)))
    };
    let entries = trouble.entries();
    let in_it: Vec<&Entry> = entries.iter().filter_map(movable).collect();
    let mut all = swaps(week, &in_it);
    all.extend(loans(week, planner, trouble));
    all.extend(in_it.iter().flat_map(|entry| elsewhere(week, entry)));
    all.extend(changed_places(week, &in_it));
    all.sort_by_key(|what| what.effort(week));
    all
}

/// Lessons that change places with one that is as long, where nobody is in two places then.
fn changed_places(week: &Week, in_it: &[&Entry]) -> Vec<Move> {
    let mut all: Vec<Move> = Vec::new();
    for one in in_it {
        let others = week.entries.iter().filter(|o| o.number != one.number && !o.held);
        for other in others.filter(|o| o.lesson().is_some()) {
            let as_long = one.slot.bells.len() == other.slot.bells.len()
                && one.slot.rooms.len() == other.slot.rooms.len();
            let again = Move::ChangePlaces(other.number, one.number);
            if as_long
                && one.slot != other.slot
                && !all.contains(&again)
                && is_free(week, (one, &other.slot), Some(other.number))
                && is_free(week, (other, &one.slot), Some(one.number))
            {
                all.push(Move::ChangePlaces(one.number, other.number));
            }
        }
    }
    all
}

/// Swaps with other lessons of the class, on other days.
fn swaps(week: &Week, in_it: &[&Entry]) -> Vec<Move> {
    let mut all = Vec::new();
    for one in in_it.iter().filter(|one| !one.class.is_empty()) {
        for other in &week.entries {
            let (Some(a), Some(b)) = (one.lesson(), other.lesson()) else { continue };
            let differ = !Arc::ptr_eq(a, b) && one.slot.date != other.slot.date;
            let swap = Move::Swap(one.number, other.number);
            if other.class == one.class && !other.held && differ {
                let again = Move::Swap(other.number, one.number);
                if !all.contains(&again) {
                    all.push(swap);
                }
            }
        }
    }
    all
}

/// Loans of kit by rooms that have their own of what is wanted.
fn loans(week: &Week, planner: &Planner<'_>, trouble: &Trouble) -> Vec<Move> {
    let Trouble::Clash(clash) = trouble else { return Vec::new() };
    let Thing::Moving(moving) = clash.what else { return Vec::new() };
    let Some(kind) = week.moves.get(moving) else { return Vec::new() };
    let count = clash.span.count.saturating_sub(clash.there);
    let in_it = |room: RoomNo| {
        let rooms = |(entry, _): &(EntryNo, u32)| {
            week.entry(*entry).is_some_and(|e| e.slot.rooms.contains(&room))
        };
        clash.by.iter().any(rooms)
    };
    let has = |room: &RoomNo| {
        let own = week.rooms[room.0].kit.0.iter().filter(|(name, _)| *name == kind.name);
        let own: i64 = own.map(|(_, kit)| working(*kit)).sum();
        let out = super::model::Place::Kit(*room, kind.name.clone());
        own >= i64::from(count) + i64::from(week.out_of(&out, clash.date))
    };
    let rooms = (0..week.rooms.len()).map(RoomNo).filter(|room| !in_it(*room) && has(room));
    let lend = |by: RoomNo| Move::Lend(Lent { moving, by, count, on: clash.date });
    if planner.is_stopped() { Vec::new() } else { rooms.map(lend).collect() }
}

/// How many of some kit of a room work, as far as that is plausible.
fn working(kit: KitCount) -> i64 {
    kit.count.saturating_sub(kit.out_of_order).clamp(0, 500)
}

fn elsewhere(week: &Week, entry: &Entry) -> Vec<Move> {
    let to = |slot| Move::Elsewhere(entry.number, slot);
    // On a day with nothing on there may be no practicals: nobody is offered it unasked.
    let has_lessons = |slot: &Slot| week.on(slot.date).next().is_some();
    free_slots(week, entry).into_iter().filter(has_lessons).map(to).collect()
}

/// Slots that are free for a lesson: a room, its class and who teaches it; at a weekend on
/// days with something on.
pub fn free_slots(week: &Week, entry: &Entry) -> Vec<Slot> {
    let mut all = Vec::new();
    for day in &week.days {
        let mut bells = day.bells.clone();
        bells.sort_by_key(|bell| (bell.start, bell.end));
        let follow = |of: &&[Bell]| of.windows(2).all(|two| two[0].end <= two[1].start);
        for bells in bells.windows(entry.slot.bells.len().max(1)).filter(follow) {
            for rooms in rooms_for(week, entry) {
                let slot = Slot { date: day.date, bells: bells.to_vec(), rooms };
                if slot != entry.slot && is_free(week, (entry, &slot), None) {
                    all.push(slot);
                }
            }
        }
    }
    let is_weekend = |date: NaiveDate| matches!(date.weekday(), Weekday::Sat | Weekday::Sun);
    all.retain(|slot: &Slot| !is_weekend(slot.date) || week.on(slot.date).next().is_some());
    all
}

/// Its own rooms; of a lesson in one room every other too.
fn rooms_for(week: &Week, entry: &Entry) -> Vec<Vec<RoomNo>> {
    let mut all = vec![entry.slot.rooms.clone()];
    if let [own] = entry.slot.rooms.as_slice() {
        let others = (0..week.rooms.len()).map(RoomNo).filter(|room| room != own);
        all.extend(others.map(|room| vec![room]));
    }
    all
}

/// Whether room, class and teacher are free at a slot, whatever one other lesson wants there.
fn is_free(week: &Week, (entry, slot): (&Entry, &Slot), but: Option<EntryNo>) -> bool {
    if week.is_closed(slot) || !week.is_taught_at(entry, slot) {
        return false;
    }
    let is_other = |o: &&Entry| o.number != entry.number && Some(o.number) != but;
    let mut meets = week.entries.iter().filter(is_other).filter(|o| o.slot.meets(slot));
    !meets.any(|o| {
        let class = !entry.class.is_empty() && o.class == entry.class;
        let adult = entry.adult.is_some() && o.adult == entry.adult;
        o.slot.shares_room(slot) || class || adult
    })
}

/// "Thursday P3, Room 1".
pub fn where_and_when(week: &Week, slot: &Slot) -> String {
    let rooms: Vec<String> = slot.rooms.iter().map(|r| week.room_name(*r).to_owned()).collect();
    format!("{} {}, {}", slot.date.format("%A"), slot.period(), crate::words::list(&rooms))
}
