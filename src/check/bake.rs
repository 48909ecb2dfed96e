//! `bake-time` and `cool-enough`: what heat and patience must do.

use super::rule::{Breaches, Rule};
use super::span::wide;
use super::view::{Placed, Served, View, shown};
use crate::model::StepKind;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        for step in group.steps() {
            match step.step.kind {
                StepKind::Bake => bake(group, step, out),
                StepKind::Cool => cool(group, step, out),
                StepKind::Hand | StepKind::Wait | StepKind::Load | StepKind::TakeOut => {}
            }
        }
        own_temperature(group, out);
    }
}

fn bake(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let given = step.span.length();
    let what = match step.planned {
        None => "nobody has stated its minutes".to_owned(),
        Some(planned) if planned != given => format!("it takes {planned}"),
        Some(_) => return,
    };
    let message =
        format!("{}: \"{}\" is given {given} min; {what}", group.name(), shown(&step.step.name));
    out.add(Rule::BakeTime, group.id, step.span.start, message);
}

/// The minutes hold at the tin's own temperature; for another that its recipe
/// would bear they are not known. One it would not bear is a breach of
/// `temperature` and not said twice.
fn own_temperature(group: &Served<'_>, out: &mut Breaches) {
    let Some(tin) = group.tin else {
        return;
    };
    for load in &group.loads {
        let off = (load.celsius - tin.celsius).get().abs();
        if off > 1e-6 && off <= group.recipe.bake.tolerance.get() + 1e-6 {
            let message = format!(
                "tin {} of {} bakes at {}; its minutes are stated for {}",
                u64::from(load.number) + 1,
                group.name(),
                load.celsius,
                tin.celsius
            );
            out.add(Rule::BakeTime, group.id, wide(load.start), message);
        }
    }
}

fn cool(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let given = step.span.length();
    if let Some(planned) = step.planned.filter(|&p| given < p) {
        let message = format!(
            "{}: \"{}\" is given {given} min from minute {}; it takes {planned} at least",
            group.name(),
            shown(&step.step.name),
            step.span.start
        );
        out.add(Rule::CoolEnough, group.id, step.span.start, message);
    }
}
