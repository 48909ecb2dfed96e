//! How long it takes to say what is expected of tins.
//!
//! `cargo bench --no-default-features --bench bake`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use ovenbell::bake::{Bake, Batter, Calibration, Shape, TinSpec};
use ovenbell::units::{Celsius, ExactMinutes, Millilitres};

/// Tins as a food room has them, and millilitres of batter in each.
const TINS: [(&str, f64); 12] = [
    ("rect:20cm", 585.0),
    ("rect:18cm", 585.0),
    ("round:18cm", 395.0),
    ("round:20cm", 683.0),
    ("round:15cm", 341.0),
    ("rect:28x18cm", 790.0),
    ("hole:7x5.4cm", 38.0),
    ("hole:7x5.8cm", 54.0),
    ("hole:8.5x6.5cm", 108.0),
    ("hole:4.6x3.6cm", 27.0),
    ("rect:14.5x12cm", 293.0),
    ("rect:16x8cm", 585.0),
];

fn bake(shape: Shape, ml: f64) -> Bake {
    let (volume, oven) = (Millilitres::new(ml).unwrap(), Celsius::BAKING);
    Bake { shape, volume, oven, fan: false }
}

fn calibrated() -> Calibration {
    let minutes = ExactMinutes::new(25.0).unwrap();
    let own = bake(Shape::rectangular(20.0, 20.0).unwrap(), 585.0);
    Calibration::new(own, minutes, Batter::default()).unwrap()
}

/// Milliseconds one call takes: the least of ten runs of a tenth of a second.
fn measure<T>(name: &str, mut call: impl FnMut() -> T) {
    let run = |call: &mut dyn FnMut()| {
        let (begun, mut calls) = (Instant::now(), 0_u32);
        while begun.elapsed() < Duration::from_millis(100) {
            call();
            calls += 1;
        }
        begun.elapsed().as_secs_f64() * 1000.0 / f64::from(calls)
    };
    let mut one = || {
        black_box(call());
    };
    let least = (0..10).map(|_| run(&mut one)).fold(f64::INFINITY, f64::min);
    println!("{name}: {least:.4} ms");
}

fn main() {
    let calibration = calibrated();
    let tins: Vec<(TinSpec, f64)> =
        TINS.into_iter().map(|(spec, ml)| (spec.parse().unwrap(), ml)).collect();
    let outlook = |(tin, ml): &(TinSpec, f64)| {
        let capacity = tin.capacity(5.0).unwrap();
        calibration.outlook(&bake(tin.shape(), *ml), Some(capacity)).unwrap()
    };
    let one = bake(tins[7].0.shape(), tins[7].1);
    measure("minutes of one tin", || calibration.estimate(black_box(&one)).unwrap());
    measure("one tin with its cooling", || outlook(black_box(&tins[7])));
    measure("twelve tins of a recipe", || {
        black_box(calibrated());
        black_box(&tins).iter().map(outlook).collect::<Vec<_>>()
    });
}
