//! Cooling on the rack, warming up, gas marks.

use ovenbell::bake::{BakeError, Cooling, Shape, WarmUp};
use ovenbell::model::GasMark;
use ovenbell::units::ExactMinutes;

use crate::bake::{celsius, close};

fn cooling(shape: Shape, height: f64, wanted: f64) -> f64 {
    Cooling::default().minutes(&shape, height, celsius(wanted)).unwrap().get()
}

/// Reference minutes for the middle to reach 60, 45, 30 and 25 °C, in whole
/// minutes, from an independent implementation. The reading that gives them:
/// the same product of series as in the oven, the tin's plan and the baked
/// height, **every** face open to the air (half height, radius, half sides).
///
/// Layer and deep round are stated with their sizes and come out to the
/// minute. Of the small cakes only the names are stated: the sizes here are
/// common ones found to give the stated minutes, and so do neighbours of them
/// (a muffin of 7.0 by 4.3 cm, say). For them this is a regression value, no
/// independent check.
#[test]
fn cooling_gives_the_reference_minutes() {
    let round = |across| Shape::round(across).unwrap();
    let cases = [
        ("20 cm layer", round(20.0), 3.5, [32.0, 52.0, 91.0, 122.0]),
        ("15 cm, deep", round(15.0), 5.0, [48.0, 74.0, 121.0, 158.0]),
        ("mini loaf", Shape::rectangular(14.0, 7.2).unwrap(), 5.0, [38.0, 57.0, 95.0, 125.0]),
        ("muffin", round(7.5), 4.0, [26.0, 39.0, 65.0, 86.0]),
        ("fairy cake", round(5.0), 4.0, [19.0, 28.0, 47.0, 63.0]),
        ("mini muffin", round(3.8), 3.1, [13.0, 19.0, 33.0, 44.0]),
    ];
    for (name, shape, height, wanted) in cases {
        for (to, minutes) in [60.0, 45.0, 30.0, 25.0].into_iter().zip(wanted) {
            let found = cooling(shape, height, to);
            println!("{name} to {to} °C: {found:.2} min (reference {minutes})");
            // Half a minute of rounding, and a little: the mini loaf takes
            // 57.504 to 45 °C.
            close(found, minutes, 0.51);
        }
    }
    close(cooling(round(20.0), 3.5, 30.0), 91.2139, 5e-5);
}

#[test]
fn cooling_refuses_nonsense() {
    let tin = Shape::round(20.0).unwrap();
    let minutes = |height, wanted| Cooling::default().minutes(&tin, height, celsius(wanted));
    for wanted in [21.0, 10.0] {
        assert_eq!(minutes(3.5, wanted), Err(BakeError::AirTooWarm { air: 21.0, wanted }));
    }
    for height in [0.0, -1.0, f64::NAN, f64::INFINITY, 51.0] {
        assert!(minutes(height, 30.0).is_err());
    }
    assert_eq!(minutes(3.5, 95.0), Ok(ExactMinutes::ZERO));
    for bad in [f64::NAN, 0.0, f64::INFINITY] {
        for broken in [
            Cooling { conductivity: bad, ..Cooling::default() },
            Cooling { density: bad, ..Cooling::default() },
            Cooling { specific_heat: bad, ..Cooling::default() },
            Cooling { transfer: bad, ..Cooling::default() },
        ] {
            assert!(broken.minutes(&tin, 3.5, celsius(30.0)).is_err());
        }
    }
    let nowhere = Cooling { air: f64::NAN, ..Cooling::default() };
    assert!(nowhere.minutes(&tin, 3.5, celsius(30.0)).is_err());
}

/// 2.5 kW, 14 kJ/K, 6 W/K. Exactly, from 20 to 180 °C:
/// `14000/6·ln(2500/(2500 − 6·160))` = 1130.5 s = 18.84 min. The figure quoted
/// for these three values is 18.7 min, 0.8 % less; no reading of the stated
/// equation gives that to the digit, so the exact value is the test.
#[test]
fn an_oven_warms_up() {
    let oven = WarmUp::default();
    let minutes = |oven: &WarmUp, from, to| oven.minutes(celsius(from), celsius(to));
    let found = minutes(&oven, 20.0, 180.0).unwrap().get();
    close(found, 14000.0 / 6.0 * (2500.0_f64 / 1540.0).ln() / 60.0, 1e-12);
    close(found, 18.84, 0.005);
    close(found / 18.7, 1.0, 0.01);
    assert_eq!(minutes(&oven, 180.0, 160.0), Ok(ExactMinutes::ZERO));
    let beyond = WarmUp { power: 900.0, ..oven };
    assert!(matches!(minutes(&beyond, 20.0, 180.0), Err(BakeError::Unreachable { .. })));
    for bad in [f64::NAN, 0.0, -1.0, f64::INFINITY] {
        assert!(minutes(&WarmUp { power: bad, ..oven }, 20.0, 180.0).is_err());
        assert!(minutes(&WarmUp { capacity: bad, ..oven }, 20.0, 180.0).is_err());
        assert!(minutes(&WarmUp { loss: bad, ..oven }, 20.0, 180.0).is_err());
    }
    assert!(minutes(&WarmUp { room: f64::NAN, ..oven }, 20.0, 180.0).is_err());
}

#[test]
fn measured_minutes_fix_the_oven() {
    let measured = ExactMinutes::new(12.0).unwrap();
    let oven = WarmUp::default().measured(measured, celsius(180.0)).unwrap();
    let minutes = |to| oven.minutes(celsius(20.0), celsius(to)).unwrap().get();
    close(minutes(180.0), 12.0, 1e-9);
    assert!(minutes(200.0) > 13.0 && minutes(160.0) < 11.0);
    assert!(WarmUp::default().measured(ExactMinutes::ZERO, celsius(180.0)).is_err());
    assert!(WarmUp::default().measured(measured, celsius(20.0)).is_err());
}

#[test]
fn gas_marks_are_the_nearest_of_the_table() {
    let marks = [130.0, 140.0, 165.0, 180.0, 200.0, 220.0, 240.0].map(GasMark::nearest);
    assert_eq!(marks.map(|m| m.to_string()), ["½", "1", "3", "4", "6", "7", "9"]);
    assert_eq!(marks[2].range, (160.0, 170.0)); // sources differ
}
