//! What is done before the bell, in a calendar: steps of one job in a row are one entry.

use super::{Entry, place, plain, with_class};
use crate::model::{GroupId, Lesson};
use crate::play::{Job, SetOut, Task, jobs};
use crate::units::{ClockTime, Minute};
use crate::view::jobs_together::{JobsTogether, together};
use crate::view::technicians_day::{ForLesson, no_time_for};
use crate::view::words::{capital, list};

/// All of a lesson's as one entry where it is laid beside other lessons', else one for
/// each job.
pub(super) fn beforehand(of: &ForLesson<'_>) -> Vec<Entry> {
    let (lesson, plan) = (of.lesson, of.plan);
    let jobs = jobs(lesson, plan).jobs.into_iter();
    let jobs: Vec<Job> = jobs.filter(|job| matches!(job.task, Task::Beforehand(..))).collect();
    let rows = together(lesson, plan, &jobs);
    let mut counted: Vec<(String, usize)> = Vec::new();
    let mut number = |name: &str| -> usize {
        if let Some((_, n)) = counted.iter_mut().find(|(n, _)| n == name) {
            *n += 1;
            return *n;
        }
        counted.push((name.to_owned(), 1));
        1
    };
    let together: Vec<&[JobsTogether]> = match of.set_out {
        Some(_) => vec![rows.as_slice()],
        None => rows.chunks(1).collect(),
    };
    let entries = together.into_iter().filter(|rows| !rows.is_empty()).map(|rows| {
        let steps = steps(of, rows);
        let first = steps.first().cloned().unwrap_or_default();
        let groups: Vec<GroupId> = rows.iter().flat_map(JobsTogether::groups).collect();
        let recipes = each_once(groups.iter().map(|&g| lesson.recipe_of(g).name.clone()));
        let rooms = each_once(groups.iter().map(|&g| place(lesson, lesson.group(g).room)));
        let what = format!("{} beforehand: {}", capital(&list(&steps)), list(&recipes));
        let (from, until) = span(lesson, rows, of.set_out);
        Entry {
            key: format!("before-{}-{}", plain(&first.to_lowercase()), number(&first)),
            title: with_class(lesson, what),
            more: more(of, rows),
            place: list(&rooms),
            from,
            until,
            is_reminded_of: false,
        }
    });
    entries.collect()
}

fn each_once(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for name in names.filter(|name| !name.is_empty()) {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

/// Names of the steps, each once.
fn steps(of: &ForLesson<'_>, rows: &[JobsTogether]) -> Vec<String> {
    let name = |job: &Job| match job.task {
        Task::Beforehand(group, step) => {
            let choice = of.plan.plan().choice(group)?;
            Some(of.lesson.method_of(group, choice.method).steps[step.0].name.clone())
        }
        _ => None,
    };
    each_once(rows.iter().flat_map(|row| &row.jobs).filter_map(name))
}

fn span(lesson: &Lesson, rows: &[JobsTogether], set_out: Option<SetOut>) -> (Minute, Minute) {
    if let Some(set_out) = set_out {
        let bell = lesson.periods[0].start_clock;
        let minute = |clock: ClockTime| Minute::BELL + clock.minutes_since(bell);
        let from = minute(set_out.at_the_latest());
        return (from, (from + set_out.minutes).min(minute(set_out.until)));
    }
    let from = rows.iter().map(JobsTogether::start_by).min().unwrap_or_default();
    (from, rows.iter().map(JobsTogether::until).max().unwrap_or_default())
}

/// "Weigh beforehand for Pair 1 to Pair 8, one after another, 5 minutes each.", and
/// what there is no time for.
fn more(of: &ForLesson<'_>, rows: &[JobsTogether]) -> String {
    let told = rows.iter().map(|row| {
        let covered = if row.is_kept_apart(of.lesson) { ", on a covered tray" } else { "" };
        format!("{}{covered}", capital(&row.what(of.lesson, of.plan)))
    });
    let lacks = of.set_out.and_then(no_time_for).map(|lacks| capital(&lacks));
    let told: Vec<String> = told.chain(lacks).map(|words| format!("{words}.")).collect();
    told.join(" ")
}
