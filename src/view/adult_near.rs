//! When an adult is wanted in the room, who need not do anything with it.

use crate::check::CheckedPlan;
use crate::model::{Adult, AdultNeed, Lesson};
use crate::units::Minute;

/// Stretches in which steps ask for an adult near while this one is there,
/// joined where they meet. Steps done outside the bells ask for none.
pub fn wanted_near(lesson: &Lesson, plan: &CheckedPlan, adult: &Adult) -> Vec<(Minute, Minute)> {
    let mut spans: Vec<(Minute, Minute)> = Vec::new();
    for placed in &plan.plan().steps {
        let group = lesson.group(placed.group);
        let Some(choice) = plan.plan().choice(placed.group) else { continue };
        let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0];
        let outside = group.beforehand.contains(&step.name) || group.collected.contains(&step.name);
        let in_room = adult.room.is_none_or(|room| room == group.room);
        if step.adult == AdultNeed::Near && in_room && !outside && placed.start < placed.end {
            for &(from, until) in &adult.hours {
                let span = (placed.start.max(from), placed.end.min(until));
                if span.0 < span.1 {
                    spans.push(span);
                }
            }
        }
    }
    spans.sort_unstable();
    let mut joined: Vec<(Minute, Minute)> = Vec::new();
    for (from, until) in spans {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(until),
            _ => joined.push((from, until)),
        }
    }
    joined
}
