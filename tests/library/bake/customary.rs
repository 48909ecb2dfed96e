//! Customary bake times of the trade against the model, calibrated on the
//! buns and muffins of recipes of the same method.

use crate::bake::celsius;
use crate::common::customary::cases;

/// The computed band overlaps the customary range. Of the usual minutes less
/// can be said: those of the sandwich tins lie below the trade's 15 to 20 and
/// 25 to 30 min, and so do the recipes' own rows; those of the mini cases lie
/// above.
#[test]
fn the_computed_band_overlaps_what_is_customary() {
    /// Usual minutes that lie within the customary range.
    const INSIDE: usize = 5;
    let (mut misses, mut inside) = (Vec::new(), 0);
    for case in cases() {
        let estimate = case.estimate();
        let (low, high) = (estimate.eighty.0.get(), estimate.eighty.1.get());
        println!(
            "{}: {:.1} ({low:.1} to {high:.1}), {}: {:?}, κ {:.2}",
            case.name,
            estimate.usual.get(),
            case.source,
            case.customary,
            case.calibration().kappa()
        );
        if !case.overlaps() {
            misses.push(case.name);
        }
        let (low, high) = case.customary;
        inside += usize::from((low..=high).contains(&estimate.usual.get()));
    }
    assert!(misses.is_empty(), "{misses:?}");
    assert!(inside >= INSIDE, "{inside}");
}

/// "A melted-method cake bakes low, about 140 °C upwards": the model does bake
/// it there, and takes longer the cooler it is.
#[test]
fn a_melted_cake_bakes_at_140() {
    let ginger = cases().into_iter().find(|c| c.name.starts_with("melted")).unwrap();
    let mut before = 0.0;
    for oven in [180.0, 170.0, 160.0, 150.0, 140.0] {
        let bake = ovenbell::bake::Bake { oven: celsius(oven), ..ginger.asked };
        let now = ginger.calibration().estimate(&bake).unwrap().usual.get();
        println!("{oven} °C: {now:.1} min");
        assert!(now > before);
        before = now;
    }
}
