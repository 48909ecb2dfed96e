//! What the technician sets out before lessons, and by when that must begin.
//!
//! Setting out can be done at any minute before its lesson's bell, so it is laid
//! as late as can be, the latest lesson's last. With the hours of one adult and no
//! other claims that is exact: if it does not fit so, it fits in no way.

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::model::{EntryNo, Week, of_day};
use super::profile::Profile;
use super::wanted::busy;
use crate::play::{Task, jobs};
use crate::units::{ClockTime, Minutes};

/// What is set out for a lesson before its bell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SettingOut {
    /// The lesson.
    pub entry: EntryNo,
    /// How long it takes.
    pub minutes: Minutes,
    /// When it must have begun, laid as late as can be; `None` if there is no time
    /// for some of it.
    pub start_by: Option<ClockTime>,
    /// The bell by which it must be done.
    pub until: ClockTime,
}

/// More minutes of setting out than there are before a bell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooLittleTime {
    /// The bell.
    pub before: ClockTime,
    /// Minutes wanted before it.
    pub wanted: Minutes,
    /// Minutes there are before it.
    pub there: Minutes,
    /// The terms of what is wanted.
    pub by: Vec<(EntryNo, Minutes)>,
}

/// The day of the adult who sets up.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The day.
    pub date: NaiveDate,
    /// When setting out must have begun; `None` if there is none, or no time for
    /// all of it.
    pub start_by: Option<ClockTime>,
    /// What is set out, in the order in which it is done.
    pub jobs: Vec<SettingOut>,
    /// The bell before which the most minutes are lacking, if any are.
    pub lacking: Option<TooLittleTime>,
}

impl Setup {
    /// Minutes for which there is no time.
    pub fn lacks(&self) -> i32 {
        self.lacking.as_ref().map_or(0, |l| (l.wanted - l.there).get())
    }
}

/// What has to be set out on a day; `None` if the week names nobody who does.
pub fn setting_up(week: &Week, planner: &Planner<'_>, date: NaiveDate) -> Option<Setup> {
    let adult = week.who_sets_up()?;
    let mut work = Vec::new();
    let mut taken = Profile::default();
    for entry in week.on(date) {
        let Some(alone) = planner.alone(week, entry) else { continue };
        taken.join(&busy(&alone, &adult.name));
        let minutes = beforehand(&alone);
        if minutes > Minutes::ZERO {
            work.push(Work { entry: entry.number, minutes, until: of_day(entry.slot.start()) });
        }
    }
    let mut there = Profile::default();
    for (from, until) in adult.on(date) {
        there.add(of_day(from), of_day(until), 1);
    }
    Some(laid(date, work, &|minute| there.at(minute) > 0 && taken.at(minute) == 0))
}

/// Minutes of what is done before the bell for the groups of a plan, one after
/// another.
fn beforehand(alone: &Alone) -> Minutes {
    let all = jobs(&alone.lesson, &alone.plan).jobs;
    let before = all.iter().filter(|job| matches!(job.task, Task::Beforehand(..)));
    before.map(|job| job.until - job.start_by).fold(Minutes::ZERO, |sum, m| sum + m)
}

/// Work to be done before a minute of the day.
#[derive(Debug, Clone, Copy)]
struct Work {
    entry: EntryNo,
    minutes: Minutes,
    until: Minutes,
}

const MINUTE: Minutes = Minutes::new(1);

/// Work laid as late as can be in the minutes that are free.
fn laid(date: NaiveDate, mut work: Vec<Work>, is_free: &dyn Fn(Minutes) -> bool) -> Setup {
    work.sort_by_key(|w| (w.until, w.entry));
    let lacking = lacking(&work, is_free);
    let mut left: Vec<Minutes> = work.iter().map(|w| w.minutes).collect();
    let mut begun: Vec<Option<Minutes>> = vec![None; work.len()];
    let mut minute = work.last().map_or(Minutes::ZERO, |w| w.until);
    while minute > Minutes::ZERO && left.iter().any(|l| *l > Minutes::ZERO) {
        minute = minute - MINUTE;
        let due = |&i: &usize| work[i].until > minute && left[i] > Minutes::ZERO;
        if is_free(minute)
            && let Some(i) = (0..work.len()).rev().find(due)
        {
            left[i] = left[i] - MINUTE;
            begun[i] = Some(minute);
        }
    }
    let clock = |minute| ClockTime::MIDNIGHT.after(minute);
    let job = |i: usize| SettingOut {
        entry: work[i].entry,
        minutes: work[i].minutes,
        start_by: begun[i].filter(|_| left[i] == Minutes::ZERO).map(clock),
        until: clock(work[i].until),
    };
    let jobs: Vec<SettingOut> = (0..work.len()).map(job).collect();
    let all_done = jobs.iter().all(|job| job.start_by.is_some());
    let start_by = jobs.iter().filter_map(|job| job.start_by).min().filter(|_| all_done);
    Setup { date, start_by, jobs, lacking }
}

/// The bell before which the most minutes are lacking.
fn lacking(work: &[Work], is_free: &dyn Fn(Minutes) -> bool) -> Option<TooLittleTime> {
    let mut worst: Option<TooLittleTime> = None;
    for bell in work.iter().map(|w| w.until) {
        let by: Vec<_> = work.iter().filter(|w| w.until <= bell).collect();
        let wanted = by.iter().fold(Minutes::ZERO, |sum, w| sum + w.minutes);
        let free = (0..bell.get()).filter(|m| is_free(Minutes::new(*m))).count();
        let there = Minutes::new(i32::try_from(free).unwrap_or(i32::MAX));
        let lack = |l: &TooLittleTime| l.wanted - l.there;
        if wanted > there && worst.as_ref().is_none_or(|w| wanted - there > lack(w)) {
            let by = by.iter().map(|w| (w.entry, w.minutes)).collect();
            let before = ClockTime::MIDNIGHT.after(bell);
            worst = Some(TooLittleTime { before, wanted, there, by });
        }
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(work: &[(usize, i32, i32)], hours: (i32, i32)) -> Setup {
        let of = |&(entry, minutes, until): &(usize, i32, i32)| Work {
            entry: EntryNo(entry),
            minutes: Minutes::new(minutes),
            until: Minutes::new(until),
        };
        let free = move |m: Minutes| hours.0 <= m.get() && m.get() < hours.1;
        laid(NaiveDate::MIN, work.iter().map(of).collect(), &free)
    }

    #[test]
    fn work_is_laid_as_late_as_can_be() {
        // 40 minutes before ten, 50 before half past ten: the second lies from 9:40
        // but for the minutes before ten, so the first from 9.
        let found = day(&[(1, 50, 630), (0, 40, 600)], (510, 720));
        let starts: Vec<String> =
            found.jobs.iter().filter_map(|j| Some(j.start_by?.to_string())).collect();
        assert_eq!(starts, ["09:00", "09:40"]);
        assert_eq!(found.start_by.map(|t| t.to_string()).as_deref(), Some("09:00"));
        assert_eq!(found.lacking, None);
    }

    #[test]
    fn what_is_lacking_is_told_as_a_sum() {
        let found = day(&[(0, 40, 600), (1, 50, 630), (2, 5, 700)], (560, 720));
        let lacking = found.lacking.clone().unwrap_or_else(|| panic!("nothing is lacking"));
        assert_eq!(lacking.before.to_string(), "10:30");
        assert_eq!((lacking.wanted.get(), lacking.there.get()), (90, 70));
        assert_eq!(lacking.by.iter().map(|(_, m)| m.get()).sum::<i32>(), 90);
        assert_eq!((found.lacks(), found.start_by), (20, None));
    }
}
