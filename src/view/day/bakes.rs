//! Bakes along the clock: told to be in, or as planned.

use crate::check::CheckedPlan;
use crate::model::{FactKind, GroupId, Lesson};
use crate::play::{GroupStanding, Standing, planned_minutes};
use crate::units::Minute;

/// A group's bake.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bake {
    /// Whose.
    pub group: GroupId,
    /// From when until when, as it was told, and as it is expected by that.
    pub span: (Minute, Minute),
    /// It was told to be in: it is real.
    pub real: bool,
    /// The same bake in a plan that is looked at, where it is another.
    pub other: Option<(Minute, Minute)>,
}

/// The bakes of a plan, in the lesson's order; beside them those of a plan that is
/// looked at.
pub fn bakes(
    (lesson, plan): (&Lesson, &CheckedPlan),
    standing: &Standing,
    other: Option<(&Lesson, &CheckedPlan)>,
) -> Vec<Bake> {
    let of = |g: &GroupStanding| {
        let planned = span((lesson, plan), g.group)?;
        let name = &lesson.group(g.group).name;
        let other = other.and_then(|(other, plan)| {
            let same = other.groups.iter().position(|g| g.name == *name).map(GroupId)?;
            span((other, plan), same)
        });
        let (from, _) = g.expected(lesson, plan, FactKind::In)?;
        let (_, until) = g.expected(lesson, plan, FactKind::Out)?;
        let (real, span) = (g.is_told(FactKind::In), (from, until.max(from)));
        Some(Bake { group: g.group, span, real, other: other.filter(|o| *o != planned) })
    };
    standing.groups.iter().filter_map(of).collect()
}

fn span((lesson, plan): (&Lesson, &CheckedPlan), group: GroupId) -> Option<(Minute, Minute)> {
    let (from, _) = planned_minutes(lesson, plan, group, FactKind::In)?;
    let (_, until) = planned_minutes(lesson, plan, group, FactKind::Out)?;
    Some((from, until))
}
