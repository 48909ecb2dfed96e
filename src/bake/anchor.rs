//! What a recipe is known to take: the minutes it states, and those its bakes
//! really took. Every other tin is worked out from these.

use super::estimate::{Bake, Calibration, Spread};
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

/// Past bakes of a choice, as the model takes them.
pub fn outcomes(recipe: &Recipe, choice: &TinChoice, tin: &Tin, past: &[PastBake]) -> Vec<Outcome> {
    past.iter()
        .filter(|p| p.is_of(&recipe.name, &choice.label))
        .filter_map(|p| {
            let celsius = p.celsius.unwrap_or(choice.celsius);
            let bake = bake_of(recipe, choice, tin, celsius).ok()?;
            Some(Outcome::new(bake, p.minutes))
        })
        .collect()
}

/// The tins of a recipe whose minutes are known, each with what it teaches.
/// Minutes that were worked out teach nothing.
pub fn anchors(recipe: &Recipe, tins: &[Tin], past: &[PastBake]) -> Vec<Anchor> {
    let batter = mixture::batter(recipe);
    let of = |(i, choice): (usize, &TinChoice)| -> Option<Anchor> {
        let tin = tins.get(choice.tin.0)?;
        let bake = bake_of(recipe, choice, tin, choice.celsius).ok()?;
        let outcomes = outcomes(recipe, choice, tin, past);
        let calibration = match choice.minutes.filter(|m| !is_worked_out(m.origin)) {
            Some(stated) => {
                let own = Calibration::new(bake, stated.usual(), batter).ok()?;
                own.learned(&outcomes).ok()?
            }
            None => {
                let first = outcomes.first()?;
                let own = Calibration::new(first.bake, first.took, batter).ok()?;
                // The first bake is what it starts from; with the others it
                // moves to their mean.
                own.learned(&outcomes).ok()?
            }
        };
        Some(Anchor { choice: TinChoiceId(i), calibration })
    };
    recipe.tins.iter().enumerate().filter_map(of).collect()
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
