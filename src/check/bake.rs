//! `bake-time` and `cool-enough`: what heat and patience must do.

use super::breach::Breaches;
use super::fault::BakeFault;
use super::span::{to_minutes, wide};
use super::view::{Placed, Served, View, planned_minutes, tin_of};
use crate::model::StepKind;
use crate::plan::Rule;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        for step in group.steps() {
            match step.step.kind {
                StepKind::Bake => bake(group, step, out),
                StepKind::Cool => cool(group, step, out),
                StepKind::Hand | StepKind::Wait | StepKind::Load | StepKind::TakeOut => {}
            }
        }
        every_tin(view, group, out);
    }
}

fn bake(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let (of, given) = (group.step_of(step.id), step.span.minutes());
    let fault = match step.planned {
        // At a temperature it has no minutes for: told of its tins.
        None if group.tin.is_some_and(|t| t.minutes.is_some()) => return,
        None => BakeFault::Unstated { step: of, given },
        Some(planned) if planned != step.span.length() => {
            BakeFault::Lasts { step: of, given, takes: to_minutes(planned) }
        }
        Some(_) => return,
    };
    out.add(Rule::BakeTime, group.id, step.span.start, fault);
}

/// Every tin stands at a temperature at which its minutes are known, and gets
/// those. A temperature its recipe would not bear is a breach of `temperature`
/// and not said twice.
fn every_tin(view: &View<'_>, group: &Served<'_>, out: &mut Breaches) {
    let (Some(tin), Some((_, bake, _))) = (group.tin, group.method.bake_steps()) else {
        return;
    };
    let step = &group.method.steps[bake.0];
    for load in &group.loads {
        let off = (load.celsius - tin.celsius).get().abs();
        if off > group.recipe.bake.tolerance.get() + 1e-6 {
            continue;
        }
        let takes = planned_minutes(view.lesson, group.group, (Some(tin), load.celsius), step);
        let (of, at) = (tin_of(load), load.celsius);
        let fault = match (takes, group.planned[bake.0]) {
            (None, _) if tin.minutes.is_some() => {
                BakeFault::Unknown { tin: of, at, known: tin.temperatures().collect() }
            }
            (Some(takes), Some(other)) if takes != other => {
                let (takes, other) = (to_minutes(takes), to_minutes(other));
                BakeFault::TinsDiffer { tin: of, at, takes, other }
            }
            _ => continue,
        };
        out.add(Rule::BakeTime, group.id, wide(load.start), fault);
    }
}

fn cool(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    if let Some(planned) = step.planned.filter(|&p| step.span.length() < p) {
        let fault = BakeFault::CoolsTooShort {
            step: group.step_of(step.id),
            given: step.span.minutes(),
            start: step.span.first(),
            takes: to_minutes(planned),
        };
        out.add(Rule::CoolEnough, group.id, step.span.start, fault);
    }
}
