//! `pupils`: who does what, and nobody two things at once.

use super::breach::Breaches;
use super::fault::PupilsFault;
use super::span::{Busy, clashes};
use super::view::{Placed, Served, View};
use crate::plan::Rule;

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
            let [first, second] = [a, b].map(|use_| (group.step_of(use_.by), use_.span));
            let fault = PupilsFault::Twice { pupil: a.thing, first, second };
            out.add(Rule::Pupils, group.id, b.span.start, fault);
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
    let (of, there) = (group.step_of(step.id), group.group.pupils);
    let fault = if let Some(&stranger) = different.iter().find(|&&p| p >= there) {
        PupilsFault::Stranger { step: of, pupil: stranger, of: there }
    } else if different.len() != pupils.len() {
        PupilsFault::NamedTwice { step: of }
    } else if outside && !takes_all {
        PupilsFault::OutsidePeriod { step: of }
    } else if !takes_all {
        PupilsFault::OtherNumber { step: of, takes, names: pupils.len() }
    } else {
        return;
    };
    out.add(Rule::Pupils, group.id, step.span.start, fault);
}
