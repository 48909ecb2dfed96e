//! What is learned of a part of a lesson: minutes on the log scale, with the
//! normal-inverse-gamma prior that is conjugate to a normal of unknown mean and
//! variance (Gelman and others, *Bayesian Data Analysis*, 3rd ed., 2013, section
//! 3.3). What is learned is by what factor the minutes differ from the plan's, so that
//! lessons planned differently teach the same.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::model::PastMinutes;

/// Lessons the recipe's own minutes are worth (judgement).
const WORTH: f64 = 4.0;
/// From so many lessons on what was learned is offered (judgement); from two on it
/// is a hint.
pub const ENOUGH: usize = 5;
/// Of a span of 90 %, the share below its upper end.
const UPPER: f64 = 0.95;
/// A spread below this, from quick to slow, is none that anybody states: as factor.
const NARROWEST: f64 = 1.02;

/// What is learned, as factors on what is planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// Lessons it comes from.
    pub lessons: usize,
    /// The median of the next lesson's minutes.
    pub median: f64,
    /// The ends of its 90 % span.
    pub band: (f64, f64),
}

impl Learned {
    /// Whether it comes from enough lessons to be offered.
    pub fn is_offered(&self) -> bool {
        self.lessons >= ENOUGH
    }
}

/// What lessons teach, given the spread that is stated: quick and slow as factors on
/// the planned minutes, the ends of a 90 % span.
pub fn learned((quick, slow): (f64, f64), took: &[&PastMinutes]) -> Learned {
    let factors: Vec<f64> = took
        .iter()
        .map(|m| (m.took.get() / m.planned.get()).ln())
        .filter(|f| f.is_finite())
        .collect();
    let upper =
        |degrees: f64| StudentsT::new(0.0, 1.0, degrees).map_or(f64::NAN, |t| t.inverse_cdf(UPPER));
    // The prior's predictive span is the one that is stated.
    let (kappa, alpha) = (WORTH, WORTH / 2.0);
    let scale = (slow / quick).max(NARROWEST).ln() / 2.0 / upper(2.0 * alpha);
    let beta = scale * scale * alpha * kappa / (kappa + 1.0);
    let n = count(factors.len());
    let mean = if factors.is_empty() { 0.0 } else { factors.iter().sum::<f64>() / n };
    let scatter: f64 = factors.iter().map(|f| (f - mean) * (f - mean)).sum();
    let (kappa_n, alpha_n) = (kappa + n, alpha + n / 2.0);
    // The prior's centre is what is planned: a factor of 1.
    let mu = n * mean / kappa_n;
    let beta_n = beta + scatter / 2.0 + kappa * n * mean * mean / (2.0 * kappa_n);
    let scale = (beta_n * (kappa_n + 1.0) / (alpha_n * kappa_n)).sqrt();
    let reach = upper(2.0 * alpha_n) * scale;
    Learned {
        lessons: factors.len(),
        median: mu.exp(),
        band: ((mu - reach).exp(), (mu + reach).exp()),
    }
}

#[allow(clippy::cast_precision_loss)] // lessons of one class
fn count(n: usize) -> f64 {
    n as f64
}

/// What so many lessons are worth, in words.
pub fn hint_words(lessons: usize) -> String {
    match lessons {
        0 => "no lesson of the class is noted".to_owned(),
        1 => "1 lesson: nothing to go by yet".to_owned(),
        n if n < ENOUGH => format!("{n} lessons: a hint, no more"),
        n => format!("from {n} lessons"),
    }
}
