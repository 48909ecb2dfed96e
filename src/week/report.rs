//! All that is told of a week, or of one of its days.

use std::sync::{Arc, Mutex, PoisonError};

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::broken::{Consequence, broken};
use super::model::{Entry, EntryNo, Week, What};
use super::moves::{Moves, moves};
use super::needs::Needs;
use super::parallel::each;
use super::setting_up::{Setup, setting_up};
use super::trouble::{Trouble, troubles};
use super::wanted::{Contention, Thing, wanted, wanted_by};
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

/// How far a report is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Lessons are planned alone: what is wanted is that of these so far.
    Lessons,
    /// What is wanted is known; it is looked which ovens are needed, and what comes
    /// of what is out of order.
    Ovens,
    /// Moves are tried.
    Moves,
    /// Nothing more follows.
    Whole,
}

/// What is told of a week.
#[derive(Debug, Clone)]
pub struct Report {
    /// How far it is.
    pub stage: Stage,
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
    report_as_it_comes(week, planner, Asked { day, moves: true }, &|_| {})
}

/// What is asked of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Asked {
    /// The one day it is about; `None` for all of them.
    pub day: Option<NaiveDate>,
    /// Whether moves are looked for that clear what does not go well.
    pub moves: bool,
}

/// The same, told as far as it is known whenever there is more: each lesson as it is
/// planned, then what is wanted, then what ovens are needed, then moves.
pub fn report_as_it_comes(
    week: &Week,
    planner: &Planner<'_>,
    Asked { day, moves: looks_for_moves }: Asked,
    tell: &(dyn Fn(&Report) + Sync),
) -> Report {
    let is_on = |date: NaiveDate| day.is_none_or(|day| day == date);
    let mut entries: Vec<&Entry> = week.entries.iter().filter(|e| is_on(e.slot.date)).collect();
    entries.sort_by_key(|e| (e.slot.date, e.slot.start(), e.slot.rooms.clone(), e.number));
    let dates: Vec<NaiveDate> =
        week.days.iter().map(|d| d.date).filter(|date| is_on(*date)).collect();
    let mut report = planned(week, planner, (day, &entries), tell);

    report.stage = Stage::Ovens;
    report.contention = dates.iter().flat_map(|date| wanted(week, planner, *date)).collect();
    report.setting_up = dates
        .iter()
        .filter_map(|date| setting_up(week, planner, *date))
        .filter(|setup| !setup.jobs.is_empty())
        .collect();
    let all: Vec<Trouble> = dates.iter().flat_map(|d| troubles(week, planner, *d)).collect();
    report.moves = all.iter().map(|trouble| Moves::not_looked_for(trouble.clone())).collect();
    report.whole = is_whole(&report, planner);
    tell(&report);

    let needs = each(&entries, |entry| planner.needs(week, entry));
    report.lessons.iter_mut().zip(needs).for_each(|(told, needs)| told.needs = needs);
    report.broken = broken(week, planner, day);
    if looks_for_moves {
        report.stage = Stage::Moves;
        tell(&report);
        let so_far = Mutex::new(report.clone());
        let numbers: Vec<usize> = (0..all.len()).collect();
        report.moves = each(&numbers, |&i| {
            let found = moves(week, planner, &all[i]);
            let mut so_far = so_far.lock().unwrap_or_else(PoisonError::into_inner);
            so_far.moves[i] = found.clone();
            tell(&so_far);
            found
        });
    }
    report.stage = Stage::Whole;
    report.whole = is_whole(&report, planner);
    tell(&report);
    report
}

/// Plans lessons alone, on all cores; what they want is added up as they come.
fn planned(
    week: &Week,
    planner: &Planner<'_>,
    (day, entries): (Option<NaiveDate>, &[&Entry]),
    tell: &(dyn Fn(&Report) + Sync),
) -> Report {
    let told = |entry: &&Entry| Told {
        entry: entry.number,
        alone: None,
        needs: None,
        ovens: ovens(week, entry),
    };
    let so_far = Mutex::new(Report {
        stage: Stage::Lessons,
        day,
        lessons: entries.iter().map(told).collect(),
        contention: Vec::new(),
        setting_up: Vec::new(),
        broken: Vec::new(),
        moves: Vec::new(),
        whole: true,
    });
    each(entries, |entry| {
        let alone = planner.alone(week, entry);
        let mut so_far = so_far.lock().unwrap_or_else(PoisonError::into_inner);
        let told = so_far.lessons.iter_mut().filter(|told| told.entry == entry.number);
        told.for_each(|told| told.alone.clone_from(&alone));
        let date = entry.slot.date;
        so_far.contention.retain(|of| of.date != date);
        let planned = |entry: &Entry| {
            so_far.lessons.iter().find(|told| told.entry == entry.number)?.alone.clone()
        };
        let wanted = wanted_by(week, date, planned);
        so_far.contention.extend(wanted);
        so_far.contention.sort_by_key(|of| (of.date, of.what));
        tell(&so_far);
    });
    so_far.into_inner().unwrap_or_else(PoisonError::into_inner)
}

fn is_whole(report: &Report, planner: &Planner<'_>) -> bool {
    let cut_short = |told: &Told| told.alone.as_ref().is_some_and(|alone| !alone.whole);
    !planner.is_stopped() && !report.lessons.iter().any(cut_short)
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
    /// Whether every lesson could be read and fits as it stands, and nothing is wanted twice.
    pub fn is_well(&self, week: &Week) -> bool {
        let all_read = week.left_aside_on(self.day) == 0;
        let none_twice = week.twice(self.day).is_empty();
        all_read
            && none_twice
            && self.moves.is_empty()
            && self.lessons.iter().all(|told| told.is_well(week))
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
