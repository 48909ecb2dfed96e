//! Accuracy on published bake times. `tests/data/tins.csv` holds public
//! figures: bake times of recipes that state them for two or more tins,
//! collected from recipe leaflets, charts and handbooks.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use ovenbell::bake::estimate::model_minutes;
use ovenbell::bake::{Bake, Batter, Calibration, Spread, materials};
use ovenbell::units::ExactMinutes;

use crate::{rect, round};

const RICH: &str = "rich fruit cake";

/// A tin of a recipe, and the middle of its stated minutes.
struct Published {
    tin: String,
    bake: Bake,
    minutes: f64,
}

fn published() -> BTreeMap<String, Vec<Published>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tins.csv");
    let text = fs::read_to_string(path).unwrap();
    let mut recipes: BTreeMap<String, Vec<Published>> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let cell: Vec<&str> = line.split(',').collect();
        let number = |i: usize| cell[i].parse::<f64>().unwrap();
        let bake = match cell[4] {
            "round" => round(number(5), number(7), number(2)),
            _ => rect(number(5), number(6), number(7), number(2)),
        };
        let minutes = f64::midpoint(number(8), number(9));
        let tin = cell[3].to_owned();
        recipes.entry(cell[0].to_owned()).or_default().push(Published { tin, bake, minutes });
    }
    recipes
}

fn calibrate(tin: &Published) -> Calibration {
    let minutes = ExactMinutes::new(tin.minutes).unwrap();
    Calibration::new(tin.bake, minutes, Batter::default()).unwrap()
}

/// ln(predicted/published) by the model and by the rule of thumb: each tin in
/// turn calibrates, the others of its recipe are predicted.
fn errors() -> (Vec<f64>, Vec<f64>) {
    let (mut model, mut rule) = (Vec::new(), Vec::new());
    for (recipe, tins) in published() {
        if recipe == RICH {
            continue;
        }
        for (i, known) in tins.iter().enumerate() {
            let calibration = calibrate(known);
            for (_, other) in tins.iter().enumerate().filter(|(j, _)| *j != i) {
                let estimate = calibration.estimate(&other.bake).unwrap();
                model.push((estimate.usual.get() / other.minutes).ln());
                rule.push((estimate.cross_check / other.minutes).ln());
            }
        }
    }
    (model, rule)
}

fn root_mean_square(errors: &[f64]) -> f64 {
    (errors.iter().map(|e| e * e).sum::<f64>() / errors.len() as f64).sqrt()
}

/// The share of predictions within a factor either way.
fn held(errors: &[f64], factor: f64) -> f64 {
    let within = errors.iter().filter(|e| e.abs() <= factor.ln() + 1e-12).count();
    within as f64 / errors.len() as f64
}

/// The least factor that holds so many of them.
fn fitted(errors: &[f64], share: f64) -> f64 {
    let mut sizes: Vec<f64> = errors.iter().map(|e| e.abs()).collect();
    sizes.sort_by(f64::total_cmp);
    let at = (share * sizes.len() as f64).ceil() as usize;
    sizes[at.clamp(1, sizes.len()) - 1].exp()
}

#[test]
fn published_times_of_other_tins_are_predicted() {
    let (model, rule) = errors();
    let mut relative: Vec<f64> = model.iter().map(|e| (e.exp() - 1.0).abs()).collect();
    relative.sort_by(f64::total_cmp);
    let median = f64::midpoint(relative[(relative.len() - 1) / 2], relative[relative.len() / 2]);
    let rms = root_mean_square(&model);
    println!("{} predictions: median error {:.1} %, rms ln {rms:.4}", model.len(), 100.0 * median);
    println!("rule of thumb: rms ln {:.4}", root_mean_square(&rule));
    assert!(median <= 0.15, "{median}");
    assert!(rms <= 0.225, "{rms}");
    // "About as well as the model."
    assert!(root_mean_square(&rule) <= 0.27);
}

/// The band of 1.31 comes from a larger collection of tins than the one kept
/// here; on these it holds 75 % instead of 80 %. The factors fitted to these
/// alone are 1.354 (80 %) and 1.447 (90 %), which `Spread::of_published_tins`
/// rounds up.
#[test]
fn the_bands_hold_what_they_say() {
    let (model, _) = errors();
    let (plain, wide) = (Spread::default(), Spread::of_published_tins());
    for (name, spread) in [("default", plain), ("published tins", wide)] {
        println!(
            "{name}: ×{} holds {:.1} %, ×{} holds {:.1} %",
            spread.eighty,
            100.0 * held(&model, spread.eighty),
            spread.ninety,
            100.0 * held(&model, spread.ninety)
        );
    }
    let (fit_80, fit_90) = (fitted(&model, 0.8), fitted(&model, 0.9));
    println!("fitted: 80 % ×{fit_80:.4}, 90 % ×{fit_90:.4}");
    assert!((0.75..=0.85).contains(&held(&model, plain.eighty)));
    assert!((0.85..=0.95).contains(&held(&model, plain.ninety)));
    assert!((0.80..=0.85).contains(&held(&model, wide.eighty)));
    assert!((0.90..=0.95).contains(&held(&model, wide.ninety)));
    assert!((0.0..0.01).contains(&(materials::BAND_80_TINS.value - fit_80)));
    assert!((0.0..0.01).contains(&(materials::BAND_90_TINS.value - fit_90)));
}

#[test]
fn rich_fruit_cake_is_another_kind_of_cake_and_only_it() {
    for (recipe, tins) in published() {
        for tin in tins {
            let calibration = calibrate(&tin);
            assert_eq!(
                calibration.warning().is_some(),
                recipe == RICH,
                "{recipe}, {}: κ {}",
                tin.tin,
                calibration.kappa()
            );
            assert!(model_minutes(&tin.bake, &Batter::default()).is_ok());
        }
    }
}
