//! Whose job is what, as JSON and in words.

use serde::Serialize;

use crate::check::CheckedPlan;
use crate::model::{AdultId, GroupId, Lesson, OvenId, StepId};
use crate::play::{Job, Jobs, Task};
use crate::units::Minute;
use crate::view::words::{capital, clock, list};

#[derive(Serialize)]
pub(super) struct SettingJson<'a> {
    oven: &'a str,
    on: i32,
    hot: i32,
    until: i32,
    celsius: f64,
    dial: f64,
}

#[derive(Serialize)]
pub(super) struct JobJson<'a> {
    task: &'static str,
    what: &'a str,
    group: Option<&'a str>,
    adult: Option<&'a str>,
    assumed: bool,
    start_by: i32,
    until: i32,
}

#[derive(Serialize)]
pub(super) struct UnwatchedJson<'a> {
    oven: &'a str,
    from: i32,
    until: i32,
}

pub(super) fn settings_json<'a>(lesson: &'a Lesson, plan: &CheckedPlan) -> Vec<SettingJson<'a>> {
    let settings = plan.plan().settings.iter().map(|s| {
        let oven = &lesson.ovens[s.oven.0];
        SettingJson {
            oven: &oven.name,
            on: s.set_at.get(),
            hot: s.hot_from.get(),
            until: s.until.get(),
            celsius: s.celsius.get(),
            dial: oven.dial(s.celsius),
        }
    });
    settings.collect()
}

pub(super) fn jobs_json<'a>(
    lesson: &'a Lesson,
    plan: &CheckedPlan,
    jobs: &Jobs,
) -> Vec<JobJson<'a>> {
    let json = |job: &Job| JobJson {
        task: name(job.task),
        what: what(lesson, plan, job.task),
        group: match job.task {
            Task::Beforehand(group, _) | Task::With(group, _) => Some(&lesson.group(group).name),
            Task::Set(_) | Task::Class(_) | Task::Door(_) => None,
        },
        adult: job.adult.map(|a| lesson.adults[a.0].name.as_str()),
        assumed: job.assumed,
        start_by: job.start_by.get(),
        until: job.until.get(),
    };
    jobs.jobs.iter().map(json).collect()
}

pub(super) fn unwatched_json<'a>(lesson: &'a Lesson, jobs: &Jobs) -> Vec<UnwatchedJson<'a>> {
    let json = |u: &crate::play::Unwatched| UnwatchedJson {
        oven: &lesson.ovens[u.oven.0].name,
        from: u.from.get(),
        until: u.until.get(),
    };
    jobs.unwatched.iter().map(json).collect()
}

fn name(task: Task) -> &'static str {
    match task {
        Task::Set(_) => "set-oven",
        Task::Beforehand(..) => "beforehand",
        Task::Class(_) => "class-step",
        Task::Door(_) => "door",
        Task::With(..) => "with-group",
    }
}

fn what<'a>(lesson: &'a Lesson, plan: &CheckedPlan, task: Task) -> &'a str {
    let step = |group: GroupId, step: StepId| {
        let choice = plan.plan().choice(group);
        choice.map_or("", |c| lesson.method_of(group, c.method).steps[step.0].name.as_str())
    };
    match task {
        Task::Set(oven) | Task::Door(oven) => &lesson.ovens[oven.0].name,
        Task::Class(id) => &lesson.class_steps[id.0].name,
        Task::Beforehand(group, id) | Task::With(group, id) => step(group, id),
    }
}

/// A line for each kind of job that the lesson names nobody for, and one for
/// the stretches in which an oven is on and no adult is free.
pub(super) fn jobs_words(lesson: &Lesson, plan: &CheckedPlan, jobs: &Jobs) -> Vec<String> {
    let mut kinds: Vec<(Minute, String, Option<AdultId>)> = Vec::new();
    // Who switches ovens on before a bell is told among the remarks.
    let told_already =
        |j: &&Job| matches!(j.task, Task::Set(_)) && lesson.bell_after(j.start_by).is_some();
    for job in jobs.jobs.iter().filter(|j| j.assumed && !told_already(j)) {
        let words = match job.task {
            Task::Set(_) => "switching ovens on".to_owned(),
            Task::Beforehand(..) => format!("{} beforehand", what(lesson, plan, job.task)),
            Task::Class(_) | Task::Door(_) | Task::With(..) => {
                what(lesson, plan, job.task).to_owned()
            }
        };
        if !kinds.iter().any(|(_, known, adult)| (known, *adult) == (&words, job.adult)) {
            kinds.push((job.start_by, words, job.adult));
        }
    }
    let mut lines: Vec<String> = Vec::new();
    let mut adults: Vec<Option<AdultId>> = kinds.iter().map(|k| k.2).collect();
    adults.sort_unstable();
    adults.dedup();
    for adult in adults {
        let of = kinds.iter().filter(|k| k.2 == adult);
        let told: Vec<String> =
            of.map(|(by, words, _)| format!("{words} by {}", clock(lesson, *by))).collect();
        lines.push(match adult {
            Some(adult) => {
                format!("Assumed of the {}: {}", lesson.adults[adult.0].name, list(&told))
            }
            None => format!("{}: nobody is named, and no adult is there", capital(&list(&told))),
        });
    }
    lines.extend(unwatched_words(lesson, jobs));
    lines
}

fn unwatched_words(lesson: &Lesson, jobs: &Jobs) -> Option<String> {
    let mut stretches: Vec<(Minute, Minute, Vec<OvenId>)> = Vec::new();
    for u in &jobs.unwatched {
        match stretches.iter_mut().find(|s| (s.0, s.1) == (u.from, u.until)) {
            Some((_, _, ovens)) => ovens.push(u.oven),
            None => stretches.push((u.from, u.until, vec![u.oven])),
        }
    }
    let told = stretches.iter().map(|(from, until, ovens)| {
        let names: Vec<String> = ovens.iter().map(|o| lesson.ovens[o.0].name.clone()).collect();
        format!("{} {} to {}", list(&names), clock(lesson, *from), clock(lesson, *until))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("On while no adult is free: {}", told.join("; ")))
}
