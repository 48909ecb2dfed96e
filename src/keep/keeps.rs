//! How much of its plan a group keeps from one plan to another.

use super::served::Served;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};
use crate::units::Minutes;

/// What a group keeps, from nothing to all of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Keeps {
    /// Not even its oven.
    Nothing,
    /// Recipe, method, tin, oven and shelf.
    Place,
    /// These, and when its tins go in and come out.
    Bake,
    /// These, and the time of every step.
    All,
}

/// What a group keeps that is served in both plans; `None` if it is not served
/// in one of them. Groups, ovens, methods, tins and steps are compared by their
/// names, times by the clock.
pub fn keeps(
    before: (&Lesson, &CheckedPlan, GroupId),
    after: (&Lesson, &CheckedPlan, GroupId),
) -> Option<Keeps> {
    let (was, is) = (Served::of(before)?, Served::of(after)?);
    let later = later(before.0, after.0);
    Some(if was.choice() != is.choice() || was.places() != is.places() {
        Keeps::Nothing
    } else if was.bakes() != is.bakes_later(later) {
        Keeps::Place
    } else if was.steps() != is.steps_later(later) {
        Keeps::Bake
    } else {
        Keeps::All
    })
}

/// By how much a lesson begins later than another.
pub fn later(before: &Lesson, after: &Lesson) -> Minutes {
    after.periods[0].start_clock.minutes_since(before.periods[0].start_clock)
}
