//! By when each group's tins must be filled and in, at the latest, so that all
//! are still out: what a teacher goes by when a lesson slips.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Method, StepId};
use crate::plan::StepPlacement;
use crate::play::{GroupToGive, to_give};
use crate::units::{Minute, Minutes};

/// A moment of a group: planned, and at the latest, everything else as planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// When it is planned.
    pub planned: Minute,
    /// The latest at which all groups are still out.
    pub latest: Minute,
}

/// What a group has to give, and where that is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slip {
    /// Which group.
    pub group: GroupId,
    /// How many minutes later it may run, all its steps alike.
    pub to_give: i32,
    /// What comes before loading is over; `None` if it does not bake.
    pub filled: Option<Moment>,
    /// Loading begins.
    pub load: Option<Moment>,
}

/// Every served group, in the lesson's order.
pub fn slips(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Slip> {
    to_give(lesson, plan).iter().map(|give| slip(lesson, plan, give)).collect()
}

fn slip(lesson: &Lesson, plan: &CheckedPlan, give: &GroupToGive) -> Slip {
    let choice = plan.plan().choice(give.group);
    let method = choice.map(|choice| lesson.method_of(give.group, choice.method));
    let load = method.and_then(Method::bake_steps).map(|(load, ..)| load);
    let placed = |step: StepId| -> Option<&StepPlacement> {
        plan.plan().steps.iter().find(|s| (s.group, s.step) == (give.group, step))
    };
    let later = |step: StepId| {
        let of = give.steps.iter().find(|of| of.step == step);
        of.map(|of| Minutes::new(of.minutes))
    };
    let moment = |planned: Minute, step| {
        later(step).map(|later| Moment { planned, latest: planned + later })
    };
    let before = method.zip(load).into_iter().flat_map(|(method, load)| {
        method.links.iter().filter(move |link| link.to == load).filter_map(|link| placed(link.from))
    });
    let last = before.max_by_key(|step| (step.end, step.step));
    Slip {
        group: give.group,
        to_give: give.minutes,
        filled: last.and_then(|step| moment(step.end, step.step)),
        load: load.and_then(placed).and_then(|step| moment(step.start, step.step)),
    }
}
