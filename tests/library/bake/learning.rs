//! Outcomes of the class's own bakes.

use ovenbell::bake::{Bake, Batter, Calibration, Outcome};
use ovenbell::units::ExactMinutes;

use crate::bake::{close, round};

fn minutes(value: f64) -> ExactMinutes {
    ExactMinutes::new(value).unwrap()
}

fn recipe() -> Calibration {
    Calibration::new(round(20.0, 1000.0, 180.0), minutes(50.0), Batter::default()).unwrap()
}

fn tin() -> Bake {
    round(6.0, 60.0, 180.0)
}

fn took(values: &[f64]) -> Calibration {
    let outcomes: Vec<_> = values.iter().map(|v| Outcome::new(tin(), minutes(*v))).collect();
    recipe().learned(&outcomes).unwrap()
}

fn usual(calibration: &Calibration) -> f64 {
    calibration.estimate(&tin()).unwrap().usual.get()
}

/// By hand: σ of an estimate ln 1.36/1.281552 = 0.23993, of a bake 0.1, so of
/// a tin about its recipe √(0.23993² − 0.1²) = 0.21810. One bake 20 % longer
/// than expected moves ln κ by 0.21810²/(0.21810² + 0.1²) = 0.82629 of ln 1.2;
/// the next is then uncertain by √(0.82629·0.1² + 0.1²) = 0.13514.
#[test]
fn one_bake_moves_the_estimate_by_its_certainty() {
    let before = usual(&recipe());
    let after = took(&[1.2 * before]);
    close((usual(&after) / before).ln(), 0.82629 * 1.2_f64.ln(), 1e-4);
    close(after.spread.eighty, (1.281552 * 0.13514_f64).exp(), 1e-4);
    close(after.spread.ninety, (1.644854 * 0.13514_f64).exp(), 1e-4);
}

#[test]
fn the_band_narrows_to_what_the_bakes_say() {
    let before = usual(&recipe());
    let wanted = 1.3 * before;
    let mut band = recipe().spread.eighty;
    for count in 1..=8 {
        let after = took(&vec![wanted; count]);
        assert!(after.spread.eighty < band);
        band = after.spread.eighty;
    }
    close(usual(&took(&[wanted; 8])) / wanted, 1.0, 0.02);
    // Never below the spread of one bake.
    assert!(took(&[wanted; 100]).spread.eighty > (1.281552 * 0.1_f64).exp());
}

/// Bakes that scatter by half and more do not make anyone sure.
#[test]
fn scattered_bakes_widen_it_again() {
    let before = usual(&recipe());
    let (steady, wild) = ([1.0, 1.0, 1.0, 1.0], [0.6, 1.5, 0.7, 1.6]);
    let of = |shares: [f64; 4]| took(&shares.map(|s| s * before)).spread.eighty;
    assert!(of(wild) > 1.3 && of(steady) < 1.18, "{} {}", of(wild), of(steady));
}

#[test]
fn nothing_learned_changes_nothing_and_nonsense_is_refused() {
    assert_eq!(took(&[]), recipe());
    assert!(recipe().learned(&[Outcome::new(tin(), ExactMinutes::ZERO)]).is_err());
    for sigma in [0.0, -0.1, f64::NAN, f64::INFINITY] {
        let outcome = Outcome { sigma, ..Outcome::new(tin(), minutes(20.0)) };
        assert!(recipe().learned(&[outcome]).is_err());
    }
}
