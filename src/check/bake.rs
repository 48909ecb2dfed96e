//! `bake-time` and `cool-enough`: what heat and patience must do.

use super::rule::{Breaches, Rule};
use super::span::wide;
use super::view::{Placed, Served, View, planned_minutes, shown};
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
        every_tin(view, group, out);
    }
}

fn bake(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let given = step.span.length();
    let what = match step.planned {
        // At a temperature it has no minutes for: told of its tins.
        None if group.tin.is_some_and(|t| t.minutes.is_some()) => return,
        None => "nobody has stated its minutes".to_owned(),
        Some(planned) if planned != given => format!("it takes {planned}"),
        Some(_) => return,
    };
    let message =
        format!("{}: \"{}\" is given {given} min; {what}", group.name(), shown(&step.step.name));
    out.add(Rule::BakeTime, group.id, step.span.start, message);
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
        let at = (Some(tin), load.celsius);
        let takes = planned_minutes(view.lesson, group.group, at, step);
        let what = match (takes, group.planned[bake.0]) {
            (None, _) if tin.minutes.is_some() => {
                let known: Vec<String> = tin.temperatures().map(|c| c.to_string()).collect();
                format!("its minutes are known for {} only", known.join(" and "))
            }
            (Some(takes), Some(other)) if takes != other => {
                format!("there it takes {takes} min; another of its tins takes {other}")
            }
            _ => continue,
        };
        let message = format!(
            "tin {} of {} bakes at {}; {what}",
            u64::from(load.number) + 1,
            group.name(),
            load.celsius
        );
        out.add(Rule::BakeTime, group.id, wide(load.start), message);
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
