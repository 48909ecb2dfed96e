//! What a recipe is known to take: the minutes it states, and those its bakes
//! really took. Every other tin is worked out from these.

use super::estimate::{Bake, Calibration, Spread, model_minutes};
use super::fault::BakeError;
use super::geometry::Shape;
use super::learn::Outcome;
use super::mixture;
use crate::model::{PastBake, Recipe, Tin, TinChoice, TinChoiceId};
use crate::units::Celsius;

/// A tin of the recipe that the model is set right by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anchor {
    /// Which.
    pub choice: TinChoiceId,
    /// The model set right by it.
    pub calibration: Calibration,
    /// The recipe states its minutes; else they are known by bakes alone.
    pub stated: bool,
}

/// The bake of a choice at a temperature, without a fan: a fan oven is set
/// lower, so that it comes to the same.
///
/// # Errors
/// If its shape or its mixture is not known.
pub fn bake_of(
    recipe: &Recipe,
    choice: &TinChoice,
    tin: &Tin,
    celsius: Celsius,
) -> Result<Bake, BakeError> {
    let shape = Shape::of(&tin.form.ok_or(BakeError::NoForm)?)?;
    let volume = mixture::in_each(recipe, choice, tin)?.value;
    Ok(Bake { shape, volume, oven: celsius, fan: false })
}

/// Past bakes of a choice, as the model takes them; what it cannot make sense
/// of, such as an oven too cold to bake, teaches nothing.
pub fn outcomes(recipe: &Recipe, choice: &TinChoice, tin: &Tin, past: &[PastBake]) -> Vec<Outcome> {
    let batter = mixture::batter(recipe);
    past.iter()
        .filter(|p| p.is_of(&recipe.name, &choice.label))
        .filter_map(|p| {
            let celsius = p.celsius.unwrap_or(choice.celsius);
            let bake = bake_of(recipe, choice, tin, celsius).ok()?;
            model_minutes(&bake, &batter).ok()?;
            Some(Outcome::new(bake, p.minutes))
        })
        .collect()
}

/// The tins of a recipe whose minutes are known, each with what it teaches.
/// Minutes that were worked out teach nothing.
pub fn anchors(recipe: &Recipe, tins: &[Tin], past: &[PastBake]) -> Vec<Anchor> {
    let batter = mixture::batter(recipe);
    let mut found: Vec<Anchor> = Vec::new();
    for (i, choice) in recipe.tins.iter().enumerate() {
        let (Some(stated), Some(tin)) =
            (choice.minutes.filter(|m| !is_worked_out(m.origin)), tins.get(choice.tin.0))
        else {
            continue;
        };
        let calibration = bake_of(recipe, choice, tin, choice.celsius)
            .and_then(|bake| Calibration::new(bake, stated.usual(), batter))
            .and_then(|own| own.learned(&outcomes(recipe, choice, tin, past)));
        let choice = TinChoiceId(i);
        found.extend(calibration.ok().map(|calibration| Anchor {
            choice,
            calibration,
            stated: true,
        }));
    }
    // Tins known by their bakes alone: what the stated ones say of them, moved
    // by these.
    let stated = found.clone();
    let stated: Vec<&Anchor> = stated.iter().collect();
    for (i, choice) in recipe.tins.iter().enumerate() {
        let Some(tin) = tins.get(choice.tin.0) else { continue };
        let outcomes = outcomes(recipe, choice, tin, past);
        let known = found.iter().any(|a| a.choice.0 == i);
        let Some((first, others)) = outcomes.split_first().filter(|_| !known) else { continue };
        let calibration = match pooled(&stated, &first.bake) {
            Ok(expected) => expected.learned(&outcomes),
            // Nothing is stated: the first bake is what the others go by.
            Err(_) => {
                Calibration::new(first.bake, first.took, batter).and_then(|own| own.learned(others))
            }
        };
        let choice = TinChoiceId(i);
        found.extend(calibration.ok().map(|calibration| Anchor {
            choice,
            calibration,
            stated: false,
        }));
    }
    found.sort_by_key(|a| a.choice.0);
    found
}

/// Whether a figure comes from the model.
pub fn is_worked_out(origin: crate::model::Origin) -> bool {
    use crate::model::Origin;
    matches!(origin, Origin::Computed | Origin::Learned(_))
}

/// The model set right by several tins: κ is the mean of theirs (of the
/// logarithms), and starts from the tin nearest in model minutes to what is
/// asked. One tin scatters about its recipe as much as another, so with `n`
/// tins to go by the spread falls by `√((1 + 1/n) / 2)`.
///
/// # Errors
/// If there is no tin to go by, or the bake cannot be worked out.
pub fn pooled(anchors: &[&Anchor], asked: &Bake) -> Result<Calibration, BakeError> {
    let mut nearest: Option<(f64, &Calibration)> = None;
    for anchor in anchors {
        let calibration = &anchor.calibration;
        let off = (calibration.model(asked)? / calibration.model(calibration.own())?).ln().abs();
        if nearest.is_none_or(|(least, _)| off < least) {
            nearest = Some((off, calibration));
        }
    }
    let (_, from) = nearest.ok_or(BakeError::NoAnchor)?;
    let count = anchors.len() as f64;
    let mean = anchors.iter().map(|a| a.calibration.kappa().ln()).sum::<f64>() / count;
    let narrower = ((1.0 + 1.0 / count) / 2.0).sqrt();
    let usual = Spread::default();
    let spread = Spread {
        eighty: (usual.eighty.ln() * narrower).exp(),
        ninety: (usual.ninety.ln() * narrower).exp(),
    };
    Ok(from.moved(mean.exp() / from.kappa(), spread))
}
