//! A rule of thumb beside the model: minutes go as a power of volume over
//! surface, `t ∝ (V/S)^1.27` with `S = 2A + 1.35·H·perimeter`.

use super::estimate::{Bake, Batter};
use super::fault::BakeError;
use super::materials;

/// `(V/S)^1.27` of a bake, in metres to that power: only ratios mean
/// something.
///
/// # Errors
/// If there is no mixture, or it would stand too deep.
pub fn measure(bake: &Bake, batter: &Batter) -> Result<f64, BakeError> {
    let depth = bake.shape.depth(bake.volume)?;
    let area = bake.shape.area();
    let height = batter.rise * depth;
    let sides = materials::CROSS_SIDES.value * height * bake.shape.perimeter();
    Ok((area * depth / (2.0 * area + sides)).powf(materials::CROSS_POWER.value))
}

/// Model and rule of thumb differ by more than the band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disagreement {
    /// What the model says, minutes.
    pub model: f64,
    /// What the rule of thumb says, minutes.
    pub rule: f64,
}

impl std::fmt::Display for Disagreement {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "two ways of working it out differ: {:.0} min by conduction, {:.0} min by volume over \
             surface; try it before a lesson relies on it",
            self.model, self.rule
        )
    }
}

/// Says so where the two differ by more than a factor.
pub fn compare(model: f64, rule: f64, factor: f64) -> Option<Disagreement> {
    ((model / rule).ln().abs() > factor.ln()).then_some(Disagreement { model, rule })
}
