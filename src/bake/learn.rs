//! What a class's own bakes say: they sharpen κ and narrow the band.
//!
//! `ln κ` of one recipe, tin and oven is taken as normal about the recipe's
//! own. The spread of the estimate is in part that of a tin about its recipe,
//! which bakes teach, and in part that of one bake about its tin, which stays.

use super::estimate::{Bake, Calibration, Spread, Z_80, Z_90};
use super::fault::{BakeError, positive};
use super::materials;
use crate::units::ExactMinutes;

/// A bake as it really went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// The tin and the oven.
    pub bake: Bake,
    /// What it took.
    pub took: ExactMinutes,
    /// Spread of one such bake: the standard deviation of the logarithm of its
    /// minutes, above 0.
    pub sigma: f64,
}

impl Outcome {
    /// With the usual spread of one bake about its tin.
    pub fn new(bake: Bake, took: ExactMinutes) -> Self {
        Self { bake, took, sigma: materials::OUTCOME_SIGMA.value }
    }
}

impl Calibration {
    /// Sharpened by outcomes of **one** tin in one oven: κ moves to the mean
    /// of what the recipe says and what the bakes took, each weighted by its
    /// certainty, and the band narrows. Bakes that scatter more than their own
    /// spreads say are trusted less (their spreads widened by the Birge
    /// ratio, common practice in metrology). Without outcomes nothing changes.
    ///
    /// # Errors
    /// As [`super::estimate::model_minutes`]; also for minutes or a spread of
    /// nought.
    pub fn learned(&self, outcomes: &[Outcome]) -> Result<Self, BakeError> {
        if outcomes.is_empty() {
            return Ok(*self);
        }
        let (mut weight, mut sum, mut squares, mut noise) = (0.0, 0.0, 0.0, 0.0);
        // A class bakes the same thing again and again: it is worked out once.
        let mut modelled: Vec<(Bake, f64)> = Vec::new();
        for outcome in outcomes {
            let took = positive("the minutes a bake took", outcome.took.get())?;
            let sigma = positive("the spread of a bake", outcome.sigma)?;
            let known = modelled.iter().find(|(bake, _)| *bake == outcome.bake);
            let model = match known {
                Some((_, model)) => *model,
                None => self.model(&outcome.bake)?,
            };
            if known.is_none() {
                modelled.push((outcome.bake, model));
            }
            let off = (took / model).ln() - self.kappa().ln();
            let precision = positive("the certainty of a bake", 1.0 / (sigma * sigma))?;
            weight += precision;
            sum += precision * off;
            squares += precision * off * off;
            noise += sigma * sigma;
        }
        let count = outcomes.len() as f64;
        let scatter = (squares - sum * sum / weight).max(0.0);
        let birge = if count > 1.0 { (scatter / (count - 1.0)).max(1.0) } else { 1.0 };
        let one_bake = birge * noise / count;
        let (weight, sum) = (weight / birge, sum / birge);
        let whole = positive("the spread of estimates", self.spread.eighty.ln() / Z_80)?.powi(2);
        let usual = materials::OUTCOME_SIGMA.value.powi(2);
        // A tin's own spread about its recipe: what is left of the whole.
        let prior = 1.0 / (whole - usual).max(whole / 100.0);
        let moved = sum / (prior + weight);
        let sigma = (1.0 / (prior + weight) + one_bake).sqrt();
        let spread = Spread { eighty: (Z_80 * sigma).exp(), ninety: (Z_90 * sigma).exp() };
        Ok(self.moved(moved.exp(), spread))
    }
}
