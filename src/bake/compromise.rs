//! One oven temperature for two bakes that tolerate it.

use super::estimate::{Bake, Calibration, Estimate};
use super::fault::BakeError;
use crate::units::{Celsius, Kelvins};

/// Dials are set in steps of this many kelvins.
const DIAL_STEP: f64 = 5.0;

/// A bake that might share its oven.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guest {
    /// Its recipe's figure.
    pub calibration: Calibration,
    /// The tin, at the temperature its recipe wants.
    pub bake: Bake,
    /// Up to this far from that temperature it still bakes well; not negative.
    pub tolerance: Kelvins,
}

impl Guest {
    fn wish(&self) -> (Celsius, Kelvins) {
        (self.bake.oven, self.tolerance)
    }

    fn accepts(&self) -> String {
        let (low, high) = range(self.wish());
        format!("{low:.0} to {high:.0} °C")
    }
}

/// One temperature, and what each bake takes at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compromise {
    /// The oven, °C.
    pub oven: Celsius,
    /// The first bake.
    pub first: Estimate,
    /// The second bake.
    pub second: Estimate,
}

/// What two bakes may share, each at its own temperature give or take its
/// tolerance: the temperature that uses the same share of both tolerances, so
/// that neither gives way more than it must; on the nearest 5 °C of the dial
/// if both accept that, else exactly. A bake without tolerance gets its own.
/// `None` if no temperature suits both.
pub fn between(first: (Celsius, Kelvins), second: (Celsius, Kelvins)) -> Option<Celsius> {
    let ((low_a, high_a), (low_b, high_b)) = (range(first), range(second));
    let (low, high) = (low_a.max(low_b), high_a.min(high_b));
    if low > high {
        return None;
    }
    let (give_a, give_b) = (high_a - low_a, high_b - low_b);
    let (own_a, own_b) = (first.0.get(), second.0.get());
    let even = if give_a + give_b > 0.0 {
        (own_a * give_b + own_b * give_a) / (give_a + give_b)
    } else {
        own_a
    };
    let dial = (even / DIAL_STEP).round() * DIAL_STEP;
    let chosen = if (low..=high).contains(&dial) { dial } else { even.clamp(low, high) };
    Celsius::new(chosen).ok()
}

/// Lowest and highest temperature that is accepted, °C.
fn range((celsius, tolerance): (Celsius, Kelvins)) -> (f64, f64) {
    let give = tolerance.get().max(0.0);
    (celsius.get() - give, celsius.get() + give)
}

/// The temperature [`between`] two bakes.
///
/// # Errors
/// If no temperature suits both.
pub fn temperature(first: &Guest, second: &Guest) -> Result<Celsius, BakeError> {
    between(first.wish(), second.wish())
        .ok_or_else(|| BakeError::NoCompromise { first: first.accepts(), second: second.accepts() })
}

/// Both bakes in one oven, each with its own minutes.
///
/// # Errors
/// As [`temperature`] and [`Calibration::estimate`].
pub fn share_oven(first: &Guest, second: &Guest) -> Result<Compromise, BakeError> {
    let oven = temperature(first, second)?;
    let at = |guest: &Guest| guest.calibration.estimate(&Bake { oven, ..guest.bake });
    Ok(Compromise { oven, first: at(first)?, second: at(second)? })
}
