//! What is set out for several lessons of a day, laid beside each other where no week
//! has done so.

use super::ForLesson;
use crate::model::{Adult, Lesson, technician};
use crate::play::{Job, SetOut, Task, ToSetOut, jobs, set_out};
use crate::units::{ClockTime, Minute, Minutes};

/// A lesson of a day as the technician has to do with it.
struct OfDay<'a> {
    /// Its place among all lessons.
    number: usize,
    lesson: &'a Lesson,
    adult: &'a Adult,
    /// What is theirs in it.
    jobs: Vec<Job>,
}

impl OfDay<'_> {
    fn bell(&self) -> Minutes {
        self.lesson.periods[0].start_clock.minutes_since(ClockTime::MIDNIGHT)
    }

    /// A minute of the day as the lesson counts.
    fn minute(&self, of_day: Minutes) -> Minute {
        Minute::BELL + (of_day - self.bell())
    }

    /// How long their setting out takes.
    fn to_set_out(&self) -> Minutes {
        let set = self.jobs.iter().filter(|job| matches!(job.task, Task::Beforehand(..)));
        set.fold(Minutes::ZERO, |all, job| all + (job.until - job.start_by))
    }

    /// Whether a minute is fixed for something else by its plan.
    fn is_busy(&self, minute: Minute) -> bool {
        let is_fixed = |job: &&Job| {
            !job.assumed && matches!(job.task, Task::Class(_) | Task::With(..) | Task::Door(_))
        };
        let mut fixed = self.jobs.iter().filter(is_fixed);
        fixed.any(|job| job.start_by <= minute && minute < job.until)
    }
}

/// When lessons are set out: as is known of them, or laid beside the others of their
/// day. One that is alone on its day has its own minutes, step by step.
pub fn set_outs(lessons: &[ForLesson<'_>]) -> Vec<Option<SetOut>> {
    let mut all: Vec<Option<SetOut>> = lessons.iter().map(|of| of.set_out).collect();
    let mut dates: Vec<_> = lessons.iter().map(|of| of.lesson.date).collect();
    dates.sort_unstable();
    dates.dedup();
    for date in dates {
        let on = lessons.iter().enumerate().filter(|(_, of)| of.lesson.date == date);
        let on = on.filter_map(|(number, &ForLesson { lesson, plan, .. })| {
            let id = technician(&lesson.adults)?;
            let theirs = jobs(lesson, plan).jobs.into_iter().filter(|job| job.adult == Some(id));
            Some(OfDay { number, lesson, adult: &lesson.adults[id.0], jobs: theirs.collect() })
        });
        let on: Vec<OfDay<'_>> = on.collect();
        let known: Vec<SetOut> = on.iter().filter_map(|of| all[of.number]).collect();
        let is_open = |of: &&OfDay<'_>| all[of.number].is_none() && of.to_set_out() > Minutes::ZERO;
        let mut open: Vec<&OfDay<'_>> = on.iter().filter(is_open).collect();
        if open.len() + known.len() < 2 {
            continue;
        }
        open.sort_by_key(|of| of.bell());
        let work: Vec<ToSetOut> =
            open.iter().map(|of| ToSetOut { minutes: of.to_set_out(), until: of.bell() }).collect();
        let is_taken = |minute: Minutes| {
            let from = |of: &SetOut| Some(of.begins?.minutes_since(ClockTime::MIDNIGHT));
            known.iter().any(|of| from(of).is_some_and(|f| f <= minute && minute < f + of.there))
        };
        let is_free = |i: usize, minute: Minutes| {
            let of: &OfDay<'_> = open[i];
            of.adult.is_there(of.minute(minute))
                && !is_taken(minute)
                && !on.iter().any(|of| of.is_busy(of.minute(minute)))
        };
        for (of, laid) in open.iter().zip(set_out(&work, &is_free)) {
            all[of.number] = Some(laid);
        }
    }
    all
}
