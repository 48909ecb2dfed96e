//! What the technician sets out before lessons, and by when that must begin.

use chrono::NaiveDate;

use super::alone::Planner;
use super::model::{EntryNo, Week, of_day};
use super::profile::Profile;
use super::wanted::busy;
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::{SetOut, Task, ToSetOut, jobs, set_out};
use crate::units::{ClockTime, Minutes};

/// What is set out for a lesson before its bell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SettingOut {
    /// The lesson.
    pub entry: EntryNo,
    /// When.
    pub set_out: SetOut,
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
    let on = week.on(date).filter_map(|entry| Some((entry.number, planner.alone(week, entry)?)));
    let on: Vec<_> = on.collect();
    let planned: Vec<_> =
        on.iter().map(|(entry, alone)| (*entry, &alone.lesson, &alone.plan)).collect();
    setting_up_by(week, date, &planned)
}

/// The same by the plans that are given of the day's lessons.
pub fn setting_up_by(
    week: &Week,
    date: NaiveDate,
    planned: &[(EntryNo, &Lesson, &CheckedPlan)],
) -> Option<Setup> {
    let adult = week.who_sets_up()?;
    let mut work = Vec::new();
    let mut taken = Profile::default();
    for &(number, lesson, plan) in planned {
        let Some(entry) = week.entry(number).filter(|entry| entry.slot.date == date) else {
            continue;
        };
        taken.join(&busy((lesson, plan), &adult.name));
        let minutes = beforehand(lesson, plan);
        if minutes > Minutes::ZERO {
            let until = of_day(entry.slot.start());
            work.push((number, ToSetOut { minutes, until }));
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
fn beforehand(lesson: &Lesson, plan: &CheckedPlan) -> Minutes {
    let all = jobs(lesson, plan).jobs;
    let before = all.iter().filter(|job| matches!(job.task, Task::Beforehand(..)));
    before.map(|job| job.until - job.start_by).fold(Minutes::ZERO, |sum, m| sum + m)
}

/// Work laid as late as can be in the minutes that are free.
fn laid(
    date: NaiveDate,
    mut work: Vec<(EntryNo, ToSetOut)>,
    is_free: &dyn Fn(Minutes) -> bool,
) -> Setup {
    work.sort_by_key(|(entry, of)| (of.until, *entry));
    let lacking = lacking(&work, is_free);
    let all: Vec<ToSetOut> = work.iter().map(|(_, of)| *of).collect();
    let set_out = set_out(&all, &|_, minute| is_free(minute)).into_iter();
    let jobs = work.iter().zip(set_out).map(|(&(entry, _), set_out)| SettingOut { entry, set_out });
    let jobs: Vec<SettingOut> = jobs.collect();
    let starts: Option<Vec<ClockTime>> = jobs.iter().map(|job| job.set_out.start_by()).collect();
    let start_by = starts.and_then(|starts| starts.into_iter().min());
    Setup { date, start_by, jobs, lacking }
}

/// The bell before which the most minutes are lacking.
fn lacking(
    work: &[(EntryNo, ToSetOut)],
    is_free: &dyn Fn(Minutes) -> bool,
) -> Option<TooLittleTime> {
    let mut worst: Option<TooLittleTime> = None;
    for bell in work.iter().map(|(_, of)| of.until) {
        let by: Vec<_> = work.iter().filter(|(_, of)| of.until <= bell).collect();
        let wanted = by.iter().fold(Minutes::ZERO, |sum, (_, of)| sum + of.minutes);
        let free = (0..bell.get()).filter(|m| is_free(Minutes::new(*m))).count();
        let there = Minutes::new(i32::try_from(free).unwrap_or(i32::MAX));
        let lack = |l: &TooLittleTime| l.wanted - l.there;
        if wanted > there && worst.as_ref().is_none_or(|w| wanted - there > lack(w)) {
            let by = by.iter().map(|(entry, of)| (*entry, of.minutes)).collect();
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
        let of = |&(entry, minutes, until): &(usize, i32, i32)| {
            let (minutes, until) = (Minutes::new(minutes), Minutes::new(until));
            (EntryNo(entry), ToSetOut { minutes, until })
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
            found.jobs.iter().filter_map(|j| Some(j.set_out.start_by()?.to_string())).collect();
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
        let of: Vec<i32> = found.jobs.iter().map(|job| job.set_out.there.get()).collect();
        assert_eq!(of, [20, 50, 5], "what is lacking, the first lacks");
    }
}
