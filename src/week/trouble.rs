//! What does not go well in a week, and whether a change of the week clears it
//! without making anything else worse.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::alone::Planner;
use super::model::{EntryNo, Week, What};
use super::rests::broken_rests;
use super::setting_up::setting_up;
use super::wanted::{Clash, Thing, wanted};

/// Something that does not go well.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble {
    /// More is wanted than is there.
    Clash(Clash),
    /// A lesson whose groups are not all out, although it is alone.
    NotAllOut {
        /// The lesson.
        entry: EntryNo,
        /// Its day.
        date: NaiveDate,
    },
    /// More is to be set out than there is time for.
    SettingUp {
        /// The day.
        date: NaiveDate,
        /// For which lessons.
        entries: Vec<EntryNo>,
    },
}

impl Trouble {
    /// The day of it.
    pub fn date(&self) -> NaiveDate {
        match self {
            Self::Clash(clash) => clash.date,
            Self::NotAllOut { date, .. } | Self::SettingUp { date, .. } => *date,
        }
    }

    /// The lessons and bookings that are in it.
    pub fn entries(&self) -> Vec<EntryNo> {
        match self {
            Self::Clash(clash) => clash.by.iter().map(|(entry, _)| *entry).collect(),
            Self::NotAllOut { entry, .. } => vec![*entry],
            Self::SettingUp { entries, .. } => entries.clone(),
        }
    }
}

/// Everything that does not go well on a day.
pub fn troubles(week: &Week, planner: &Planner<'_>, date: NaiveDate) -> Vec<Trouble> {
    let clashes = wanted(week, planner, date).into_iter().flat_map(|c| c.clashes());
    let mut all: Vec<Trouble> = clashes.map(Trouble::Clash).collect();
    for entry in week.on(date) {
        if planner.alone(week, entry).is_some_and(|alone| alone.not_out() > 0) {
            all.push(Trouble::NotAllOut { entry: entry.number, date });
        }
    }
    if let Some(lacking) = setting_up(week, planner, date).and_then(|setup| setup.lacking) {
        let entries = lacking.by.iter().map(|(entry, _)| *entry).collect();
        all.push(Trouble::SettingUp { date, entries });
    }
    all
}

/// What some days of a week come to, to be compared.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Worth {
    /// By thing and day: how much too much is wanted.
    excess: BTreeMap<(Thing, NaiveDate), i64>,
    /// By day: minutes of setting out for which there is no time.
    lacks: BTreeMap<NaiveDate, i64>,
    /// Groups not out by the bell.
    not_out: u32,
    /// Lessons that cannot be planned where they are.
    unplanned: usize,
    /// Faults of what rests between lessons, of all days.
    rests: usize,
}

impl Worth {
    pub(super) fn of(week: &Week, planner: &Planner<'_>, dates: &[NaiveDate]) -> Self {
        let mut worth = Self { rests: broken_rests(week).len(), ..Self::default() };
        for &date in dates {
            for of in wanted(week, planner, date) {
                worth.excess.insert((of.what, date), of.excess());
            }
            let lacks = setting_up(week, planner, date).map_or(0, |setup| setup.lacks());
            worth.lacks.insert(date, i64::from(lacks));
            for entry in week.on(date) {
                match planner.alone(week, entry) {
                    Some(alone) => worth.not_out += alone.not_out(),
                    None if !matches!(entry.what, What::Booking { .. }) => worth.unplanned += 1,
                    None => {}
                }
            }
        }
        worth
    }

    /// Whether nothing is worse than it was before.
    fn is_no_worse_than(&self, before: &Self) -> bool {
        let excess = |(key, now): (&(Thing, NaiveDate), &i64)| {
            *now <= before.excess.get(key).copied().unwrap_or(0)
        };
        let lacks =
            |(date, now): (&NaiveDate, &i64)| *now <= before.lacks.get(date).copied().unwrap_or(0);
        self.excess.iter().all(excess)
            && self.lacks.iter().all(lacks)
            && self.not_out <= before.not_out
            && self.unplanned <= before.unplanned
            && self.rests <= before.rests
    }

    /// Whether a trouble is gone and nothing is worse than it was before.
    pub(super) fn clears(
        &self,
        trouble: &Trouble,
        before: &Self,
        (week, planner): (&Week, &Planner<'_>),
    ) -> bool {
        if !self.is_no_worse_than(before) {
            return false;
        }
        match trouble {
            Trouble::Clash(clash) => {
                let still = wanted(week, planner, clash.date);
                let mut left = still.iter().filter(|c| c.what == clash.what);
                !left.any(|c| {
                    c.clashes().iter().any(|other| {
                        other.span.from < clash.span.until && clash.span.from < other.span.until
                    })
                })
            }
            // A swap may leave it to the class's other lesson: that is no way out.
            Trouble::NotAllOut { entry, .. } => {
                let alone = week.entry(*entry).and_then(|e| planner.alone(week, e));
                self.not_out < before.not_out && alone.is_some_and(|a| a.not_out() == 0)
            }
            Trouble::SettingUp { date, .. } => self.lacks.get(date).copied().unwrap_or(0) == 0,
        }
    }
}
