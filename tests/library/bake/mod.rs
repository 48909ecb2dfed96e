//! Bake times, cooling and ovens against published tables and times.
//!
//! Sources. Coefficients of transient conduction: any heat-transfer textbook
//! prints them to four figures (Incropera & DeWitt, Fundamentals of Heat and
//! Mass Transfer, table 5.1); here to six, computed independently with SciPy
//! (`brentq` on each root's condition). Worked examples: Incropera & DeWitt
//! and Çengel, answers and numbers from memory of the books. Regression values
//! of the bake model: an independent implementation on SciPy roots, 12 terms.

mod accuracy;
mod cakes;
mod customary;
mod finite_difference;
mod learning;
mod properties;
mod rooms;
mod textbook;

use ovenbell::bake::{Bake, Shape};
use ovenbell::units::{Celsius, Millilitres};

fn celsius(value: f64) -> Celsius {
    Celsius::new(value).unwrap()
}

fn bake(shape: Shape, millilitres: f64, oven: f64) -> Bake {
    Bake { shape, volume: Millilitres::new(millilitres).unwrap(), oven: celsius(oven), fan: false }
}

fn round(across: f64, millilitres: f64, oven: f64) -> Bake {
    bake(Shape::round(across).unwrap(), millilitres, oven)
}

fn rect(long: f64, wide: f64, millilitres: f64, oven: f64) -> Bake {
    bake(Shape::rectangular(long, wide).unwrap(), millilitres, oven)
}

#[track_caller]
fn close(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted} within {within}");
}
