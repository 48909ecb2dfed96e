//! What raises a mixture, and what bicarbonate wants beside it.

use super::{Family, Mixture, RuleTold, figure};
use crate::model::Role;

/// Baking powder that self-raising flour carries, parts to 100 of it (common
/// practice of the trade; flour sold under that name in the US carries salt as
/// well and is softer).
const CARRIED: f64 = 5.0;
/// What an all-in-one mixture adds to that (likewise).
const ALL_IN_ONE: (f64, f64) = (3.0, 4.0);
/// Baking powder to 100 of flour, all told, that still is usual (chosen about
/// the two figures above).
const POWDER: (f64, f64) = (3.0, 11.0);
/// Millilitres of lemon juice, 5 % of it citric acid, that use up a gram of
/// bicarbonate (worked out).
const LEMON_ML: f64 = 15.0;
/// The same of vinegar of 5 %.
const VINEGAR_ML: f64 = 14.0;
/// Share of the acid wanted that is enough (chosen).
const ENOUGH: f64 = 0.75;
/// Ingredients that bring acid, how much is not known.
const SOUR: [&str; 9] = [
    "treacle",
    "molasses",
    "yoghurt",
    "yogurt",
    "buttermilk",
    "sour milk",
    "soured milk",
    "soured cream",
    "cream of tartar",
];

/// What is to be said of raising.
pub(super) fn of(family: Option<Family>, mixture: &Mixture) -> Vec<RuleTold> {
    let mut told: Vec<RuleTold> = powder(family, mixture).into_iter().collect();
    told.extend(bicarbonate(mixture));
    told
}

fn is_bicarbonate(name: &str, _: Role) -> bool {
    ["bicarbonate", "bread soda", "baking soda"].iter().any(|n| name.contains(n))
}

fn powder(family: Option<Family>, mixture: &Mixture) -> Option<RuleTold> {
    let raised = matches!(
        family?,
        Family::LowSugarCake | Family::RichCake | Family::Melted | Family::Muffin | Family::Scone
    );
    if !raised {
        return None;
    }
    let self_raising = |name: &str, role: Role| {
        let by_name = ["self-raising", "self raising", "self-rising"];
        role == Role::Flour && by_name.iter().any(|n| name.contains(n))
    };
    let carried = CARRIED * mixture.part_of(self_raising) / 100.0;
    let added = mixture.part_of(|name, _| name.contains("baking powder"));
    let soda = mixture.part_of(is_bicarbonate);
    let of_flour =
        format!("self-raising flour carries about {} % of baking powder", figure(carried));
    let all = carried + added;
    if all <= 0.0 && soda <= 0.0 {
        let words = "no raising agent: only the air that is beaten in raises it".to_owned();
        return Some(match family {
            Some(Family::LowSugarCake | Family::RichCake) => RuleTold::note(words),
            _ => RuleTold::unusual(words),
        });
    }
    let words = match (carried > 0.0, added > 0.0) {
        (true, true) => format!(
            "{of_flour}, and {} % is added; all-in-one, without creaming, adds {} to {} %",
            figure(added),
            figure(ALL_IN_ONE.0),
            figure(ALL_IN_ONE.1)
        ),
        (true, false) => of_flour,
        (false, true) => format!("baking powder {} to flour 100; about 5 is usual", figure(added)),
        (false, false) => return None,
    };
    // Bicarbonate may do the rest.
    let enough = all >= POWDER.0 || soda > 0.0;
    Some(if enough && all <= POWDER.1 { RuleTold::usual(words) } else { RuleTold::unusual(words) })
}

/// Bicarbonate wants acid: more than is used up tastes of soap and turns the
/// crumb yellow.
fn bicarbonate(mixture: &Mixture) -> Option<RuleTold> {
    let grams = mixture.grams_of(is_bicarbonate);
    if grams <= 0.0 {
        return None;
    }
    let part = figure(100.0 * grams / mixture.flour);
    let figures = format!("bicarbonate {part} to flour 100");
    let sour = mixture.has.iter().find(|(name, _, _)| SOUR.iter().any(|s| name.contains(s)));
    if let Some((name, _, _)) = sour {
        let name = crate::finding::shortened(name, 40);
        return Some(RuleTold::usual(format!("{figures}, which needs acid: there is {name}")));
    }
    let juice = mixture.grams_of(|name, role| {
        role != Role::Other && (name.contains("lemon juice") || name.contains("lime juice"))
    });
    let vinegar = mixture.grams_of(|name, role| role != Role::Other && name.contains("vinegar"));
    let used_up = juice / LEMON_ML + vinegar / VINEGAR_ML;
    let wanted = format!(
        "{:.0} ml of lemon juice or {:.0} ml of vinegar",
        LEMON_ML * grams,
        VINEGAR_ML * grams
    );
    Some(if used_up >= ENOUGH * grams {
        RuleTold::usual(format!("{figures}, which needs acid: about {wanted}, as there is"))
    } else {
        let there = if used_up > 0.0 { "less is there" } else { "none is there" };
        RuleTold::unusual(format!(
            "{figures}, which needs acid, about {wanted}: {there}; what is not used up tastes \
             soapy"
        ))
    })
}
