//! Lessons as they are taught in a week, and the plans they go by: what sheets, orders
//! and calendars of a week are made of.

use chrono::NaiveDate;

use super::alone::Alone;
use super::model::{Entry, EntryNo, Week};
use super::put::put;
use super::report::Report;
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::file::told::Told;
use crate::keep;
use crate::model::{Lesson, PastBake};

/// Which lessons of a week something is told of: all if nothing else is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ToldOf {
    /// Those of one day.
    pub day: Option<NaiveDate>,
    /// One of them.
    pub entry: Option<EntryNo>,
}

impl ToldOf {
    /// The same as far as the week has lessons of it: all of a day whose one lesson is gone,
    /// all of the week where the day has none.
    #[must_use]
    pub fn in_week(self, week: &Week) -> Self {
        let has = |of: Self| week.entries.iter().any(|e| of.is_of(e) && e.lesson().is_some());
        let less = [self, Self { entry: None, ..self }];
        less.into_iter().find(|of| has(*of)).unwrap_or_default()
    }

    /// Whether an entry is one of them.
    pub fn is_of(&self, entry: &Entry) -> bool {
        self.day.is_none_or(|day| entry.slot.date == day)
            && self.entry.is_none_or(|number| entry.number == number)
    }
}

/// A lesson where the week has it.
#[derive(Debug, Clone)]
pub struct InSlot {
    /// Its entry.
    pub entry: EntryNo,
    /// The lesson, of the class that has it there.
    pub lesson: Lesson,
    /// Its shapes there.
    pub file: LessonFile,
    /// The plan that is kept in its file.
    pub told: Option<Told>,
}

impl InSlot {
    /// The plan it goes by, as [`goes_by`] says.
    pub fn plan(&self, alone: Option<&Alone>) -> Option<CheckedPlan> {
        goes_by(&self.lesson, self.told.as_ref(), alone)
    }
}

/// The plan a lesson of a week goes by: the one kept with it if it holds there, else that
/// of it alone; `None` where there is neither.
pub fn goes_by(lesson: &Lesson, kept: Option<&Told>, alone: Option<&Alone>) -> Option<CheckedPlan> {
    let kept = kept.and_then(|told| keep::told(lesson, told).ok());
    kept.or_else(|| alone.map(|alone| alone.plan.clone()))
}

/// Lessons of a week that can be planned, in the order of time, with what earlier bakes
/// took.
pub fn in_slots(week: &Week, of: ToldOf, past: &[PastBake]) -> Vec<InSlot> {
    let mut entries: Vec<&Entry> = week.entries.iter().filter(|e| of.is_of(e)).collect();
    entries.sort_by_key(|e| (e.slot.date, e.slot.start(), e.slot.rooms.clone(), e.number));
    entries.into_iter().filter_map(|entry| in_slot(week, entry, past)).collect()
}

fn in_slot(week: &Week, entry: &Entry, past: &[PastBake]) -> Option<InSlot> {
    let taught = entry.lesson()?;
    let mut file = put(week, &taught.shapes, &entry.slot).ok()?;
    // A file that several classes are taught from may name none of them.
    file.class.name.clone_from(&entry.class);
    let lesson = lesson_of_shapes(&file, past).ok()?;
    Some(InSlot { entry: entry.number, lesson, file, told: taught.told.clone() })
}

/// The same with the plans they go by, by what is told of the week.
pub fn planned_in_slots(
    (week, report): (&Week, &Report),
    of: ToldOf,
    past: &[PastBake],
) -> Vec<(InSlot, Option<CheckedPlan>)> {
    let alone = |entry: EntryNo| {
        let told = report.lessons.iter().find(|told| told.entry == entry)?;
        told.alone.as_deref()
    };
    let all = in_slots(week, of, past).into_iter();
    all.map(|lesson| {
        let plan = lesson.plan(alone(lesson.entry));
        (lesson, plan)
    })
    .collect()
}
