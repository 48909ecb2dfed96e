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
    /// Lowest and highest temperature it accepts, °C.
    fn range(&self) -> (f64, f64) {
        let (celsius, give) = (self.bake.oven.get(), self.tolerance.get().max(0.0));
        (celsius - give, celsius + give)
    }

    fn accepts(&self) -> String {
        let (low, high) = self.range();
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

/// The temperature that uses the same share of both tolerances, so that
/// neither gives way more than it must: on the nearest 5 °C of the dial if
/// both accept that, else exactly. A bake without tolerance gets its own.
///
/// # Errors
/// If no temperature suits both, or one of them never bakes at it.
pub fn temperature(first: &Guest, second: &Guest) -> Result<Celsius, BakeError> {
    let ((low_a, high_a), (low_b, high_b)) = (first.range(), second.range());
    let (low, high) = (low_a.max(low_b), high_a.min(high_b));
    if low > high {
        return Err(BakeError::NoCompromise { first: first.accepts(), second: second.accepts() });
    }
    let (give_a, give_b) = (high_a - low_a, high_b - low_b);
    let (own_a, own_b) = (first.bake.oven.get(), second.bake.oven.get());
    let even = if give_a + give_b > 0.0 {
        (own_a * give_b + own_b * give_a) / (give_a + give_b)
    } else {
        own_a
    };
    let dial = (even / DIAL_STEP).round() * DIAL_STEP;
    let chosen = if (low..=high).contains(&dial) { dial } else { even.clamp(low, high) };
    Ok(Celsius::new(chosen)?)
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
