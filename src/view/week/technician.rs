//! The technician's day in a week: what is done for each lesson of a day as it is
//! planned alone, and when each is set out beside all others.

use chrono::NaiveDate;

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::view::technicians_day::{SetOut, TechniciansDay};
use crate::week::{EntryNo, Report, Week};

/// What is done for the lessons of a day that are planned.
pub fn technicians_day(week: &Week, report: &Report, date: NaiveDate) -> TechniciansDay {
    let setup = report.setting_up.iter().find(|setup| setup.date == date);
    let set_out = |entry: EntryNo| -> Option<SetOut> {
        let job = setup?.jobs.iter().find(|job| job.entry == entry)?;
        Some((job.start_by?, job.minutes))
    };
    let on = report.lessons.iter().filter_map(|told| {
        let entry = week.entry(told.entry).filter(|entry| entry.slot.date == date)?;
        let alone = told.alone.as_ref()?;
        // A file that several classes are taught from may name none of them.
        let mut parts = alone.lesson.clone().into_parts();
        parts.class.name.clone_from(&entry.class);
        Some((Lesson::new(parts).ok()?, &alone.plan, set_out(entry.number)))
    });
    let on: Vec<(Lesson, &CheckedPlan, Option<SetOut>)> = on.collect();
    let lessons: Vec<_> = on.iter().map(|(lesson, plan, set)| (lesson, *plan, *set)).collect();
    TechniciansDay::laid(&lessons)
}
