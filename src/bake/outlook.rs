//! All that is said of one tin: how deep, how long, how full, how soon cool.

use super::cools::cooling;
use super::estimate::{Bake, Calibration, Estimate};
use super::fault::BakeError;
use super::geometry::fill_share;
use super::materials;
use crate::units::{Celsius, ExactMinutes, Millilitres};

/// What is expected of a tin.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// Its minutes in the oven.
    pub estimate: Estimate,
    /// Depth of the raw mixture, mm.
    pub depth_mm: f64,
    /// Minutes on the rack until it is hand-warm outside (45 °C in the
    /// middle); about 10 % long.
    pub hand_warm: ExactMinutes,
    /// The share of what the tin holds that the raw mixture fills, where that
    /// is known.
    pub fill: Option<f64>,
    /// What should be looked at, a sentence each.
    pub warnings: Vec<String>,
}

impl Calibration {
    /// What to expect of a tin, which holds so much to the brim if that is
    /// known.
    ///
    /// # Errors
    /// As [`Calibration::estimate`] and [`cooling`]; also if the tin
    /// holds nothing.
    pub fn outlook(
        &self,
        bake: &Bake,
        capacity: Option<Millilitres>,
    ) -> Result<Outlook, BakeError> {
        let estimate = self.estimate(bake)?;
        let depth_mm = 1000.0 * bake.shape.depth(bake.volume)?;
        let hand_warm = Celsius::new(materials::HAND_WARM.value)?;
        let hand_warm = cooling(&bake.shape, depth_mm, hand_warm)?;
        let fill = capacity.map(|holds| fill_share(bake.volume, holds)).transpose()?;
        let warnings = [
            self.warning().map(|w| w.to_string()),
            estimate.disagreement.map(|d| d.to_string()),
            fill.and_then(too_full),
        ];
        let warnings = warnings.into_iter().flatten().collect();
        Ok(Outlook { estimate, depth_mm, hand_warm, fill, warnings })
    }
}

fn too_full(fill: f64) -> Option<String> {
    let percent = 100.0 * fill;
    if fill > 1.0 {
        Some(format!("the raw mixture is {percent:.0} % of what the tin holds: it runs over"))
    } else if fill > materials::MOST_FILL.value {
        Some(format!(
            "the raw mixture fills {percent:.0} % of the tin; what rises wants half to two thirds"
        ))
    } else {
        None
    }
}
