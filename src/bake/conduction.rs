//! Heat conduction into a plane wall, a long cylinder and a sphere that
//! start at one temperature and meet air of another: the series solution any
//! heat-transfer textbook gives (Incropera & DeWitt, sections 5.5 and 5.6).
//!
//! Lengths are made dimensionless by `l`, the half thickness or the radius:
//! `Bi = h·l/k`, `Fo = α·t/l²`; `θ = (T − T_air)/(T_start − T_air)`.

use std::f64::consts::PI;
use std::sync::LazyLock;

use libm::{j0, j1};

use super::fault::BakeError;
use super::root::sign_change;

/// Least Biot number the roots are checked for.
pub const LEAST_BIOT: f64 = 1e-4;
/// Greatest Biot number the roots are checked for.
pub const GREATEST_BIOT: f64 = 1e4;
/// Below this Fourier number the centre has not noticed: it is off 1 by less
/// than 4e-6 whatever the body and Biot number.
pub const UNNOTICED_FOURIER: f64 = 0.02;
/// Below this Fourier number the exact centre is 1 to the last digit of a
/// double (the wall's is off by at most `2·erfc(1/(2√Fo))`, under 1e-22).
const EXACTLY_ONE_FOURIER: f64 = 0.005;
/// Terms that reach 1e-17 for every Fourier number from there on.
const ENOUGH_TERMS: usize = 32;
/// Terms that reach 1e-17 from [`UNNOTICED_FOURIER`] on: ζ² passes 40/0.02 with
/// the sixteenth root of any body.
pub(super) const NOTICED_TERMS: usize = 16;

/// Brackets of a cylinder's first roots: they depend on no Biot number.
static CYLINDER: LazyLock<Vec<(f64, f64)>> =
    LazyLock::new(|| (0..ENOUGH_TERMS as u32).map(cylinder_bracket).collect());

/// Zeros of J1 and J0 that follow one another; j(1,n) lies in (n, n + 1/4)·π
/// and j(0,n) in (n − 1/4, n − 1/8)·π (Watson, A Treatise on the Theory of
/// Bessel Functions, ch. XV).
fn cylinder_bracket(index: u32) -> (f64, f64) {
    let n = f64::from(index);
    let low = if index == 0 { 0.0 } else { sign_change(n * PI, (n + 0.25) * PI, j1) };
    (low, sign_change((n + 0.75) * PI, (n + 0.875) * PI, j0))
}

/// A body of one dimension.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Body {
    /// A plane wall of thickness `2l`.
    Wall,
    /// A long cylinder of radius `l`.
    Cylinder,
    /// A sphere of radius `l`.
    Sphere,
}

impl Body {
    /// Two numbers between which the root counted from 0 lies, alone: the
    /// places where the condition's left side is 0 (or −∞) and +∞.
    fn bracket(self, index: u32) -> (f64, f64) {
        let n = f64::from(index);
        match self {
            Body::Wall => (n * PI, (n + 0.5) * PI),
            Body::Cylinder => {
                CYLINDER.get(index as usize).copied().unwrap_or_else(|| cylinder_bracket(index))
            }
            Body::Sphere => (n * PI, (n + 1.0) * PI),
        }
    }

    /// The root's condition, freed of its singularities.
    fn condition(self, biot: f64, root: f64) -> f64 {
        match self {
            Body::Wall => root * root.sin() - biot * root.cos(),
            Body::Cylinder => root * j1(root) - biot * j0(root),
            Body::Sphere if root == 0.0 => -biot,
            Body::Sphere => (1.0 - biot) * root.sin() / root - root.cos(),
        }
    }

    /// The coefficient `C` that goes with a root.
    fn coefficient(self, root: f64) -> f64 {
        let (sin, cos) = root.sin_cos();
        let twice = (2.0 * root).sin();
        match self {
            Body::Wall => 4.0 * sin / (2.0 * root + twice),
            Body::Cylinder => {
                let (a, b) = (j0(root), j1(root));
                2.0 * b / (root * (a * a + b * b))
            }
            Body::Sphere => 4.0 * (sin - root * cos) / (2.0 * root - twice),
        }
    }
}

/// One term of the series: `C·exp(−ζ²·Fo)` at the centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Term {
    /// The root ζ.
    pub root: f64,
    /// The coefficient C.
    pub coefficient: f64,
}

/// The series of one body at one Biot number.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    terms: Vec<Term>,
}

impl Series {
    /// With as many terms as any Fourier number needs.
    ///
    /// # Errors
    /// If the Biot number is not between [`LEAST_BIOT`] and [`GREATEST_BIOT`].
    pub fn new(body: Body, biot: f64) -> Result<Self, BakeError> {
        Self::with_terms(body, biot, ENOUGH_TERMS)
    }

    /// With so many terms, at least one.
    ///
    /// # Errors
    /// As [`Series::new`].
    pub fn with_terms(body: Body, biot: f64, count: usize) -> Result<Self, BakeError> {
        if !(LEAST_BIOT..=GREATEST_BIOT).contains(&biot) {
            return Err(BakeError::Biot(biot));
        }
        let terms = (0_u32..)
            .take(count.max(1))
            .map(|index| {
                let (low, high) = body.bracket(index);
                let root = sign_change(low, high, |x| body.condition(biot, x));
                Term { root, coefficient: body.coefficient(root) }
            })
            .collect();
        Ok(Self { terms })
    }

    /// Its terms, by rising root; never empty.
    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// Natural logarithm of the sum of all terms that count at `fourier`. The
    /// first exponential is taken out of the sum, so that nothing underflows
    /// however late it is.
    fn ln_sum(&self, fourier: f64) -> f64 {
        let first = self.terms.first().map_or(0.0, |t| t.root * t.root);
        let mut sum = 0.0;
        for term in &self.terms {
            let fading = (term.root * term.root - first) * fourier;
            if fading > 60.0 {
                break; // below 1e-26: the rest cannot be seen
            }
            sum += term.coefficient * (-fading).exp();
        }
        sum.ln() - first * fourier
    }

    /// `ln P` at the centre as the bake model takes it: 0 below
    /// [`UNNOTICED_FOURIER`], never above 0.
    pub fn ln_centre(&self, fourier: f64) -> f64 {
        if fourier < UNNOTICED_FOURIER { 0.0 } else { self.ln_sum(fourier).min(0.0) }
    }

    /// `P` at the centre as the bake model takes it: 1 below
    /// [`UNNOTICED_FOURIER`].
    pub fn centre(&self, fourier: f64) -> f64 {
        self.ln_centre(fourier).exp()
    }

    /// θ at the centre by the full series, right down to a Fourier number of
    /// 0, using as many terms as count there.
    pub fn full_centre(&self, fourier: f64) -> f64 {
        if fourier < EXACTLY_ONE_FOURIER { 1.0 } else { self.ln_sum(fourier).exp() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_meet_their_condition_and_rise_over_the_whole_range() -> Result<(), BakeError> {
        for body in [Body::Wall, Body::Cylinder, Body::Sphere] {
            for step in 0..=80 {
                let biot = 10.0_f64.powf(-4.0 + f64::from(step) / 10.0).min(GREATEST_BIOT);
                let series = Series::with_terms(body, biot.max(LEAST_BIOT), 60)?;
                for (index, pair) in series.terms().windows(2).enumerate() {
                    let (a, b) = (pair[0].root, pair[1].root);
                    assert!(a > 0.0 && b - a > 2.0 && b - a < 4.8, "{body:?} {biot} {index}");
                    let slack = 1e-9 * (1.0 + biot) * a.max(1.0);
                    assert!(body.condition(biot, a).abs() < slack, "{body:?} {biot} {a}");
                }
            }
        }
        Ok(())
    }

    #[test]
    fn biot_numbers_out_of_range_are_refused() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-5, 1e5] {
            assert!(Series::new(Body::Wall, bad).is_err());
        }
    }
}
