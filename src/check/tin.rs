//! `tin`: one the group accepts, for a method it accepts, not overfilled.
//! Whether it is in stock is looked at with the kit.

use super::rule::{Breaches, Rule};
use super::view::{Served, View, shown};
use crate::model::{Recipe, TinChoice};
use crate::units::plain_number;

/// What a sum of binary fractions is forgiven, in millilitres.
const DUST: f64 = 1e-6;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        let mut add = |message: String| out.add(Rule::Tin, group.id, None, message);
        accepted(group, &mut add);
        if let Some(tin) = group.tin {
            filled(view, group, tin, &mut add);
        }
    }
}

fn accepted(group: &Served<'_>, add: &mut impl FnMut(String)) {
    let (name, choice) = (group.name(), group.choice);
    let method = shown(&group.method.name);
    if !group.group.methods.contains(&choice.method) {
        add(format!("{name} is not to use the method \"{method}\""));
    }
    let baked = group.method.bake_steps().is_some();
    match (choice.tin, group.tin) {
        (Some(id), Some(tin)) => {
            let label = shown(&tin.label);
            if !group.group.tins.contains(&id) {
                add(format!("{name} does not accept \"{label}\""));
            }
            if !tin.goes_with(choice.method) {
                add(format!("{name}: \"{label}\" does not go with the method \"{method}\""));
            }
            if !baked {
                add(format!("{name}: \"{method}\" is not baked, but a tin is chosen"));
            }
        }
        _ if baked => add(format!("{name}: \"{method}\" is baked, but no tin is chosen")),
        _ => {}
    }
}

/// Millilitres of raw mixture in each tin, where known.
fn mixture(recipe: &Recipe, tin: &TinChoice) -> Option<f64> {
    let batch = recipe.batter?.value.get() * tin.batch;
    (tin.count > 0).then(|| batch / f64::from(tin.count))
}

fn filled(view: &View<'_>, group: &Served<'_>, tin: &TinChoice, add: &mut impl FnMut(String)) {
    let capacity = view.lesson.tins[tin.tin.0].capacity;
    let (Some(mixture), Some(capacity)) = (mixture(group.recipe, tin), capacity) else {
        return;
    };
    let holds = capacity.value.get();
    let limit = group.recipe.bake.fill_limit.value;
    if mixture > holds * limit + DUST {
        add(format!(
            "{}: {} ml go into each tin of \"{}\"; it holds {} ml and is filled to {} % at most, \
             {} ml",
            group.name(),
            plain_number(mixture),
            shown(&tin.label),
            plain_number(holds),
            plain_number(limit * 100.0),
            plain_number(holds * limit)
        ));
    }
}
