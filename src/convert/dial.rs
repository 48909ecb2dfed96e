//! What an oven's dial is set to in the United States where ours says °C.
//!
//! Round figures are called by round figures: 350 °F for 180 °C, by the
//! customary table (from memory; `round` has the same). Between them a dial
//! goes in steps of 5 °F, so that 170 and 180 °C do not become one.

/// The customary pairs, °C and °F.
const TABLE: [(f64, f64); 8] = [
    (140.0, 275.0),
    (150.0, 300.0),
    (160.0, 325.0),
    (180.0, 350.0),
    (190.0, 375.0),
    (200.0, 400.0),
    (220.0, 425.0),
    (230.0, 450.0),
];
/// Steps of a dial, °C and °F.
const STEPS: (f64, f64) = (5.0, 5.0);

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// °F on a dial for °C.
pub fn of_celsius(celsius: f64) -> f64 {
    let row = TABLE.iter().find(|(c, _)| near(*c, celsius));
    row.map_or_else(|| ((celsius * 1.8 + 32.0) / STEPS.1).round() * STEPS.1, |(_, f)| *f)
}

/// °C for °F on a dial: what [`of_celsius`] would show as that figure, or else
/// the exact one to a tenth.
pub fn to_celsius(fahrenheit: f64) -> f64 {
    if let Some((celsius, _)) = TABLE.iter().find(|(_, f)| near(*f, fahrenheit)) {
        return *celsius;
    }
    let exact = (fahrenheit - 32.0) / 1.8;
    let round = (exact / STEPS.0).round() * STEPS.0;
    if near(of_celsius(round), fahrenheit) { round } else { (exact * 10.0).round() / 10.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::convert::{Quantity, Unit, convert};

    #[test]
    fn a_dial_goes_there_and_back() {
        let mut celsius = 140.0;
        while celsius <= 280.0 {
            let back = to_celsius(of_celsius(celsius));
            // The custom of calling 200 °C 400 °F leaves no figure of its own
            // to 205 °C.
            let apart = if near(celsius, 205.0) { 5.0 } else { 1e-6 };
            assert!((back - celsius).abs() <= apart, "{celsius}: {back}");
            celsius += 5.0;
        }
        assert!(near(to_celsius(352.0), 177.8));
        assert!(near(of_celsius(170.0), 340.0) && near(to_celsius(340.0), 170.0));
    }

    #[test]
    fn the_table_agrees_with_the_rounding_of_conversions() {
        for (celsius, fahrenheit) in TABLE.into_iter().filter(|(c, _)| (140.0..=230.0).contains(c))
        {
            let asked = Quantity { figure: celsius, unit: Unit::Celsius };
            let told = convert(asked, Some(Unit::Fahrenheit), None).map(|c| c.answers[0].kitchen);
            assert!(told.is_ok_and(|f| near(f, fahrenheit)), "{celsius}");
        }
    }
}
