//! The bake model itself: regression values, calibration, nonsense, company.

use ovenbell::bake::compromise::{Guest, share_oven, temperature};
use ovenbell::bake::estimate::model_minutes;
use ovenbell::bake::{BakeError, Batter, Calibration, Shape};
use ovenbell::units::{ExactMinutes, Grams, Kelvins, Millilitres};

use crate::bake::{bake, celsius, close, rect, round};

fn minutes(bake: ovenbell::bake::Bake) -> f64 {
    model_minutes(&bake, &Batter::default()).unwrap().get()
}

fn calibrated(recipe: ovenbell::bake::Bake, minutes: f64) -> Calibration {
    let minutes = ExactMinutes::new(minutes).unwrap();
    Calibration::new(recipe, minutes, Batter::default()).unwrap()
}

/// An independent implementation on SciPy roots, 12 terms.
#[test]
fn uncalibrated_minutes_are_those_of_the_reference() {
    close(minutes(round(20.0, 1000.0, 180.0)), 52.537260, 1e-5);
    close(minutes(round(15.0, 500.0, 180.0)), 41.801298, 1e-5);
    close(minutes(rect(22.0, 11.5, 1000.0, 170.0)), 59.410683, 1e-5);
    close(minutes(round(6.0, 60.0, 180.0)), 20.582628, 1e-5);
    close(minutes(round(3.8, 20.0, 180.0)), 13.994444, 1e-5);
}

#[test]
fn the_recipes_own_tin_gives_the_recipes_own_minutes() {
    let recipe = round(20.0, 1000.0, 180.0);
    let calibration = calibrated(recipe, 50.0);
    close(calibration.kappa(), 50.0 / 52.537260, 1e-6);
    let estimate = calibration.estimate(&recipe).unwrap();
    close(estimate.usual.get(), 50.0, 1e-9);
    close(estimate.cross_check, 50.0, 1e-9);
    close(estimate.eighty.0.get(), 50.0 / 1.36, 1e-9);
    close(estimate.eighty.1.get(), 50.0 * 1.36, 1e-9);
    close(estimate.ninety.1.get(), 50.0 * 1.45, 1e-9);
    assert!(estimate.disagreement.is_none() && calibration.warning().is_none());
    assert_eq!(
        estimate.to_string(),
        "check from 36, expect 50, at latest 68, and by the done test" // 36.76
    );
}

#[test]
fn suspicious_minutes_are_questioned() {
    let recipe = round(20.0, 1000.0, 180.0);
    for (share, wanted) in [(0.5, true), (0.56, false), (1.59, false), (1.7, true)] {
        let warning = calibrated(recipe, share * 52.537260).warning();
        assert_eq!(warning.is_some(), wanted, "{share}");
    }
    let words = calibrated(recipe, 120.0).warning().unwrap().to_string();
    assert!(words.starts_with("the recipe's minutes are 2.28 times"), "{words}");
}

/// With its own density a whisked foam is an ordinary cake again: the same
/// minutes give κ larger by 900/450 exactly, since θ depends on α·t.
#[test]
fn a_foam_needs_its_own_density() {
    let recipe = round(20.0, 1000.0, 180.0);
    let foam = Batter::default()
        .weighed(Grams::new(450.0).unwrap(), Millilitres::new(1000.0).unwrap())
        .unwrap();
    let stated = ExactMinutes::new(25.0).unwrap();
    let plain = Calibration::new(recipe, stated, Batter::default()).unwrap();
    let own = Calibration::new(recipe, stated, foam).unwrap();
    close(own.kappa(), 2.0 * plain.kappa(), 1e-9);
    assert!(plain.warning().is_some() && own.warning().is_none());
}

/// The customary "20 °C lower with a fan", from which 1.215 was fitted:
/// between 180 and 160 °C the minutes come out even within 2 %.
#[test]
fn a_fan_is_worth_twenty_degrees() {
    for recipe in [round(20.0, 1000.0, 180.0), rect(22.0, 11.5, 1000.0, 180.0)] {
        let mut fan = recipe;
        fan.oven = celsius(160.0);
        fan.fan = true;
        let ratio = minutes(fan) / minutes(recipe);
        println!("fan at 160 °C over none at 180 °C: {ratio:.4}");
        close(ratio, 1.0, 0.02);
    }
}

#[test]
fn model_and_rule_of_thumb_are_compared() {
    let calibration = calibrated(round(20.0, 1000.0, 180.0), 50.0);
    let near = calibration.estimate(&round(18.0, 800.0, 180.0)).unwrap();
    assert!(near.disagreement.is_none());
    // A film of batter on a large tray: the rule has no use for the heat that
    // has to get in through the air.
    let film = calibration.estimate(&rect(38.0, 25.0, 80.0, 180.0)).unwrap();
    let finding = film.disagreement.expect("they differ");
    assert!(finding.rule < finding.model / 1.36, "{finding}");
    assert!(finding.to_string().contains("two ways of working it out differ"));
}

#[test]
fn nonsense_is_an_error_never_a_number() {
    let batter = Batter::default();
    let fault = |bake, batter| model_minutes(&bake, &batter).unwrap_err();
    assert_eq!(fault(round(20.0, 0.0, 180.0), batter), BakeError::NoDepth);
    for oven in [20.0, 95.0, 96.0] {
        let wanted = BakeError::OvenTooCold { oven, end: 96.0 };
        assert_eq!(fault(round(20.0, 1000.0, oven), batter), wanted);
    }
    assert!(matches!(fault(round(5.0, 9e4, 180.0), batter), BakeError::TooDeep { .. }));
    let hot = Batter { start: 97.0, ..batter };
    assert!(matches!(fault(round(20.0, 1000.0, 180.0), hot), BakeError::StartsBaked { .. }));
    for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
        for broken in [
            Batter { conductivity: bad, ..batter },
            Batter { transfer: bad, ..batter },
            Batter { rise: bad, ..batter },
            Batter { density: bad, ..batter },
            Batter { specific_heat: bad, ..batter },
        ] {
            fault(round(20.0, 1000.0, 180.0), broken);
        }
        if !bad.is_finite() {
            fault(round(20.0, 1000.0, 180.0), Batter { start: bad, ..batter });
            fault(round(20.0, 1000.0, 180.0), Batter { end: bad, ..batter });
        }
        assert!(Shape::round(bad).is_err());
    }
    let none = Calibration::new(round(20.0, 1000.0, 180.0), ExactMinutes::ZERO, batter);
    assert!(none.is_err());
}

#[test]
fn two_bakes_share_an_oven_within_their_tolerances() {
    let guest = |bake: ovenbell::bake::Bake, tolerance| Guest {
        calibration: calibrated(bake, 20.0),
        bake,
        tolerance: Kelvins::new(tolerance).unwrap(),
    };
    let buns = round(6.0, 60.0, 190.0);
    let brownies = bake(Shape::rectangular(20.0, 20.0).unwrap(), 800.0, 170.0);
    let shared = share_oven(&guest(buns, 10.0), &guest(brownies, 15.0)).unwrap();
    // 190 gives way by 8 of 10, 170 by 12 of 15: 182, on the dial 180.
    assert_eq!(shared.oven, celsius(180.0));
    assert!(shared.first.usual.get() > 20.0 && shared.second.usual.get() < 20.0);
    // No tolerance: its own temperature or none.
    let strict = temperature(&guest(buns, 0.0), &guest(brownies, 20.0)).unwrap();
    assert_eq!(strict, celsius(190.0));
    // The dial's step lies outside: exactly between.
    let between = temperature(&guest(round(6.0, 60.0, 184.0), 1.0), &guest(buns, 5.0));
    assert_eq!(between, Ok(celsius(185.0)));
    let narrow =
        temperature(&guest(round(6.0, 60.0, 186.0), 1.0), &guest(round(6.0, 60.0, 188.0), 1.0));
    assert_eq!(narrow, Ok(celsius(187.0)));
    let apart = temperature(&guest(buns, 5.0), &guest(brownies, 10.0));
    assert!(matches!(apart, Err(BakeError::NoCompromise { .. })));
}
