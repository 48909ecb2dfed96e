//! Lessons that clash planned together, with all that hang on them: whether they can
//! be reconciled as they stand, and if not, whether that is proved.

use std::sync::Arc;

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::apart::{apart, suffices};
use super::coupled::coupled;
use super::join::{Asks, Joined, join};
use super::model::{Entry, EntryNo, Stretch, Week, What};
use super::wanted::{Clash, Contention, Thing, want, wanted};
use crate::model::Lesson;

/// What came of planning lessons together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Together {
    /// Groups out by the bell in the best plan found that is one of each lesson.
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

/// More groups than this are not planned together.
const MOST_GROUPS: usize = 200;

/// Lessons that hang together by what they share, joined.
struct Set<'a> {
    entries: Vec<EntryNo>,
    least: Joined<'a>,
    most: Joined<'a>,
}

/// The lessons of a clash and all that hang on them. `None` where they cannot be joined
/// (they share a room, or are too many), where the clash is over ovens, or time is up.
fn set<'a>(week: &'a Week, planner: &Planner<'_>, clash: &Clash) -> Option<Set<'a>> {
    if matches!(clash.what, Thing::Ovens(_)) || clash.by.len() < 2 {
        return None;
    }
    let numbers = coupled(week, &wanted(week, planner, clash.date), clash);
    let mut entries: Vec<&Entry> = numbers.iter().filter_map(|e| week.entry(*e)).collect();
    entries.sort_by_key(|entry| (entry.slot.start(), entry.slot.rooms.clone(), entry.number));
    let is_booking = |entry: &&Entry| matches!(entry.what, What::Booking { .. });
    let (bookings, entries): (Vec<&Entry>, Vec<&Entry>) = entries.into_iter().partition(is_booking);
    let alone = |entry: &&Entry| planner.alone(week, entry);
    let alone: Vec<Arc<Alone>> = entries.iter().map(alone).collect::<Option<_>>()?;
    let groups: usize = alone.iter().map(|alone| alone.lesson.groups.len()).sum();
    if groups > MOST_GROUPS {
        return None;
    }
    let lessons: Vec<(&Entry, Arc<Alone>)> = entries.into_iter().zip(alone).collect();
    let least = join(week, &lessons, &bookings, Asks::Least)?;
    let most = join(week, &lessons, &bookings, Asks::Most)?;
    Some(Set { entries: numbers, least, most })
}

/// The lessons of a clash planned together, with all that hang on them. `None` where
/// they cannot be joined, where nothing came of it, or time is up.
pub(super) fn together(week: &Week, planner: &Planner<'_>, clash: &Clash) -> Option<Together> {
    planned((week, planner), &set(week, planner, clash)?, clash)
}

fn planned(
    (week, planner): (&Week, &Planner<'_>),
    set: &Set<'_>,
    clash: &Clash,
) -> Option<Together> {
    let of = u32::try_from(set.least.lesson.attending().count()).unwrap_or(u32::MAX);
    let mut found = Together { served: 0, of, at_most: of, is_enough: false, when: Vec::new() };
    let mut any = false;
    let is_bent = set.least.lesson != set.most.lesson;
    for (joined, holds) in [(&set.most, !is_bent), (&set.least, true)] {
        if found.is_enough || (any && !is_bent) {
            break;
        }
        let Some(all) = planner.joined(&joined.lesson) else { continue };
        if !all.whole {
            return None;
        }
        if holds {
            let at_most = all.plan.plan().bounds.map_or(of, |bounds| bounds.served_at_most);
            found.at_most = at_most.min(of);
        }
        any |= take_in((week, planner), (joined, &all), clash, &mut found);
    }
    (any || found.at_most < of).then_some(found)
}

/// Lessons of a day that hang together, as solvers from outside get them.
#[derive(Debug)]
pub struct CoupledSet {
    /// The lessons and bookings.
    pub entries: Vec<EntryNo>,
    /// The lessons joined as one, so that less is asked than should be where one
    /// lesson cannot say it: what no plan of it does, none of them together does.
    pub lesson: Lesson,
    /// It says what holds of them exactly.
    pub is_exact: bool,
    /// What came of planning them together, where anything did.
    pub found: Option<Together>,
}

/// All that hang together on a day because something is wanted twice, each set once.
pub fn coupled_sets(week: &Week, planner: &Planner<'_>, date: NaiveDate) -> Vec<CoupledSet> {
    let mut sets: Vec<CoupledSet> = Vec::new();
    for clash in wanted(week, planner, date).iter().flat_map(Contention::clashes) {
        let Some(set) = set(week, planner, &clash) else { continue };
        if sets.iter().any(|known| known.entries == set.entries) {
            continue;
        }
        let found = planned((week, planner), &set, &clash);
        let is_exact = set.least.lesson == set.most.lesson;
        let Set { entries, least: Joined { lesson, .. }, .. } = set;
        sets.push(CoupledSet { entries, lesson, is_exact, found });
    }
    sets
}

/// Takes in a plan of lessons joined, if it is one of each of them and what is shared
/// is there for them.
fn take_in(
    (week, planner): (&Week, &Planner<'_>),
    (joined, all): (&Joined<'_>, &Alone),
    clash: &Clash,
    found: &mut Together,
) -> bool {
    let Some(parts) = apart(joined, all.plan.plan()) else { return false };
    if !suffices(week, planner, clash.date, &parts) {
        return false;
    }
    let served = parts.iter().map(|(_, alone)| alone.served()).sum();
    if served >= found.served {
        found.served = served;
        found.is_enough = served == found.of;
        found.when = when(week, &parts, clash.what);
    }
    true
}

/// When each lesson uses something.
fn when(week: &Week, parts: &[(EntryNo, Alone)], what: Thing) -> Vec<(EntryNo, Stretch)> {
    let of = |(number, alone): &(EntryNo, Alone)| {
        let spans = want(week, (week.entry(*number)?, Some(alone)), what).spans();
        Some((*number, (spans.first()?.from_clock(), spans.last()?.until_clock())))
    };
    let mut found: Vec<(EntryNo, Stretch)> = parts.iter().filter_map(of).collect();
    found.sort_by_key(|(entry, (from, _))| (*from, *entry));
    found
}
