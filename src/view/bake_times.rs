//! The times of a bake that people go by: in, door shut, check from, out.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};
use crate::units::{ExactMinutes, Minute};

/// When a group's tins go in, are looked at and come out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BakeTimes {
    /// Loading begins.
    pub load: Minute,
    /// Until then the door stays shut, if the bake is delicate.
    pub shut_until: Option<Minute>,
    /// From then on it is tested: its quick minutes are over, and no door is
    /// to be shut.
    pub check_from: Minute,
    /// Taking out is planned to begin.
    pub take_out: Minute,
    /// It is planned to be out.
    pub out_by: Minute,
}

/// The times of a group's bake; `None` if it does not bake in the plan.
pub fn bake_times(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Option<BakeTimes> {
    let choice = plan.plan().choice(id)?;
    let method = lesson.method_of(id, choice.method);
    let (load, bake, take_out) = method.bake_steps()?;
    let placed = |step| plan.plan().steps.iter().find(|s| s.group == id && s.step == step);
    let (load, baking, out) = (placed(load)?, placed(bake)?, placed(take_out)?);
    let tin = choice.tin.map(|tin| lesson.tin_choice_of(id, tin))?;
    let celsius = plan.plan().loads.iter().find(|l| l.group == id)?.celsius;
    let quick = lesson.minutes_at(&method.steps[bake.0], Some(tin), celsius)?.quick();
    let rules = lesson.recipe_of(id).bake;
    let planned = f64::from((baking.end - baking.start).get());
    let shut_until = rules.shut.map(|stated| {
        let share = ExactMinutes::new(planned).unwrap_or_default().times(rules.shut_share);
        let shut = if share < stated.value { share } else { stated.value };
        baking.start + shut.rounded_up()
    });
    let from = (baking.start + quick.rounded_up()).max(shut_until.unwrap_or(baking.start));
    Some(BakeTimes {
        load: load.start,
        shut_until,
        check_from: from.min(out.start),
        take_out: out.start,
        out_by: out.end,
    })
}
