//! All that is told of a week, or of one of its days.

use std::sync::Arc;

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::broken::{Consequence, broken};
use super::model::{Entry, EntryNo, Week, What};
use super::moves::{Moves, moves};
use super::needs::Needs;
use super::parallel::each;
use super::setting_up::{Setup, setting_up};
use super::trouble::{Trouble, troubles};
use super::wanted::{Contention, Thing, wanted};
use crate::check::Verdict;

/// A lesson, a booking, or what cannot be planned.
#[derive(Debug, Clone)]
pub struct Told {
    /// The entry.
    pub entry: EntryNo,
    /// Its plan as if it were alone; `None` of bookings, of what cannot be planned, and
    /// where time was up before all its groups had a place.
    pub alone: Option<Arc<Alone>>,
    /// The ovens it needs, where all are out and it was found.
    pub needs: Option<Needs>,
    /// Ovens that work in its rooms; `None` where the week does not say.
    pub ovens: Option<u32>,
}

/// What is told of a week.
#[derive(Debug, Clone)]
pub struct Report {
    /// The one day it is about; `None` for all of them.
    pub day: Option<NaiveDate>,
    /// Lessons and bookings in the order of time.
    pub lessons: Vec<Told>,
    /// What is wanted of all that is shared.
    pub contention: Vec<Contention>,
    /// The days of the adult who sets up.
    pub setting_up: Vec<Setup>,
    /// What comes of each thing that is out of order.
    pub broken: Vec<Consequence>,
    /// What does not go well, each with what would clear it.
    pub moves: Vec<Moves>,
    /// Nothing was cut short for want of time.
    pub whole: bool,
}

/// Works out all that is told of a week or of a day of it.
pub fn report(week: &Week, planner: &Planner<'_>, day: Option<NaiveDate>) -> Report {
    let is_on = |date: NaiveDate| day.is_none_or(|day| day == date);
    let mut entries: Vec<&Entry> = week.entries.iter().filter(|e| is_on(e.slot.date)).collect();
    entries.sort_by_key(|e| (e.slot.date, e.slot.start(), e.slot.rooms.clone(), e.number));
    planner.plan_all(week, &entries);
    let told = |entry: &&Entry| Told {
        entry: entry.number,
        alone: planner.alone(week, entry),
        needs: planner.needs(week, entry),
        ovens: ovens(week, entry),
    };
    let lessons: Vec<Told> = entries.iter().map(told).collect();
    let dates: Vec<NaiveDate> =
        week.days.iter().map(|d| d.date).filter(|date| is_on(*date)).collect();
    let contention = dates.iter().flat_map(|date| wanted(week, planner, *date)).collect();
    let setting_up = dates
        .iter()
        .filter_map(|date| setting_up(week, planner, *date))
        .filter(|setup| !setup.jobs.is_empty())
        .collect();
    let broken = broken(week, planner, day);
    let all: Vec<Trouble> = dates.iter().flat_map(|d| troubles(week, planner, *d)).collect();
    let moves = each(&all, |trouble| moves(week, planner, trouble));
    let cut_short = |told: &Told| told.alone.as_ref().is_some_and(|alone| !alone.whole);
    let whole = !planner.is_stopped() && !lessons.iter().any(cut_short);
    Report { day, lessons, contention, setting_up, broken, moves, whole }
}

/// Ovens that work in the rooms of an entry on its day.
fn ovens(week: &Week, entry: &Entry) -> Option<u32> {
    let rooms = entry.slot.rooms.iter();
    rooms.map(|room| Thing::Ovens(*room).there(week, entry.slot.date)).sum()
}

impl Told {
    /// Whether all is well with it alone; bookings ask for nothing.
    pub fn is_well(&self, week: &Week) -> bool {
        match &self.alone {
            Some(alone) => alone.not_out() == 0,
            None => week.entry(self.entry).is_some_and(|e| matches!(e.what, What::Booking { .. })),
        }
    }

    /// The verdict on it alone.
    pub fn verdict(&self) -> Option<Verdict> {
        self.alone.as_ref().map(|alone| alone.plan.verdict())
    }
}

impl Report {
    /// Whether every lesson fits as it stands and nothing is wanted twice.
    pub fn is_well(&self, week: &Week) -> bool {
        self.moves.is_empty() && self.lessons.iter().all(|told| told.is_well(week))
    }

    /// Lessons by how few ovens they could do without: the tightest first. Minutes
    /// with one oven fewer tell those apart that need all.
    pub fn tightest(&self) -> Vec<&Told> {
        let mut all: Vec<&Told> = self.lessons.iter().filter(|t| t.needs.is_some()).collect();
        let slack = |told: &Told| -> i64 {
            let needs = told.needs.map_or(0, |n| i64::from(n.ovens));
            told.ovens.map_or(i64::MAX, |there| i64::from(there) - needs)
        };
        // Where even an hour more did not help it is tightest of all.
        let late =
            |told: &Told| told.needs.and_then(|n| n.late).map_or(i32::MIN, |late| -late.get());
        all.sort_by_key(|told| (slack(told), late(told), told.entry));
        all
    }
}
