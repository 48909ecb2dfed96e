//! How much mixture there is, and how much of it one tin gets.

use super::estimate::Batter;
use super::fault::BakeError;
use super::geometry::Shape;
use super::materials;
use crate::model::{Figure, Origin, Recipe, Tin, TinChoice, TinForm};
use crate::units::{Grams, Millilitres};

/// Densities a baking mixture can have, kg/m³; outside them volume and weight
/// are not of the same batch.
const DENSITIES: std::ops::RangeInclusive<f64> = 250.0..=1400.0;

/// Volume of one batch: as stated, or from the ingredients' weight at the
/// usual density of batter, which is an assumption.
///
/// # Errors
/// If neither is known.
pub fn of_batch(recipe: &Recipe) -> Result<Figure<Millilitres>, BakeError> {
    if let Some(batter) = recipe.batter {
        return Ok(batter);
    }
    let grams = recipe.total_grams();
    if grams <= 0.0 {
        return Err(BakeError::NoMixture);
    }
    let ml = grams * 1000.0 / materials::BATTER_DENSITY.value;
    Ok(Figure::assumed(Millilitres::new(ml)?))
}

/// The recipe's batter with its own density where volume and weight of a batch
/// are both known.
pub fn batter(recipe: &Recipe) -> Batter {
    let usual = Batter::default();
    let (Some(volume), Ok(weight)) = (recipe.batter, Grams::new(recipe.total_grams())) else {
        return usual;
    };
    let weighed = usual.weighed(weight, volume.value);
    weighed.ok().filter(|b| DENSITIES.contains(&b.density)).unwrap_or(usual)
}

/// What one tin, or one hole of a tray, holds to the brim: as stated, or from
/// its inner size and outer height, which is an assumption.
pub fn capacity(tin: &Tin) -> Option<Figure<Millilitres>> {
    let holes = holes(tin);
    if let Some(all) = tin.capacity {
        let one = Millilitres::new(all.value.get() / holes).ok()?;
        return Some(Figure { value: one, origin: all.origin });
    }
    let shape = Shape::of(&tin.form?).ok()?;
    let height = f64::from(tin.height.get()) / 10.0;
    shape.capacity(height).ok().map(Figure::assumed)
}

/// In how many portions a tin divides what goes into it.
pub fn holes(tin: &Tin) -> f64 {
    match tin.form {
        Some(TinForm::Holes { count, .. }) => f64::from(count.max(1)),
        _ => 1.0,
    }
}

/// Mixture in one tin of a choice, or in one hole: from the batch, or else
/// from how full the tin is said to be, which is an assumption.
///
/// # Errors
/// If nothing of it is known.
pub fn in_each(
    recipe: &Recipe,
    choice: &TinChoice,
    tin: &Tin,
) -> Result<Figure<Millilitres>, BakeError> {
    match (of_batch(recipe), choice.about_full) {
        (Ok(batch), _) => {
            let tins = f64::from(choice.count.max(1)) * holes(tin);
            let ml = batch.value.get() * choice.batch / tins;
            Ok(Figure { value: Millilitres::new(ml)?, origin: batch.origin })
        }
        (Err(unknown), None) => Err(unknown),
        (Err(unknown), Some(share)) => {
            let holds = capacity(tin).ok_or(unknown)?.value.get();
            Ok(Figure { value: Millilitres::new(holds * share)?, origin: Origin::Assumed })
        }
    }
}
