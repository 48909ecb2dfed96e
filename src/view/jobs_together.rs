//! Jobs as people are told of them: sets weighed one after another are one
//! line, and so are ovens switched on at the same minute.

use super::words::{clock, in_short, list, minutes};
use crate::model::{AdultId, GroupId, Lesson, OvenId, StepId};
use crate::play::{Course, Job, Task};
use crate::units::{Minute, Minutes};

/// Jobs of one adult that are told together: alike, and each as the one before
/// it is over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobsTogether {
    /// The jobs, at least one, in the order of their time.
    pub jobs: Vec<Job>,
}

impl JobsTogether {
    /// Whose; `None` where nobody is named.
    pub fn adult(&self) -> Option<AdultId> {
        self.jobs.first().and_then(|job| job.adult)
    }

    /// Whether that is assumed.
    pub fn is_assumed(&self) -> bool {
        self.jobs.iter().any(|job| job.assumed)
    }

    /// The first must have begun by this minute.
    pub fn start_by(&self) -> Minute {
        self.jobs.first().map_or(Minute::BELL, |job| job.start_by)
    }

    /// The last is over.
    pub fn until(&self) -> Minute {
        self.jobs.last().map_or(Minute::BELL, |job| job.until)
    }

    /// Groups they are done for, each once.
    pub fn groups(&self) -> Vec<GroupId> {
        let mut groups: Vec<GroupId> = self.jobs.iter().filter_map(|job| group(job.task)).collect();
        groups.sort_unstable();
        groups.dedup();
        groups
    }

    /// They are set out for a group that is kept apart, on a covered tray.
    pub fn is_kept_apart(&self, lesson: &Lesson) -> bool {
        let is_set = self.jobs.iter().any(|job| matches!(job.task, Task::Beforehand(..)));
        is_set && self.groups().iter().any(|&group| lesson.group(group).keep_apart)
    }

    /// Ovens that are switched on or set by them.
    pub fn ovens_set(&self) -> Vec<OvenId> {
        let set = |job: &Job| match job.task {
            Task::Set(oven) => Some(oven),
            _ => None,
        };
        self.jobs.iter().filter_map(set).collect()
    }

    /// Minutes of each, if all of them take as long.
    pub fn each(&self) -> Option<Minutes> {
        let mut lengths = self.jobs.iter().map(|job| job.until - job.start_by);
        let first = lengths.next()?;
        lengths.all(|length| length == first).then_some(first)
    }

    /// "weigh beforehand for Unit 1 to Unit 5, one after another, 5 minutes each";
    /// "switch Oven 1 and Oven 2 on".
    pub fn what(&self, lesson: &Lesson, plan: &dyn Course) -> String {
        let Some(first) = self.jobs.first() else { return String::new() };
        match first.task {
            Task::Set(_) => {
                let ovens = self.jobs.iter().filter_map(|job| oven(job.task));
                let ovens: Vec<String> = ovens.map(|id| lesson.ovens[id.0].name.clone()).collect();
                format!("switch {} on", list(&in_short(&ovens)))
            }
            Task::Beforehand(group, step) => {
                let what = step_name(lesson, plan, group, step);
                let names = self.groups().into_iter().map(|id| lesson.group(id).name.clone());
                let names = list(&in_short(&names.collect::<Vec<_>>()));
                let words = format!("{what} beforehand for {names}");
                match self.each() {
                    _ if self.jobs.len() < 2 => words,
                    Some(each) => {
                        let each = minutes(each.get());
                        format!("{words}, one after another, {each} each")
                    }
                    None => format!("{words}, one after another"),
                }
            }
            task => task_words(lesson, plan, task),
        }
    }

    /// "10:05"; "09:20 to 10:00".
    pub fn when(&self, lesson: &Lesson) -> String {
        let (from, until) = (clock(lesson, self.start_by()), clock(lesson, self.until()));
        if from == until { from.to_string() } else { format!("{from} to {until}") }
    }

    /// "8 × 5 min"; "12 min"; nothing for what takes no time worth a minute.
    pub fn length(&self) -> String {
        let whole = self.until() - self.start_by();
        match self.each() {
            _ if whole == Minutes::ZERO => String::new(),
            Some(each) if self.jobs.len() > 1 => format!("{} × {each}", self.jobs.len()),
            _ => whole.to_string(),
        }
    }
}

/// Jobs in the order of their time, those that are alike and follow one another
/// together.
pub fn together(lesson: &Lesson, plan: &dyn Course, jobs: &[Job]) -> Vec<JobsTogether> {
    let mut all: Vec<JobsTogether> = Vec::new();
    for job in jobs {
        let goes_on = |of: &&mut JobsTogether| {
            of.jobs.last().is_some_and(|last| is_next(lesson, plan, last, job))
        };
        match all.iter_mut().find(goes_on) {
            Some(of) => of.jobs.push(*job),
            None => all.push(JobsTogether { jobs: vec![*job] }),
        }
    }
    all
}

/// Whether a job is told with the one before it.
fn is_next(lesson: &Lesson, plan: &dyn Course, before: &Job, job: &Job) -> bool {
    if (before.adult, before.assumed) != (job.adult, job.assumed) {
        return false;
    }
    match (before.task, job.task) {
        (Task::Set(_), Task::Set(_)) => before.start_by == job.start_by,
        (Task::Beforehand(a, one), Task::Beforehand(b, other)) => {
            let (first, then) = (lesson.group(a), lesson.group(b));
            before.until == job.start_by
                && (first.recipe, first.keep_apart) == (then.recipe, then.keep_apart)
                && step_name(lesson, plan, a, one) == step_name(lesson, plan, b, other)
        }
        _ => false,
    }
}

fn group(task: Task) -> Option<GroupId> {
    match task {
        Task::Beforehand(group, _) | Task::With(group, _) => Some(group),
        Task::Set(_) | Task::Class(_) | Task::Door(_) => None,
    }
}

fn oven(task: Task) -> Option<OvenId> {
    match task {
        Task::Set(oven) | Task::Door(oven) => Some(oven),
        Task::Beforehand(..) | Task::Class(_) | Task::With(..) => None,
    }
}

/// A task by itself.
pub fn task_words(lesson: &Lesson, plan: &dyn Course, task: Task) -> String {
    match task {
        Task::Set(oven) => format!("switch {} on", lesson.ovens[oven.0].name),
        Task::Beforehand(group, step) => {
            format!("{} beforehand", step_name(lesson, plan, group, step))
        }
        Task::Class(id) => lesson.class_steps[id.0].name.clone(),
        Task::Door(oven) => format!("stand at the door of {}", lesson.ovens[oven.0].name),
        Task::With(group, step) => {
            let step = step_name(lesson, plan, group, step);
            format!("{step} with {}", lesson.group(group).name)
        }
    }
}

fn step_name(lesson: &Lesson, plan: &dyn Course, group: GroupId, step: StepId) -> String {
    let choice = plan.plan().choice(group);
    let method = choice.map(|choice| lesson.method_of(group, choice.method));
    method.map_or_else(String::new, |method| method.steps[step.0].name.clone())
}
