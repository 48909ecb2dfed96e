//! What has begun by a time of the day. Nobody has told it, so it is presumed: by
//! the plan that people were told, up to that time.

use super::away;
use super::happening::Happening;
use super::happens::refused;
use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::{Lesson, Slip};
use crate::plan::StepPlacement;
use crate::play::minute_of;
use crate::units::{ClockTime, Minute, Minutes};
use crate::words::{capital, number};

/// The minute up to which it has to be presumed what has begun: something has, by
/// a plan, at a time of the day. `None` before anything has.
pub fn presumed(told: (&Lesson, &CheckedPlan), at: ClockTime) -> Option<Minute> {
    let now = minute_of(told.0, at);
    begun(told.1, now).next().is_some().then_some(now)
}

/// Whether something that happens can be planned for while groups are at work, as
/// it is presumed of them, or by so much later as they are known to be. It cannot
/// where what is under way would be other work, or lose the adult it asks for.
///
/// # Errors
/// What would have to be known.
pub fn may_happen_during(
    (lesson, plan): (&Lesson, &CheckedPlan),
    slips: &[Slip],
    happened: &[Happening],
    at: ClockTime,
) -> Result<(), Finding> {
    if is_over(lesson, at) {
        let message = format!("The lesson is over by {at}.");
        return Err(refused(message, "give the time at which it happened"));
    }
    let now = minute_of(lesson, at);
    for what in happened {
        match what {
            Happening::LateStart { period: None, .. } => {
                not_begun((lesson, plan), happened, at)?;
            }
            Happening::Forgotten { group } => {
                let is_it = |s: &&StepPlacement| lesson.group(s.group).name == *group;
                if begun(plan, now).any(|s| is_it(&s)) {
                    let message = format!("{group} has begun by {at} and used its ingredients.");
                    let hint = format!(
                        "let {group} join another group, or make a reserve recipe from {at} on"
                    );
                    return Err(refused(message, hint));
                }
            }
            Happening::AdultAway { adult } => {
                away::may_leave((lesson, plan), slips, adult, at)?;
            }
            _ => {}
        }
    }
    Ok(())
}

/// Refuses to plan anew what by a plan has begun at a time, with what has
/// happened until then: which steps are done and what is under way is not known.
///
/// # Errors
/// What has begun, and what would have to be known.
fn not_begun(
    (lesson, plan): (&Lesson, &CheckedPlan),
    happened: &[Happening],
    at: ClockTime,
) -> Result<(), Finding> {
    let start = lesson.periods[0].start_clock;
    let late = happened.iter().map(|what| match what {
        Happening::LateStart { minutes, period: None } => Minutes::new(*minutes),
        _ => Minutes::default(),
    });
    let now = late.fold(minute_of(lesson, at), |now, late| now - late);
    let mut begun: Vec<&StepPlacement> = begun(plan, now).collect();
    begun.sort_by_key(|s| s.start);
    let Some(first) = begun.first() else { return Ok(()) };
    let clock = start.after(first.start - Minute::BELL);
    let mut groups: Vec<usize> = begun.iter().map(|s| s.group.0).collect();
    groups.sort_unstable();
    groups.dedup();
    let who = match groups.len() {
        1 => format!("{} has begun", lesson.groups[first.group.0].name),
        n => format!("{} groups have begun", capital(&number(n))),
    };
    let message =
        format!("{who} by {at}, the first at {clock}: what is under way is not planned again");
    let hint = format!(
        "it would have to be known which steps are done, which are under way and what stands in \
         which oven; give what happens before {clock}"
    );
    Err(refused(message, hint))
}

/// Whether the last bell of a lesson has gone at a time.
pub fn is_over(lesson: &Lesson, at: ClockTime) -> bool {
    let since = minute_of(lesson, at);
    lesson.periods.last().is_some_and(|last| since >= last.end)
}

/// Steps after the bell that have begun before a minute.
fn begun(plan: &CheckedPlan, now: Minute) -> impl Iterator<Item = &StepPlacement> {
    plan.plan().steps.iter().filter(move |s| Minute::BELL <= s.start && s.start < now)
}
