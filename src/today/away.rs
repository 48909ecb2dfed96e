//! An adult who is called away.

use super::happens::{Day, refused};
use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::{AdultId, AdultNeed, ClassStep, Lesson, Phase, Slip, Timing};
use crate::plan::StepPlacement;
use crate::play::{Job, Task, late_by, minute_of, occupied};
use crate::units::{ClockTime, Minute, Minutes};
use crate::view::words::clock;
use crate::words::list;

/// What to do about a step of the class that is theirs.
const SOMEBODY_ELSE: &str =
    "name somebody else for it in the lesson, or leave it out, and say it again";

/// They are not there in this lesson.
pub(super) fn all_day(day: &mut Day<'_>, name: &str) -> Result<(), Finding> {
    let adult = adult(day.lesson, name)?;
    takes_no_step(day.lesson, (adult, name), |_| true)?;
    goes(day, adult);
    day.tell(format!("The {name} is away."));
    somebody_is_left(day, name)
}

/// They are there until then and no longer.
pub(super) fn from_then_on(day: &mut Day<'_>, name: &str, at: ClockTime) -> Result<(), Finding> {
    let (lesson, adult) = (day.lesson, adult(day.lesson, name)?);
    let minute = minute_of(lesson, at);
    if !lesson.adults[adult.0].is_there_from(minute) {
        return Err(refused(format!("The {name} is not there from {at} on as it is."), ""));
    }
    if day.file.adults[adult.0].leave_at(minute.get()) {
        let periods = day.file.periods_mut().zip(&lesson.periods);
        for (period, _) in periods.filter(|(_, bells)| minute < bells.start) {
            period.ovens_on_by.take_if(|by| by == name);
        }
    } else {
        goes(day, adult);
    }
    day.tell(format!("The {name} is away from {at} on."));
    if day.why_no_lesson().is_some() {
        takes_no_step(lesson, (adult, name), |step| minute < over_by(lesson, step))?;
    }
    somebody_is_left(day, name)
}

/// Whether a plan that groups are at work by lets them go at a time: it does not while
/// it has them occupied, or somebody asks for an adult near and there is no other, nor
/// where a step of the class that is to come is theirs.
pub(super) fn may_leave(
    (lesson, plan): (&Lesson, &CheckedPlan),
    slips: &[Slip],
    name: &str,
    at: ClockTime,
) -> Result<(), Finding> {
    let Ok(adult) = adult(lesson, name) else { return Ok(()) };
    let (now, jobs) = (minute_of(lesson, at), occupied((lesson, plan), slips, adult));
    for job in jobs.iter().filter(|job| now <= job.start_by) {
        if let Task::Class(step) = job.task {
            let (what, from) = (&lesson.class_steps[step.0].name, clock(lesson, job.start_by));
            let message = format!("The {name} is named for \"{what}\" at {from}.");
            return Err(refused(message, SOMEBODY_ELSE));
        }
    }
    let under_way = |at: Minute| jobs.iter().find(move |j| j.start_by < at && at < j.until);
    if let Some(job) = under_way(now) {
        let mut free = job.until;
        while let Some(job) = under_way(free) {
            free = job.until;
        }
        let (until, free) = (clock(lesson, job.until), clock(lesson, free));
        let message = format!("The {name} is {} until {until}.", at_what(lesson, job));
        return Err(refused(message, format!("say it from {free} on")));
    }
    leaves_nobody_alone((lesson, plan), slips, (adult, now))
}

fn at_what(lesson: &Lesson, job: &Job) -> String {
    match job.task {
        Task::With(group, _) | Task::Beforehand(group, _) => {
            format!("with {}", lesson.group(group).name)
        }
        Task::Door(oven) | Task::Set(oven) => {
            format!("at the door of {}", lesson.ovens[oven.0].name)
        }
        Task::Class(step) => format!("with the class (\"{}\")", lesson.class_steps[step.0].name),
    }
}

/// What is under way and asks for an adult near has another.
fn leaves_nobody_alone(
    (lesson, plan): (&Lesson, &CheckedPlan),
    slips: &[Slip],
    (adult, now): (AdultId, Minute),
) -> Result<(), Finding> {
    for placed in &plan.plan().steps {
        let Some(step) = asks_near(lesson, plan, placed) else { continue };
        let late = |is_before: &dyn Fn(Minute) -> bool| {
            late_by(slips, placed.group, is_before).max(Minutes::ZERO)
        };
        let begun = placed.start + late(&|from| from <= placed.start);
        let over = placed.end + late(&|from| from < placed.end);
        if !(begun < now && now < over) {
            continue;
        }
        let group = lesson.group(placed.group);
        let adults = lesson.adults.iter().enumerate().filter(|(i, _)| *i != adult.0);
        let near: Vec<_> =
            adults.filter(|(_, a)| a.room.is_none_or(|room| room == group.room)).collect();
        let is_near = |minute| near.iter().any(|(_, a)| a.is_there(Minute::new(minute)));
        if !(now.get()..over.get()).all(is_near) {
            let until = clock(lesson, over);
            let message = format!(
                "Nobody else is in the room while {} is at \"{step}\" until {until}.",
                group.name
            );
            let hint = format!("say it from {until} on, or ask somebody else in first");
            return Err(refused(message, hint));
        }
    }
    Ok(())
}

/// The name of a step that asks for an adult near.
fn asks_near<'a>(
    lesson: &'a Lesson,
    plan: &CheckedPlan,
    placed: &StepPlacement,
) -> Option<&'a String> {
    let group = lesson.group(placed.group);
    let method = lesson.method_of(placed.group, plan.plan().choice(placed.group)?.method);
    let step = &method.steps[placed.step.0];
    let outside = group.beforehand.contains(&step.name) || group.collected.contains(&step.name);
    (step.adult == AdultNeed::Near && !outside).then_some(&step.name)
}

fn adult(lesson: &Lesson, name: &str) -> Result<AdultId, Finding> {
    lesson.adults.iter().position(|a| a.name == name).map(AdultId).ok_or_else(|| {
        let all: Vec<String> = lesson.adults.iter().map(|a| a.name.clone()).collect();
        let hint =
            if all.is_empty() { String::new() } else { format!("there are: {}", list(&all)) };
        refused(format!("There is no adult \"{name}\"."), hint)
    })
}

/// Takes them out; what is asked at doors stays asked, though nobody is named any more.
fn goes(day: &mut Day<'_>, adult: AdultId) {
    let at_doors = day.file.adult_at_doors();
    day.file.take_adult_out(adult.0);
    if at_doors != day.file.adult_at_doors() {
        day.file.rules.adult_at_doors = Some(at_doors);
    }
}

/// Of steps of the class that count none is theirs by name.
fn takes_no_step(
    lesson: &Lesson,
    (adult, name): (AdultId, &str),
    counts: impl Fn(&ClassStep) -> bool,
) -> Result<(), Finding> {
    let theirs = lesson.class_steps.iter().filter(|s| s.adults.contains(&adult) && counts(s));
    let theirs: Vec<String> = theirs.map(|s| format!("\"{}\"", s.name)).collect();
    if theirs.is_empty() {
        return Ok(());
    }
    Err(refused(format!("The {name} is named for {}.", list(&theirs)), SOMEBODY_ELSE))
}

/// The minute by which a step of the class is over, wherever it lies.
fn over_by(lesson: &Lesson, step: &ClassStep) -> Minute {
    let planned = |step: &ClassStep| step.minutes.with_caution(lesson.rules.caution).rounded_up();
    let period = &lesson.periods[step.period.0];
    match (step.timing, step.phase) {
        (Timing::At(at), _) => at + planned(step),
        (Timing::Between(_, until), _) => until,
        (Timing::InTurn, Phase::Closing) => period.end,
        (Timing::InTurn, phase) => {
            let all = lesson.class_steps_in(step.period, phase);
            all.fold(period.start, |at, (_, step)| at + planned(step))
        }
    }
}

/// Who is still there is all that the lesson asks for.
fn somebody_is_left(day: &Day<'_>, name: &str) -> Result<(), Finding> {
    let Some(why) = day.why_no_lesson() else { return Ok(()) };
    let message = format!("Without the {name} it cannot be taught: {}.", why.message);
    Err(refused(message, "ask somebody else in, and name them in the lesson first"))
}
