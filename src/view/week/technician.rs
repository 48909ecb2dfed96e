//! The technician's day in a week: what is done for each lesson of a day as it is
//! planned alone, and when each is set out beside all others.

use chrono::NaiveDate;

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::view::technicians_day::{ForLesson, SetOut, TechniciansDay};
use crate::week::{EntryNo, Report, Setup, Week, setting_up_by};

/// What is done for the lessons of a day that are planned.
pub fn technicians_day(week: &Week, report: &Report, date: NaiveDate) -> TechniciansDay {
    let setup = report.setting_up.iter().find(|setup| setup.date == date);
    let on = report.lessons.iter().filter_map(|told| {
        let entry = week.entry(told.entry).filter(|entry| entry.slot.date == date)?;
        let alone = told.alone.as_ref()?;
        // A file that several classes are taught from may name none of them.
        let mut parts = alone.lesson.clone().into_parts();
        parts.class.name.clone_from(&entry.class);
        let set_out = setup.and_then(|setup| of_entry(setup, entry.number));
        Some((Lesson::new(parts).ok()?, &alone.plan, set_out))
    });
    let on: Vec<(Lesson, &CheckedPlan, Option<SetOut>)> = on.collect();
    let lessons: Vec<ForLesson<'_>> = on
        .iter()
        .map(|(lesson, plan, set_out)| ForLesson { lesson, plan, set_out: *set_out })
        .collect();
    TechniciansDay::of(&lessons)
}

/// When each of some lessons of a week is set out beside the others, by the plans they
/// go by; `None` of those for which nothing is, or nobody does.
pub fn set_outs(week: &Week, planned: &[(EntryNo, &Lesson, &CheckedPlan)]) -> Vec<Option<SetOut>> {
    let days = week.days.iter().filter_map(|day| setting_up_by(week, day.date, planned));
    let days: Vec<Setup> = days.collect();
    let of = |&(entry, ..): &(EntryNo, &Lesson, &CheckedPlan)| {
        days.iter().find_map(|setup| of_entry(setup, entry))
    };
    planned.iter().map(of).collect()
}

fn of_entry(setup: &Setup, entry: EntryNo) -> Option<SetOut> {
    setup.jobs.iter().find(|job| job.entry == entry).map(|job| job.set_out)
}
