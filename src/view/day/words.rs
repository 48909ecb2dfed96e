//! Groups that are behind, in sentences.

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::{GroupStanding, HeldUp, Help, Standing};
use crate::units::Minute;
use crate::view::words::{capital, clock, clock_in, list, minutes, number};

/// "Unit 3 is 3 behind, still ready 11:01."
pub fn behind_words(lesson: &Lesson, group: &GroupStanding) -> String {
    let (name, behind) = (&lesson.group(group.group).name, group.behind);
    let is = format!("{name} is {behind} behind");
    match group.ready.ready.map(|ready| (ready, at(lesson, group, ready))) {
        None => format!("{is}: nobody is there any more to serve it."),
        Some((ready, clock)) if ready <= group.planned => format!("{is}, still ready {clock}."),
        Some((_, clock)) => {
            format!("{is}, ready {clock} instead of {}.", at(lesson, group, group.planned))
        }
    }
}

/// "At 10:30 it is where the plan has it at 10:26."
pub fn stands_words(lesson: &Lesson, group: &GroupStanding, now: Minute) -> String {
    let (now, by_plan) = (at(lesson, group, now), at(lesson, group, now - group.late()));
    format!("At {now} it is where the plan has it at {by_plan}.")
}

/// "Unit 6: load not before 10:34; waited for the door of Oven 4."
pub fn held_up_words(lesson: &Lesson, plan: &CheckedPlan, held: &HeldUp) -> String {
    let group = lesson.group(held.group);
    let choice = plan.plan().choice(held.group);
    let step = choice.map(|c| &lesson.method_of(held.group, c.method).steps[held.step.0].name);
    let (step, at) = (step.map_or("", String::as_str), clock_in(lesson, group.period, held.until));
    format!("{}: {step} not before {at}; {}.", group.name, held.cause.words(lesson))
}

/// What becomes of the groups that are not out, a sentence each.
pub fn if_nothing(lesson: &Lesson, standing: &Standing) -> Vec<String> {
    let not_out = standing.groups.iter().filter(|g| !g.ready.is_out());
    let words = not_out.map(|g| {
        let name = &lesson.group(g.group).name;
        match g.ready.ready {
            None => format!("{name} is not served any more: nobody is there."),
            Some(_) if g.ready.spare >= 0 => {
                format!("A mixture of {name} waits longer than it may.")
            }
            Some(ready) => {
                let late = usize::try_from(-g.ready.spare).unwrap_or(0);
                let minutes = if late == 1 { "minute" } else { "minutes" };
                format!(
                    "{name} is ready {}, {} {minutes} after the closing steps begin.",
                    at(lesson, g, ready),
                    number(late)
                )
            }
        }
    });
    words.map(|words| capital(&words)).collect()
}

/// "An adult to Unit 3: all are out if it makes up three minutes by 10:31. The technician is
/// free 10:22 to 10:31."
pub fn help_words(lesson: &Lesson, help: &Help) -> String {
    let group = lesson.group(help.made_up.group);
    let (gain, by) = (minutes(help.made_up.gain.get()), clock_in(lesson, group.period, help.by));
    let free = help.free.iter().enumerate().map(|(i, free)| {
        let adult = &lesson.adults[free.adult.0].name;
        let (from, until) = (clock(lesson, free.from), clock(lesson, free.until));
        let is = if i == 0 { " is free" } else { "" };
        format!("the {adult}{is} {from} to {until}")
    });
    let free = capital(&list(&free.collect::<Vec<_>>()));
    format!("An adult to {}: all are out if it makes up {gain} by {by}. {free}.", group.name)
}

fn at(lesson: &Lesson, group: &GroupStanding, minute: Minute) -> String {
    clock_in(lesson, lesson.group(group.group).period, minute).to_string()
}
