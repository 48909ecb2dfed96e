//! `pupils`: who does what, and nobody two things at once.

use super::rule::{Breaches, Rule};
use super::span::{Busy, clashes};
use super::view::{Placed, Served, View, shown};

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        let mut busy = Vec::new();
        for step in group.steps() {
            named(group, step, out);
            for pupil in distinct(&step.placement.pupils) {
                busy.push(Busy { thing: pupil, span: step.span, by: step.id });
            }
        }
        clashes(busy, |a, b| {
            let name = |step: crate::model::StepId| shown(&group.method.steps[step.0].name);
            let message = format!(
                "{}: pupil {} does \"{}\" {} and \"{}\" {}",
                group.name(),
                u64::from(a.thing) + 1,
                name(a.by),
                a.span,
                name(b.by),
                b.span
            );
            out.add(Rule::Pupils, group.id, b.span.start, message);
        });
    }
}

fn distinct(pupils: &[u32]) -> Vec<u32> {
    let mut pupils = pupils.to_vec();
    pupils.sort_unstable();
    pupils.dedup();
    pupils
}

fn named(group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let pupils = &step.placement.pupils;
    let outside = step.beforehand || step.collected;
    let takes = if outside { 0 } else { step.step.pupils.of(group.group.pupils) };
    let different = distinct(pupils);
    let takes_all = usize::try_from(takes).is_ok_and(|n| n == pupils.len());
    let what = shown(&step.step.name);
    let message = if let Some(stranger) = different.iter().find(|&&p| p >= group.group.pupils) {
        let of = group.group.pupils;
        format!("{}: \"{what}\" names pupil {}, of {of}", group.name(), u64::from(*stranger) + 1)
    } else if different.len() != pupils.len() {
        format!("{}: \"{what}\" names a pupil twice", group.name())
    } else if outside && !takes_all {
        format!("{}: \"{what}\" is done outside the period, so by no pupil", group.name())
    } else if !takes_all {
        format!("{}: \"{what}\" takes {takes} pupils and names {}", group.name(), pupils.len())
    } else {
        return;
    };
    out.add(Rule::Pupils, group.id, step.span.start, message);
}
