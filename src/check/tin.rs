//! `tin`: one the group accepts, for a method it accepts, not overfilled.
//! Whether it is in stock is looked at with the kit.

use super::breach::Breaches;
use super::fault::TinFault;
use super::view::{Served, View};
use crate::model::{Recipe, TinChoice, TinChoiceId};
use crate::plan::Rule;

/// What a sum of binary fractions is forgiven, in millilitres.
const DUST: f64 = 1e-6;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        let mut add = |fault| out.add(Rule::Tin, group.id, None, fault);
        accepted(group, &mut add);
        if let (Some(id), Some(tin)) = (group.choice.tin, group.tin) {
            filled(view, group, (id, tin), &mut add);
        }
    }
}

fn accepted(served: &Served<'_>, add: &mut impl FnMut(TinFault)) {
    let (group, choice) = (served.id, served.choice);
    let method = choice.method;
    if !served.group.methods.contains(&method) {
        add(TinFault::NotItsMethod { group, method });
    }
    let baked = served.method.bake_steps().is_some();
    match (choice.tin, served.tin) {
        (Some(id), Some(tin)) => {
            if !served.group.tins.contains(&id) {
                add(TinFault::NotAccepted { group, tin: id });
            }
            if !tin.goes_with(method) {
                add(TinFault::NotForMethod { group, tin: id, method });
            }
            if !baked {
                add(TinFault::NotBaked { group, method });
            }
        }
        _ if baked => add(TinFault::NoTin { group, method }),
        _ => {}
    }
}

/// Millilitres of raw mixture in each tin, where known.
fn mixture(recipe: &Recipe, tin: &TinChoice) -> Option<f64> {
    let batch = recipe.batter?.value.get() * tin.batch;
    (tin.count > 0).then(|| batch / f64::from(tin.count))
}

fn filled(
    view: &View<'_>,
    group: &Served<'_>,
    (id, tin): (TinChoiceId, &TinChoice),
    add: &mut impl FnMut(TinFault),
) {
    let capacity = view.lesson.tins[tin.tin.0].capacity;
    let (Some(mixture), Some(capacity)) = (mixture(group.recipe, tin), capacity) else {
        return;
    };
    let holds = capacity.value;
    let limit = group.recipe.bake.fill_limit.value;
    if mixture > holds.get() * limit + DUST {
        add(TinFault::Overfilled { group: group.id, tin: id, mixture, holds, limit });
    }
}
