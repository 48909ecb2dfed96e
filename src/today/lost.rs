//! A bake that is lost because its oven fails.

use crate::check::CheckedPlan;
use crate::keep::{Served, later};
use crate::model::{GroupId, Lesson, Oven};
use crate::units::Minute;

/// The oven that fails while a group's tins are in it by the plan before; `None`
/// where none does.
pub(super) fn failed_oven<'a>(
    before: (&Lesson, &CheckedPlan),
    after: &'a Lesson,
    group: GroupId,
) -> Option<&'a Oven> {
    let name = &after.group(group).name;
    let old = before.0.groups.iter().position(|g| g.name == *name).map(GroupId)?;
    let served = Served::of((before.0, before.1, old))?;
    let later = -later(before.0, after);
    let at = |minute: Minute| minute + later;
    served.loads().iter().find_map(|load| {
        let oven = after.ovens.iter().find(|o| o.name == before.0.ovens[load.oven.0].name)?;
        let fails = oven.out_from.is_some_and(|out| at(load.start) < out && out < at(load.end));
        fails.then_some(oven)
    })
}
