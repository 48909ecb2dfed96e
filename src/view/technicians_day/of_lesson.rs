//! What is done for one lesson by its plan.

use super::super::jobs_together::{JobsTogether, together};
use super::super::words::{clock, in_short, list};
use super::still_on::{StillOn, told_of};
use super::{Duty, ForLesson};
use crate::check::CheckedPlan;
use crate::model::{AdultId, GroupId, Lesson, OvenId, RoomId, technician};
use crate::play::{Job, Task, jobs};
use crate::units::{ClockTime, Minute, Minutes};
use crate::words::capital;

/// A duty with its stretch in minutes of the lesson.
pub(super) type InLesson = (Duty, Minute, Minute);

/// What is done for a lesson: what the technician does, what nobody is named for, and
/// all that is done before its bell where that is set out beside others.
pub(super) fn duties_of(
    &ForLesson { lesson, plan, .. }: &ForLesson<'_>,
    is_set_out: bool,
    before: &dyn Fn(OvenId, Minute) -> Option<StillOn>,
) -> Vec<InLesson> {
    let them = technician(&lesson.adults);
    let wanted = |job: &Job| match (job.task, job.adult) {
        (Task::Beforehand(..), _) if is_set_out => true,
        (_, Some(adult)) => Some(adult) == them,
        // What the whole class does is the teacher's.
        (task, None) => !matches!(task, Task::Class(_)),
    };
    let (mut still_on, mut others) = (Vec::new(), Vec::new());
    for job in jobs(lesson, plan).jobs.into_iter().filter(wanted) {
        let on = match job.task {
            Task::Set(oven) => before(oven, job.start_by),
            _ => None,
        };
        match on {
            Some(on) => still_on.push((job, on)),
            None => others.push(job),
        }
    }
    let told = together(lesson, plan, &others).into_iter();
    let mut all: Vec<InLesson> = told.map(|of| duty(lesson, plan, them, &of)).collect();
    for (job, oven, what) in told_of(lesson, &still_on) {
        let (room, is_theirs) = (lesson.ovens[oven.0].room, job.adult.is_some());
        let span = (job.start_by, job.start_by);
        let made = made(lesson, span, String::new(), capital(&what), Some(room), is_theirs);
        all.push((made, span.0, span.1));
    }
    all.extend(after_the_bell(lesson, plan, them));
    all
}

fn duty(lesson: &Lesson, plan: &CheckedPlan, them: Option<AdultId>, of: &JobsTogether) -> InLesson {
    let is_set = of.jobs.iter().any(|job| matches!(job.task, Task::Beforehand(..)));
    let covered = if of.is_kept_apart(lesson) { ": kept apart, on a covered tray" } else { "" };
    let what = capital(&format!("{}{covered}", of.what(lesson, plan)));
    let first = of.jobs.first().map(|job| job.task);
    let room = first.and_then(|task| room_of(lesson, task, of.adult()));
    let (from, until) = (of.start_by(), of.until());
    let is_theirs = of.adult().is_some() && of.adult() == them;
    let made = made(lesson, (from, until), of.length(), what, room, is_theirs);
    (Duty { is_set, ..made }, from, until)
}

fn made(
    lesson: &Lesson,
    (from, until): (Minute, Minute),
    length: String,
    what: String,
    room: Option<RoomId>,
    is_theirs: bool,
) -> Duty {
    let bell = lesson
        .periods
        .first()
        .map_or(0, |period| period.start_clock.minutes_since(ClockTime::MIDNIGHT).get());
    Duty {
        date: lesson.date,
        start_by: clock(lesson, from),
        length,
        what,
        room: room.map_or_else(String::new, |room| lesson.rooms[room.0].name.clone()),
        lesson: lesson.title.clone(),
        is_theirs,
        span: (bell + from.get(), bell + until.get()),
        set_out: None,
        is_set: false,
    }
}

fn room_of(lesson: &Lesson, task: Task, adult: Option<AdultId>) -> Option<RoomId> {
    match task {
        Task::Set(oven) | Task::Door(oven) => Some(lesson.ovens[oven.0].room),
        Task::Beforehand(group, _) | Task::With(group, _) => Some(lesson.group(group).room),
        Task::Class(_) => {
            let own = adult.and_then(|adult| lesson.adults[adult.0].room);
            own.or_else(|| (lesson.rooms.len() == 1).then_some(RoomId(0)))
        }
    }
}

/// Steps that are done for groups after the bell: from when, and how long all of
/// them take one person.
fn after_the_bell(lesson: &Lesson, plan: &CheckedPlan, them: Option<AdultId>) -> Vec<InLesson> {
    let mut alike: Vec<(String, Minute, Vec<Minutes>, Vec<GroupId>)> = Vec::new();
    for placed in &plan.plan().steps {
        let Some(choice) = plan.plan().choice(placed.group) else { continue };
        let group = lesson.group(placed.group);
        let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0];
        if !group.collected.contains(&step.name) || !step.kind.is_hand() {
            continue;
        }
        let length = placed.end - placed.start;
        match alike.iter_mut().find(|(name, ..)| *name == step.name) {
            Some((_, from, lengths, groups)) => {
                *from = (*from).min(placed.start);
                lengths.push(length);
                groups.push(placed.group);
            }
            None => {
                alike.push((step.name.clone(), placed.start, vec![length], vec![placed.group]));
            }
        }
    }
    let told = alike.into_iter().map(|(name, from, lengths, groups)| {
        let all = lengths.iter().fold(Minutes::ZERO, |all, &one| all + one);
        let same = lengths.windows(2).all(|pair| pair[0] == pair[1]);
        let length = match lengths.as_slice() {
            [one, _, ..] if same => format!("{} × {one}", lengths.len()),
            _ => all.to_string(),
        };
        let names: Vec<String> = groups.iter().map(|&g| lesson.group(g).name.clone()).collect();
        let what = format!("After the bell: {name} for {}", list(&in_short(&names)));
        let room = groups.first().map(|&g| lesson.group(g).room);
        let span = (from, from + all);
        (made(lesson, span, length, what, room, them.is_some()), span.0, span.1)
    });
    told.collect()
}
