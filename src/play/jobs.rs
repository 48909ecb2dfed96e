//! Whose job is what: what a plan asks of adults, by when, and when something
//! is hot and no adult is free.
//!
//! Nobody is named in a lesson for some of it. It is then told as assumed of
//! whoever is there, or that nobody is named for it: before a bell nobody is
//! assumed to be there.

use super::beforehand::beforehand;
use super::played_on::Course;
use super::slips::late_by;
use crate::check::CheckedPlan;
use crate::model::{AdultId, ClassStepId, GroupId, Lesson, OvenId, Slip, StepId, technician};
use crate::units::{Minute, Minutes};

/// Something an adult does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// Switches an oven on, or sets it to another temperature.
    Set(OvenId),
    /// A step of a group done before the start bell. Of one adult they follow one
    /// another.
    Beforehand(GroupId, StepId),
    /// Takes a step of the class.
    Class(ClassStepId),
    /// Stands at an open door.
    Door(OvenId),
    /// Is with a group for a step.
    With(GroupId, StepId),
}

/// A job: a task, whose it is and by when it must begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Job {
    /// The task.
    pub task: Task,
    /// Whose; `None` where nobody is named and nobody is there, or the bell has not
    /// gone.
    pub adult: Option<AdultId>,
    /// Nobody is named in the lesson: whose it is is assumed.
    pub assumed: bool,
    /// It must have begun by this minute.
    pub start_by: Minute,
    /// It is over.
    pub until: Minute,
}

/// A stretch in which an oven is on and no adult is free for it: each is away,
/// with a group, or takes the class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unwatched {
    /// The oven.
    pub oven: OvenId,
    /// From.
    pub from: Minute,
    /// Until.
    pub until: Minute,
}

/// All jobs and all unwatched stretches, in the order of their time.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Jobs {
    /// The jobs.
    pub jobs: Vec<Job>,
    /// Stretches in which something hot is not watched.
    pub unwatched: Vec<Unwatched>,
}

/// What a plan asks of adults.
pub fn jobs(lesson: &Lesson, plan: &dyn Course) -> Jobs {
    let mut jobs = named(lesson, plan);
    let told = plan.plan();
    for setting in &told.settings {
        let room = lesson.ovens[setting.oven.0].room;
        let there = || {
            lesson.adults.iter().position(|a| {
                a.attached_to.is_none()
                    && a.room.is_none_or(|r| r == room)
                    && a.is_there(setting.set_at)
            })
        };
        let (adult, assumed) = match lesson.bell_after(setting.set_at) {
            Some(period) => {
                let named = lesson.periods[period.0].ovens_on_by;
                // Setting up is the technician's, where there is one by then.
                let there = |a: &AdultId| lesson.adults[a.0].is_there(setting.set_at);
                let technician = technician(&lesson.adults).filter(there);
                (named.or(technician), named.is_none())
            }
            None => (there().map(AdultId), true),
        };
        jobs.push(Job {
            task: Task::Set(setting.oven),
            adult,
            assumed,
            start_by: setting.set_at,
            until: setting.set_at,
        });
    }
    jobs.extend(beforehand(lesson, plan));
    jobs.sort_by_key(|j| (j.start_by, j.task, j.until));
    Jobs { unwatched: unwatched(lesson, plan), jobs }
}

/// Jobs of adults whom lesson and plan name, and the class's steps.
fn named(lesson: &Lesson, plan: &dyn Course) -> Vec<Job> {
    let told = plan.plan();
    let mut jobs = Vec::new();
    for placed in &told.class_steps {
        let step = &lesson.class_steps[placed.step.0];
        let (task, start_by, until) = (Task::Class(placed.step), placed.start, placed.end);
        let mut add = |adult, assumed| {
            jobs.push(Job { task, adult, assumed, start_by, until });
        };
        if step.adults.is_empty() {
            let there = |a: &crate::model::Adult| a.attached_to.is_none() && a.is_there(start_by);
            add(lesson.adults.iter().position(there).map(AdultId), true);
        }
        for &adult in &step.adults {
            add(Some(adult), false);
        }
    }
    for step in &told.steps {
        if let Some(adult) = step.adult {
            let task = Task::With(step.group, step.step);
            let (start_by, until) = (step.start, step.end);
            jobs.push(Job { task, adult: Some(adult), assumed: false, start_by, until });
        }
    }
    let mut watches = told.door_watches.clone();
    watches.sort_by_key(|w| (w.oven, w.adult, w.minute));
    for watch in watches {
        let (task, adult) = (Task::Door(watch.oven), Some(watch.adult));
        let until = watch.minute + Minutes::new(1);
        match jobs.last_mut() {
            Some(last) if (last.task, last.adult, last.until) == (task, adult, watch.minute) => {
                last.until = until;
            }
            _ => jobs.push(Job { task, adult, assumed: false, start_by: watch.minute, until }),
        }
    }
    jobs
}

/// What occupies an adult by a plan: a step with a group, an open door, a step of the
/// class that is theirs by name. That of groups that are behind is so much later.
pub fn occupied(
    (lesson, plan): (&Lesson, &CheckedPlan),
    slips: &[Slip],
    adult: AdultId,
) -> Vec<Job> {
    let jobs = named(lesson, plan).into_iter().filter(|j| j.adult == Some(adult) && !j.assumed);
    let later = |job: Job| {
        let groups: Vec<GroupId> = match job.task {
            Task::With(group, _) => vec![group],
            Task::Door(oven) => {
                let loads = plan.plan().loads.iter().filter(|l| l.oven == oven);
                let at_door = loads.filter(|l| l.start <= job.until && job.start_by <= l.end);
                at_door.map(|l| l.group).collect()
            }
            Task::Set(_) | Task::Beforehand(..) | Task::Class(_) => Vec::new(),
        };
        let late = |is_before: &dyn Fn(Minute) -> bool| {
            groups
                .iter()
                .map(|&g| late_by(slips, g, is_before).max(Minutes::ZERO))
                .collect::<Vec<_>>()
        };
        let began = late(&|from| from <= job.start_by).into_iter().min();
        let ends = late(&|from| from < job.until).into_iter().max();
        let start_by = job.start_by + began.unwrap_or(Minutes::ZERO);
        Job { start_by, until: job.until + ends.unwrap_or(Minutes::ZERO), ..job }
    };
    jobs.map(later).collect()
}

fn unwatched(lesson: &Lesson, plan: &dyn Course) -> Vec<Unwatched> {
    let busy = busy(lesson, plan);
    // A plan from a file may leave an oven on without end; after the last bell nobody is asked.
    let last = lesson.periods.iter().map(|p| p.end).max().unwrap_or_default();
    let mut found: Vec<Unwatched> = Vec::new();
    for setting in &plan.plan().settings {
        let room = lesson.ovens[setting.oven.0].room;
        let free = |minute: Minute| {
            lesson.adults.iter().enumerate().any(|(i, a)| {
                a.room.is_none_or(|r| r == room)
                    && a.is_there(minute)
                    && !busy[i].iter().any(|&(from, until)| from <= minute && minute < until)
            })
        };
        let mut minute = setting.set_at;
        while minute < setting.until.min(last) {
            let next = minute + Minutes::new(1);
            if !free(minute) {
                match found.last_mut() {
                    Some(last) if (last.oven, last.until) == (setting.oven, minute) => {
                        last.until = next;
                    }
                    _ => found.push(Unwatched { oven: setting.oven, from: minute, until: next }),
                }
            }
            minute = next;
        }
    }
    found.sort_by_key(|u| (u.from, u.oven));
    found
}

/// By adult: when a group or the class has them. Who stands at an open door
/// watches what is hot.
pub fn busy(lesson: &Lesson, plan: &dyn Course) -> Vec<Vec<(Minute, Minute)>> {
    let mut busy = vec![Vec::new(); lesson.adults.len()];
    for job in named(lesson, plan).into_iter().filter(|j| !j.assumed) {
        if let (Some(adult), Task::Class(_) | Task::With(..)) = (job.adult, job.task) {
            busy[adult.0].push((job.start_by, job.until));
        }
    }
    busy
}
