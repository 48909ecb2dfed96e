//! The bars of a board that a cause of lateness is about.

use std::collections::BTreeSet;

use crate::check::CheckedPlan;
use crate::model::{AdultNeed, GroupId, Lesson, Phase, Step, StepKind};
use crate::plan::StepPlacement;
use crate::play::Cause;
use crate::view::board::BarId;

/// The bars of a plan's board that a cause is about.
pub(super) fn bars_of(lesson: &Lesson, plan: &CheckedPlan, cause: &Cause) -> BTreeSet<BarId> {
    let plan = plan.plan();
    let of_phase = |phase: Phase| -> BTreeSet<BarId> {
        let class = plan.class_steps.iter().map(|placed| placed.step);
        class.filter(|s| lesson.class_steps[s.0].phase == phase).map(BarId::Class).collect()
    };
    let steps = |is_it: &dyn Fn(&StepPlacement, &Step) -> bool| -> BTreeSet<BarId> {
        let placed = plan.steps.iter().filter(|placed| {
            let choice = plan.choice(placed.group);
            let method = choice.map(|c| lesson.method_of(placed.group, c.method));
            method.is_some_and(|m| is_it(placed, &m.steps[placed.step.0]))
        });
        placed.map(|placed| BarId::Step(placed.group, placed.step)).collect()
    };
    let at_a_door = |step: &Step| matches!(step.kind, StepKind::Load | StepKind::TakeOut);
    let stands_in =
        |group: GroupId, oven| plan.loads.iter().any(|l| l.group == group && l.oven == oven);
    match cause {
        Cause::Step(name) => steps(&|_, step| step.name == *name),
        Cause::Bake(recipe) => steps(&|placed, step| {
            step.kind == StepKind::Bake && lesson.recipe_of(placed.group).name == *recipe
        }),
        Cause::ClassStep(step) => BTreeSet::from([BarId::Class(*step)]),
        Cause::Opening => of_phase(Phase::Opening),
        Cause::Closing => of_phase(Phase::Closing),
        Cause::Stop => of_phase(Phase::During),
        Cause::Kit(kit) => steps(&|_, step| step.kit.iter().any(|(of, _)| of == kit)),
        Cause::Tin(tin) => steps(&|placed, step| {
            let choice = plan.choice(placed.group).and_then(|c| c.tin);
            let in_it = choice.map(|t| lesson.tin_choice_of(placed.group, t).tin);
            step.kind == StepKind::Load && in_it == Some(*tin)
        }),
        Cause::Adult(adult) => steps(&|placed, _| placed.adult == Some(*adult)),
        Cause::AnyAdult => steps(&|_, step| step.adult == AdultNeed::Near),
        Cause::Place(oven) => {
            steps(&|placed, step| step.kind == StepKind::Bake && stands_in(placed.group, *oven))
        }
        Cause::Door(oven) => {
            steps(&|placed, step| at_a_door(step) && stands_in(placed.group, *oven))
        }
        Cause::Call => steps(&|_, step| step.kind == StepKind::Load),
        Cause::Looking => steps(&|_, step| step.kind == StepKind::TakeOut),
    }
}
