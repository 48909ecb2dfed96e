//! Customary bake times of the trade (common practice, no published source)
//! beside what the model makes of the recipes' buns and muffins.
//!
//! Recipes, tins and their minutes are the project's own (common practice):
//! a bun case 6.2 cm across, a muffin case 6.4, a large one 7.5. Volumes: the
//! foam of three eggs 790 ml; the all-in-one batter 0.92 g/ml; the muffin
//! mixture 1.0 g/ml (assumed); the melted batter 1.1 g/ml.

use ovenbell::bake::{Bake, Batter, Calibration, Estimate, Shape};
use ovenbell::units::{Celsius, ExactMinutes, Grams, Millilitres};

/// A recipe's buns or muffins, as they are known to bake.
#[derive(Clone, Copy)]
struct Known {
    bake: Bake,
    minutes: f64,
    batter: Batter,
}

/// A bake the trade has a range for.
pub struct Case {
    pub name: &'static str,
    known: Known,
    /// The bake asked about.
    pub asked: Bake,
    /// Customary minutes, from and to.
    pub customary: (f64, f64),
    /// Where they come from.
    pub source: &'static str,
}

const THUMB: &str = "rule of thumb of the trade";
const OWN: &str = "the recipe's own row";

fn round(across: f64, ml: f64, celsius: f64) -> Bake {
    bake(Shape::round(across).unwrap(), ml, celsius)
}

fn bake(shape: Shape, ml: f64, celsius: f64) -> Bake {
    let (volume, oven) = (Millilitres::new(ml).unwrap(), Celsius::new(celsius).unwrap());
    Bake { shape, volume, oven, fan: false }
}

fn batter(grams: f64, ml: f64) -> Batter {
    let (weight, volume) = (Grams::new(grams).unwrap(), Millilitres::new(ml).unwrap());
    Batter::default().weighed(weight, volume).unwrap()
}

/// Twelve cases of a batch, in an oven at so many °C.
fn twelve(across: f64, grams: f64, ml: f64, celsius: f64, minutes: f64) -> Known {
    Known { bake: round(across, ml / 12.0, celsius), minutes, batter: batter(grams, ml) }
}

/// All of them.
pub fn cases() -> Vec<Case> {
    let foam = twelve(6.2, 300.0, 790.0, 190.0, 10.0);
    let lemon = twelve(6.2, 419.0, 455.0, 180.0, 14.0);
    let muffins = twelve(6.4, 650.0, 650.0, 200.0, 18.0);
    let ginger = twelve(6.4, 643.0, 585.0, 180.0, 14.0);
    let square = |ml, celsius| bake(Shape::rectangular(20.0, 20.0).unwrap(), ml, celsius);
    let loaf = bake(Shape::rectangular(16.0, 8.0).unwrap(), 585.0, 160.0);
    let two_18 = |batch, celsius| round(18.0, batch / 2.0, celsius);
    let large = round(7.5, 650.0 / 6.0, 200.0);
    let mini = round(4.1, 650.0 / 24.0, 200.0);
    let (three_eggs, four_eggs) = (1.5 * 455.0, 2.0 * 455.0);
    let all = [
        ("whisked, two 18 cm, 190 °C", foam, two_18(790.0, 190.0), (15.0, 20.0), THUMB),
        ("whisked, two 18 cm, 190 °C", foam, two_18(790.0, 190.0), (11.0, 14.0), OWN),
        ("whisked, 20 cm deep, 180 °C", foam, round(20.0, 790.0, 180.0), (20.0, 26.0), OWN),
        ("all-in-one, two 18 cm, 190 °C", lemon, two_18(three_eggs, 190.0), (25.0, 30.0), THUMB),
        (
            "all-in-one, two 20 cm, four eggs, 190 °C",
            lemon,
            round(20.0, four_eggs / 2.0, 190.0),
            (25.0, 30.0),
            THUMB,
        ),
        ("all-in-one, two 18 cm, 180 °C", lemon, two_18(three_eggs, 180.0), (20.0, 25.0), OWN),
        ("all-in-one, 20 cm square, 180 °C", lemon, square(three_eggs, 180.0), (24.0, 29.0), OWN),
        ("muffins, large cases, 200 °C", muffins, large, (25.0, 30.0), THUMB),
        ("muffins, large cases, 200 °C", muffins, large, (23.0, 28.0), OWN),
        ("muffins, mini cases, 200 °C", muffins, mini, (10.0, 13.0), OWN),
        ("melted, 20 cm square, 170 °C", ginger, square(585.0, 170.0), (23.0, 28.0), OWN),
        ("melted, 1 lb loaf, 160 °C", ginger, loaf, (45.0, 55.0), OWN),
    ];
    all.map(|(name, known, asked, customary, source)| Case {
        name,
        known,
        asked,
        customary,
        source,
    })
    .into()
}

impl Case {
    /// What the model makes of it.
    pub fn estimate(&self) -> Estimate {
        self.calibration().estimate(&self.asked).unwrap()
    }

    /// The model calibrated on the buns or muffins.
    pub fn calibration(&self) -> Calibration {
        let minutes = ExactMinutes::new(self.known.minutes).unwrap();
        Calibration::new(self.known.bake, minutes, self.known.batter).unwrap()
    }

    /// Whether the 80 % band and the customary range have minutes in common.
    pub fn overlaps(&self) -> bool {
        let (low, high) = self.estimate().eighty;
        low.get() <= self.customary.1 && high.get() >= self.customary.0
    }
}
