//! How minutes are spread: the distributions of single quantities.
//!
//! A stated step is a PERT beta on quick a, usual m and slow b (Malcolm,
//! Roseboom, Clark and Fazar, *Application of a Technique for Research and
//! Development Program Evaluation*, Operations Research 7, 1959): mean
//! (a + 4m + b)/6 and, of this beta, the variance (mean − a)(b − mean)/7. A
//! bake whose minutes were worked out or learned, or stated by the usual ones
//! alone, is log-normal with its usual minutes as median.

use statrs::distribution::{Beta, ContinuousCDF};
use std::f64::consts::SQRT_2;

use crate::model::{Origin, ThreePoint};

/// A share of 90 lies within so many standard deviations of a normal.
const NINETY: f64 = 1.644_853_626_951_472_2;
/// What is log-normal is cut at so many standard deviations.
const CUT: f64 = 3.0;
/// A beta is tabulated for normals from minus this to this.
const FAR: f64 = 4.5;
/// Steps of the table to one standard deviation.
const STEPS: usize = 32;

/// The distribution of the minutes of one quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Always the same.
    Constant(f64),
    /// PERT beta.
    Pert {
        /// Quick minutes.
        quick: f64,
        /// Usual minutes.
        usual: f64,
        /// Slow minutes.
        slow: f64,
    },
    /// Log-normal, cut at three standard deviations.
    LogNormal {
        /// Median minutes.
        median: f64,
        /// Standard deviation of the logarithm.
        sigma: f64,
    },
}

impl Shape {
    /// The shape of listed minutes with their spread times a factor of 0 or
    /// more. A bake's listed minutes are log-normal where nobody stated all three.
    pub fn of(listed: &ThreePoint, factor: f64, bake: bool) -> Self {
        let (quick, usual, slow) =
            (listed.quick().get(), listed.usual().get(), listed.slow().get());
        if factor <= 0.0 || quick >= slow {
            return Self::Constant(usual);
        }
        let model = matches!(listed.origin, Origin::Computed | Origin::Learned(_))
            || listed.spread == Origin::Assumed;
        if bake && quick > 0.0 && model {
            let sigma = factor * libm::log(slow / quick) / (2.0 * NINETY);
            return Self::LogNormal { median: usual, sigma };
        }
        let quick = (usual - factor * (usual - quick)).max(0.0);
        Self::Pert { quick, usual, slow: usual + factor * (slow - usual) }
    }

    /// The least minutes it has.
    pub fn quick(&self) -> f64 {
        match *self {
            Self::Constant(minutes) => minutes,
            Self::Pert { quick, .. } => quick,
            Self::LogNormal { median, sigma } => median * libm::exp(-CUT * sigma),
        }
    }

    /// Its mean; of a log-normal before it is cut.
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Constant(minutes) => minutes,
            Self::Pert { quick, usual, slow } => (quick + 4.0 * usual + slow) / 6.0,
            Self::LogNormal { median, sigma } => median * libm::exp(sigma * sigma / 2.0),
        }
    }

    /// Its variance; of a log-normal before it is cut.
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        match *self {
            Self::Constant(_) => 0.0,
            Self::Pert { quick, slow, .. } => (mean - quick) * (slow - mean) / 7.0,
            Self::LogNormal { sigma, .. } => mean * mean * libm::expm1(sigma * sigma),
        }
    }
}

/// The share of normals below this one.
pub(super) fn below(normal: f64) -> f64 {
    0.5 * libm::erfc(-normal / SQRT_2)
}

/// Quantiles of a beta on 0 to 1 with its usual value at a share of the way,
/// tabulated by the normal whose share they are.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Quantiles {
    share: f64,
    values: Vec<f64>,
}

impl Quantiles {
    /// The table for a usual value at that share of the way from quick to slow.
    #[allow(clippy::cast_precision_loss)] // a few hundred
    fn new(share: f64) -> Self {
        let steps = 2 * (FAR * STEPS as f64) as usize;
        let beta = Beta::new(1.0 + 4.0 * share, 5.0 - 4.0 * share);
        let at = |i: usize| below(i as f64 / STEPS as f64 - FAR);
        // Both parameters are at least 1, which makes it a beta.
        let value = |i: usize| beta.as_ref().map_or(share, |b| b.inverse_cdf(at(i)));
        let mut values: Vec<f64> = (0..=steps).map(value).collect();
        for i in 1..values.len() {
            values[i] = values[i].max(values[i - 1]);
        }
        Self { share, values }
    }

    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn at(&self, normal: f64) -> f64 {
        let place = (normal.clamp(-FAR, FAR) + FAR) * STEPS as f64;
        let below = (place as usize).min(self.values.len() - 2);
        let (low, high) = (self.values[below], self.values[below + 1]);
        low + (place - below as f64) * (high - low)
    }
}

/// A shape with its table at hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Drawn {
    shape: Shape,
    table: usize,
}

/// Tables shared by all quantities whose betas have one form.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Tables(Vec<Quantiles>);

impl Tables {
    /// The shape, with its table made if there is none yet.
    pub(super) fn prepare(&mut self, shape: Shape) -> Drawn {
        let Shape::Pert { quick, usual, slow } = shape else { return Drawn { shape, table: 0 } };
        let share = (usual - quick) / (slow - quick);
        // Pace and spread leave the form as it is, but for the last digits.
        let known = self.0.iter().position(|t| (t.share - share).abs() < 1e-9);
        let table = known.unwrap_or_else(|| {
            self.0.push(Quantiles::new(share));
            self.0.len() - 1
        });
        Drawn { shape, table }
    }

    /// The minutes at which so large a share lies below as of normals.
    pub(super) fn minutes(&self, drawn: Drawn, normal: f64) -> f64 {
        match drawn.shape {
            Shape::Constant(minutes) => minutes,
            Shape::Pert { quick, slow, .. } => {
                quick + (slow - quick) * self.0[drawn.table].at(normal)
            }
            Shape::LogNormal { median, sigma } => {
                median * libm::exp(sigma * normal.clamp(-CUT, CUT))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(quick: f64, usual: f64, slow: f64) -> (Shape, Vec<f64>) {
        let shape = Shape::Pert { quick, usual, slow };
        let mut tables = Tables::default();
        let drawn = tables.prepare(shape);
        // Normals in the middle of 100 000 equal shares.
        let mut normal = -6.0;
        let middle = |i: f64| (i + 0.5) / 1e5;
        let all = (0..100_000_u32).map(|i| {
            while below(normal) < middle(f64::from(i)) {
                normal += 1e-4;
            }
            tables.minutes(drawn, normal)
        });
        (shape, all.collect())
    }

    /// Malcolm and others, 1959, for the mean; the variance of a beta.
    #[test]
    fn a_pert_beta_has_its_mean_and_its_variance() {
        for (quick, usual, slow) in [(2.0, 3.0, 5.0), (1.0, 1.0, 2.0), (5.0, 8.0, 8.0)] {
            let (shape, all) = drawn(quick, usual, slow);
            let mean = all.iter().sum::<f64>() / 1e5;
            let variance = all.iter().map(|m| (m - mean).powi(2)).sum::<f64>() / 1e5;
            assert!((mean - (quick + 4.0 * usual + slow) / 6.0).abs() < 2e-3, "{mean}");
            assert!((variance / shape.variance() - 1.0).abs() < 5e-3, "{variance}");
            assert!(all[0] >= quick && all[99_999] <= slow);
        }
    }

    #[test]
    fn bakes_nobody_stated_are_log_normal_about_their_median() {
        let listed = ThreePoint::new(14.0, 20.0, 29.0, Origin::Computed).unwrap();
        let Shape::LogNormal { median, sigma } = Shape::of(&listed, 1.0, true) else {
            panic!("a computed bake is log-normal");
        };
        assert_eq!(median, 20.0);
        // Nine of ten lie between the ends: e to 2 × 1.645 σ is 29/14.
        assert!(((2.0 * 1.644_853_6 * sigma).exp() - 29.0 / 14.0).abs() < 1e-6);
        let (tables, drawn) =
            (Tables::default(), Tables::default().prepare(Shape::of(&listed, 1.0, true)));
        assert_eq!(tables.minutes(drawn, 9.0), tables.minutes(drawn, 3.0));
        let stated = ThreePoint::new(14.0, 20.0, 29.0, Origin::Recipe).unwrap();
        assert!(matches!(Shape::of(&stated, 1.0, true), Shape::Pert { .. }));
        assert!(matches!(Shape::of(&listed, 0.0, true), Shape::Constant(20.0)));
        let usual = ThreePoint::usual_only(20.0, Origin::Recipe).unwrap();
        assert!(matches!(Shape::of(&usual, 1.0, true), Shape::LogNormal { .. }));
        assert!(matches!(Shape::of(&usual, 1.0, false), Shape::Pert { .. }));
    }

    #[test]
    fn a_spread_is_drawn_together_about_the_usual_minutes() {
        let listed = ThreePoint::new(2.0, 4.0, 8.0, Origin::Recipe).unwrap();
        let half = Shape::Pert { quick: 3.0, usual: 4.0, slow: 6.0 };
        assert_eq!(Shape::of(&listed, 0.5, false), half);
        let wide = Shape::Pert { quick: 0.0, usual: 4.0, slow: 16.0 };
        assert_eq!(Shape::of(&listed, 3.0, false), wide);
    }
}
