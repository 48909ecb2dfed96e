//! A cake as a block: the product of one-dimensional solutions.

use super::conduction::{Body, NOTICED_TERMS, Series};
use super::fault::{BakeError, positive};
use super::geometry::{Plan, Shape};
use super::root::sign_change;

/// How heat goes into or out of a block, in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Conductivity, W/(m·K).
    pub conductivity: f64,
    /// Diffusivity, m²/s.
    pub diffusivity: f64,
    /// Heat transfer to the air, W/(m²·K).
    pub transfer: f64,
}

/// A body of finite size: a short cylinder or a cuboid.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Each factor with `α/l²`, per second.
    factors: Vec<(Series, f64)>,
}

impl Block {
    /// A block of a tin's plan and so many metres high, open to the air on
    /// all its faces.
    ///
    /// # Errors
    /// If a figure is not above nought, or a Biot number out of range.
    pub fn new(shape: &Shape, height: f64, heat: &Heat) -> Result<Self, BakeError> {
        let sides = match shape.plan() {
            Plan::Round { across } => vec![(Body::Cylinder, across / 2.0)],
            Plan::Rect { long, wide } => {
                vec![(Body::Wall, long / 2.0), (Body::Wall, wide / 2.0)]
            }
        };
        let conductivity = positive("a conductivity", heat.conductivity)?;
        let diffusivity = positive("a diffusivity", heat.diffusivity)?;
        let transfer = positive("a heat transfer coefficient", heat.transfer)?;
        let half_height = positive("a height", height)? / 2.0;
        let factors = std::iter::once((Body::Wall, half_height))
            .chain(sides)
            .map(|(body, l)| {
                let series = Series::with_terms(body, transfer * l / conductivity, NOTICED_TERMS)?;
                Ok((series, diffusivity / (l * l)))
            })
            .collect::<Result<_, BakeError>>()?;
        Ok(Self { factors })
    }

    /// `ln θ` at the centre after so many seconds.
    pub fn ln_centre(&self, seconds: f64) -> f64 {
        self.factors.iter().map(|(series, rate)| series.ln_centre(rate * seconds)).sum()
    }

    /// θ at the centre after so many seconds.
    pub fn centre(&self, seconds: f64) -> f64 {
        self.ln_centre(seconds).exp()
    }

    /// Seconds until θ at the centre has fallen to `theta`, which lies between
    /// 0 and 1. Bracketed on the sum of logarithms.
    ///
    /// # Errors
    /// If `theta` does not lie strictly between 0 and 1.
    pub fn seconds_to(&self, theta: f64) -> Result<f64, BakeError> {
        let ln_theta = positive("a share of the temperature difference", theta)?.ln();
        if ln_theta >= 0.0 {
            return Err(BakeError::NotPositive {
                what: "the change of the temperature difference",
                value: 1.0 - theta,
            });
        }
        let mut late = 1.0;
        while self.ln_centre(late) > ln_theta {
            late *= 2.0; // ends: ln θ falls without limit
        }
        Ok(sign_change(0.0, late, |t| ln_theta - self.ln_centre(t)))
    }
}
