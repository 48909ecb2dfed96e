//! How hot an oven is, by four scales.

use super::fault::ConvertError;
use super::unit::Unit;
use crate::model::{FAN_KELVINS, GasMark};
use crate::units::Celsius;

/// The other customary difference of a fan oven: some tables take 25 K.
const FAN_KELVINS_AT_MOST: f64 = 25.0;
/// A temperature this far outside the table of gas marks has no mark.
const BEYOND_MARKS: f64 = 15.0;

/// A temperature without a fan, and what tables that differ make of it, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Heat {
    pub celsius: f64,
    pub range: (f64, f64),
}

fn plain(celsius: f64) -> Heat {
    Heat { celsius, range: (celsius, celsius) }
}

/// The temperature without a fan that a figure on one of the scales stands for.
pub(super) fn heat(figure: f64, unit: Unit) -> Result<Heat, ConvertError> {
    let heat = match unit {
        Unit::Fahrenheit => plain((figure - 32.0) * 5.0 / 9.0),
        Unit::Fan => Heat {
            celsius: figure + FAN_KELVINS,
            range: (figure + FAN_KELVINS, figure + FAN_KELVINS_AT_MOST),
        },
        Unit::Gas => {
            let mark = GasMark::TABLE.into_iter().find(|m| (m.mark - figure).abs() < 1e-9);
            let mark = mark.ok_or(ConvertError::NotAMark(figure))?;
            Heat { celsius: mark.celsius, range: mark.range }
        }
        _ => plain(figure),
    };
    Celsius::new(heat.celsius)?;
    Ok(heat)
}

/// A temperature on one of the scales, and the range tables give for it.
pub(super) fn on_scale(heat: Heat, unit: Unit) -> Result<(f64, (f64, f64)), ConvertError> {
    let Heat { celsius, range: (low, high) } = heat;
    let fahrenheit = |c: f64| c * 9.0 / 5.0 + 32.0;
    Ok(match unit {
        Unit::Fahrenheit => (fahrenheit(celsius), (fahrenheit(low), fahrenheit(high))),
        Unit::Fan => (celsius - FAN_KELVINS, (low - FAN_KELVINS_AT_MOST, high - FAN_KELVINS)),
        Unit::Gas => {
            let mark = GasMark::nearest(celsius);
            if (mark.celsius - celsius).abs() > BEYOND_MARKS {
                return Err(ConvertError::NoMark(celsius));
            }
            (mark.mark, (mark.mark, mark.mark))
        }
        _ => (celsius, (low, high)),
    })
}
