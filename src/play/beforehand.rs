//! Steps done before the bell, one after another: by when each must begin.
//!
//! A plan has each of them as late as it may be, as though everybody had hands
//! of their own. Whoever does them has two: here they are laid backwards from
//! the last, in the order in which they must be over (by earliest due dates, which
//! no other order of one worker's jobs betters), those that may not wait for each
//! other together. What may not be left standing any longer stays where it is,
//! though it then overlaps another.

use super::jobs::{Job, Task};
use super::played_on::Course;
use crate::model::{AdultId, Lesson, Method, StepId, technician};
use crate::plan::StepPlacement;
use crate::units::{Minute, Minutes};

/// Forgiven where a gap is compared with a figure.
const DUST: f64 = 1e-6;

/// Jobs done before the bell. Setting out is the technician's, where there is
/// one; else it is assumed of whoever is there.
pub(super) fn beforehand(lesson: &Lesson, plan: &dyn Course) -> Vec<Job> {
    let told = plan.plan();
    let mut wanted: Vec<Wanted<'_>> = Vec::new();
    for placed in &told.steps {
        let Some(choice) = told.choice(placed.group) else { continue };
        let group = lesson.group(placed.group);
        let method = lesson.method_of(placed.group, choice.method);
        let step = &method.steps[placed.step.0];
        if group.beforehand.contains(&step.name) && step.kind.is_hand() {
            wanted.push(Wanted { adult: whose(lesson, placed), placed, method });
        }
    }
    // What is kept apart is set out before what it must not touch.
    wanted.sort_by_key(|&Wanted { adult, placed: of, .. }| {
        let group = lesson.group(of.group);
        (adult, of.end, !group.keep_apart, of.step, group.recipe, of.group)
    });
    let mut jobs: Vec<Job> = Vec::new();
    let mut last: Option<Wanted<'_>> = None;
    while !wanted.is_empty() {
        let waits = |before: &Wanted<'_>| last.is_some_and(|last| before.may_not_wait_for(&last));
        let at = wanted.iter().rposition(waits).unwrap_or(wanted.len() - 1);
        let of = wanted.remove(at);
        last = Some(of);
        let Wanted { adult, placed, method } = of;
        let next = jobs.iter().filter(|job| job.adult == adult).map(|job| job.start_by).min();
        let start_by = begins(plan, (placed, method), next, &jobs);
        let task = Task::Beforehand(placed.group, placed.step);
        let until = start_by + (placed.end - placed.start);
        jobs.push(Job { task, adult, assumed: true, start_by, until });
    }
    jobs
}

/// A step that is to be laid.
#[derive(Clone, Copy)]
struct Wanted<'a> {
    adult: Option<AdultId>,
    placed: &'a StepPlacement,
    method: &'a Method,
}

impl Wanted<'_> {
    /// Another comes after it within so many minutes.
    fn may_not_wait_for(&self, other: &Wanted<'_>) -> bool {
        let (from, to) = (self.placed.step, other.placed.step);
        let mut links = self.method.links.iter();
        self.placed.group == other.placed.group
            && self.adult == other.adult
            && links.any(|link| (link.from, link.to) == (from, to) && link.longest.is_some())
    }
}

fn whose(lesson: &Lesson, placed: &StepPlacement) -> Option<AdultId> {
    let group = lesson.group(placed.group);
    let all = (0..lesson.adults.len()).map(AdultId);
    technician(&lesson.adults).into_iter().chain(all).find(|&a| {
        group.may_have(placed.group, a, &lesson.adults) && lesson.adults[a.0].is_there(placed.start)
    })
}

/// When a step begins, so that it is over by its plan, by `next` and before the
/// steps that come after it.
fn begins(
    plan: &dyn Course,
    (placed, method): (&StepPlacement, &Method),
    next: Option<Minute>,
    laid: &[Job],
) -> Minute {
    let length = placed.end - placed.start;
    let group = placed.group;
    let placed_of =
        |step: StepId| plan.plan().steps.iter().find(|s| s.group == group && s.step == step);
    // Those that come after it are laid already.
    let start_of = |step: StepId| {
        let job = laid.iter().find(|job| job.task == Task::Beforehand(group, step));
        job.map(|job| job.start_by).or_else(|| placed_of(step).map(|s| s.start))
    };
    let mut start = placed.start;
    if let Some(next) = next {
        start = start.min(next - length);
    }
    for link in method.links.iter().filter(|link| link.from == placed.step) {
        if let Some(to) = start_of(link.to) {
            start = start.min(to - link.least.rounded_up() - length);
        }
    }
    let may_be_left = |start: Minute| {
        let mut links = method.links.iter().filter(|link| link.from == placed.step);
        links.all(|link| match (&link.longest, start_of(link.to)) {
            (Some(longest), Some(to)) => {
                f64::from((to - start - length).get()) <= longest.value.get() + DUST
            }
            _ => true,
        })
    };
    // What happens by itself before it, as proving, is where the plan has it.
    let by_itself = method.links.iter().filter(|link| link.to == placed.step).filter_map(|link| {
        let before = placed_of(link.from)?;
        let step = &method.steps[link.from.0];
        (!step.kind.is_hand()).then(|| before.end + link.least.rounded_up())
    });
    let earliest = by_itself.max();
    while start < placed.start && (!may_be_left(start) || earliest.is_some_and(|e| start < e)) {
        start = start + Minutes::new(1);
    }
    start
}
