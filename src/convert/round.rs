//! Figures rounded as a kitchen needs them.

use super::Quantity;
use super::unit::Unit;

/// Rounding that moves a figure by more than this share is too coarse.
const COARSE: f64 = 0.12;

/// The figure to weigh out or to set a dial to.
pub(super) fn for_kitchen(exact: Quantity, from: Unit) -> f64 {
    let figure = exact.figure;
    let step = match exact.unit {
        // Round figures in °F are custom for round ones in °C, not their exact
        // equals: 350 °F is called 180 °C.
        Unit::Celsius | Unit::Fan if from == Unit::Fahrenheit => 10.0,
        Unit::Celsius | Unit::Fan => 5.0,
        Unit::Fahrenheit => 25.0,
        Unit::Gas | Unit::Egg(_) => return figure,
        Unit::Gram | Unit::Millilitre => match figure {
            f if f < 10.0 => 0.5,
            f if f < 100.0 => 1.0,
            f if f < 500.0 => 5.0,
            _ => 10.0,
        },
        Unit::Kilogram | Unit::Litre => 0.05,
        Unit::Millimetre => 1.0,
        Unit::Centimetre => 0.5,
        Unit::Inch if figure >= 4.0 => 0.5,
        Unit::Ounce | Unit::UsFluidOunce | Unit::UkFluidOunce if figure >= 4.0 => 0.5,
        Unit::Tablespoon(_) => 0.5,
        _ => 0.25,
    };
    let rounded = (figure / step).round() * step;
    let dial = matches!(exact.unit, Unit::Celsius | Unit::Fan | Unit::Fahrenheit);
    if dial || (rounded - figure).abs() <= COARSE * figure { rounded } else { two_digits(figure) }
}

fn two_digits(figure: f64) -> f64 {
    let step = 10.0_f64.powf(figure.log10().floor() - 1.0);
    let rounded = (figure / step).round() * step;
    if rounded.is_finite() { rounded } else { figure }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_round_but_not_coarse() {
        let cases = [
            (473.176, Unit::Millilitre, 475.0),
            (28.35, Unit::Gram, 28.0),
            (7.1, Unit::Gram, 7.0),
            (0.13, Unit::Gram, 0.13),
            (2.113, Unit::Cup(crate::convert::Spoons::Us), 2.0),
            (0.34, Unit::Cup(crate::convert::Spoons::Us), 0.34),
            (9.055, Unit::Inch, 9.0),
            (22.86, Unit::Centimetre, 23.0),
            (356.0, Unit::Fahrenheit, 350.0),
        ];
        for (figure, unit, wanted) in cases {
            let found = for_kitchen(Quantity { figure, unit }, Unit::Gram);
            assert!((found - wanted).abs() < 1e-9, "{figure} {unit:?}: {found}");
        }
    }

    /// The customary UK table of °F beside °C, from memory.
    #[test]
    fn ovens_follow_the_customary_table() {
        let table = [
            (275.0, 140.0),
            (300.0, 150.0),
            (325.0, 160.0),
            (350.0, 180.0),
            (375.0, 190.0),
            (400.0, 200.0),
            (425.0, 220.0),
            (450.0, 230.0),
        ];
        for (fahrenheit, celsius) in table {
            let exact = Quantity { figure: (fahrenheit - 32.0) / 1.8, unit: Unit::Celsius };
            assert_eq!(for_kitchen(exact, Unit::Fahrenheit), celsius);
            let back = Quantity { figure: celsius * 1.8 + 32.0, unit: Unit::Fahrenheit };
            assert_eq!(for_kitchen(back, Unit::Celsius), fahrenheit);
        }
    }
}
