//! What has begun by a time of the day: it can no longer be planned.

use super::happening::Happening;
use super::happens::refused;
use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::Lesson;
use crate::plan::StepPlacement;
use crate::units::{ClockTime, Minute, Minutes};
use crate::words::{capital, number};

/// Refuses to plan anew what by a plan has begun at a time, with what has
/// happened until then: which steps are done and what is under way is not known.
///
/// # Errors
/// What has begun, and what would have to be known.
pub fn not_begun(
    (lesson, plan): (&Lesson, &CheckedPlan),
    happened: &[Happening],
    at: ClockTime,
) -> Result<(), Finding> {
    let start = lesson.periods[0].start_clock;
    let late = happened.iter().map(|what| match what {
        Happening::LateStart { minutes, period: None } => Minutes::new(*minutes),
        _ => Minutes::default(),
    });
    let now = late.fold(Minute::BELL + at.minutes_since(start), |now, late| now - late);
    let under_way = |s: &&StepPlacement| Minute::BELL <= s.start && s.start < now;
    let mut begun: Vec<&StepPlacement> = plan.plan().steps.iter().filter(under_way).collect();
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
    let since = Minute::BELL + at.minutes_since(lesson.periods[0].start_clock);
    lesson.periods.last().is_some_and(|last| since >= last.end)
}
