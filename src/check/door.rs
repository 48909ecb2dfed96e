//! `door`: it stays shut while a delicate bake needs it.

use super::breach::Breaches;
use super::fault::DoorFault;
use super::span::Span;
use super::view::{Served, View};
use crate::plan::Rule;
use crate::units::ExactMinutes;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        let Some(shut) = shut(view, group) else {
            continue;
        };
        let ovens = group.ovens();
        for opening in view.openings.iter().filter(|o| o.span.meets(shut)) {
            if !ovens.iter().any(|&(oven, _)| oven == opening.oven) {
                continue;
            }
            let fault = DoorFault {
                opener: opening.group,
                oven: opening.oven,
                span: opening.span,
                loading: opening.loading,
                baker: group.id,
                shut,
            };
            let minute = opening.span.start.max(shut.start);
            out.add(Rule::Door, opening.group, minute, fault);
        }
    }
}

/// When a delicate bake wants its door shut: not while one call is loading,
/// then until its minutes since the end of its own loading have passed.
fn shut(view: &View<'_>, group: &Served<'_>) -> Option<Span> {
    let stated = group.recipe.bake.shut?.value;
    let (load, bake, _) = group.method.bake_steps()?;
    let loading = group.span(load);
    let call = i64::from(view.lesson.rules.call.value.get());
    let minutes = match group.planned[bake.0] {
        Some(planned) => {
            let share = of_bake(planned, group.recipe.bake.shut_share);
            if share.get() < stated.get() { share } else { stated }
        }
        None => stated,
    };
    let start = (loading.start + call).max(loading.end);
    Some(Span { start, end: loading.end + i64::from(minutes.rounded_up().get()) })
}

/// A share of a planned bake, unrounded.
#[allow(clippy::cast_precision_loss)] // at most ExactMinutes::LONGEST
fn of_bake(planned: i64, share: f64) -> ExactMinutes {
    ExactMinutes::new(planned as f64).unwrap_or_default().times(share)
}
