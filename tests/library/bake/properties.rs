//! What must hold whatever the tin.

use ovenbell::bake::block::{Block, Heat};
use ovenbell::bake::estimate::model_minutes;
use ovenbell::bake::{Bake, Batter, Calibration, Shape};
use ovenbell::units::{Celsius, ExactMinutes, Millilitres};
use proptest::prelude::*;

use crate::bake::celsius;

fn minutes(bake: &Bake) -> f64 {
    model_minutes(bake, &Batter::default()).unwrap().get()
}

fn shapes() -> impl Strategy<Value = Shape> {
    prop_oneof![
        (3.0..35.0_f64).prop_map(|d| Shape::round(d).unwrap()),
        (5.0..40.0_f64, 5.0..40.0_f64).prop_map(|(a, b)| Shape::rectangular(a, b).unwrap()),
        (4.0..8.0_f64, 3.0..6.0_f64).prop_map(|(a, b)| Shape::tapered_hole(a, b).unwrap()),
    ]
}

/// A figure that may be sensible or anything but.
fn odd() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => 1.0..400.0_f64,
        1 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -0.0, -1.0, f64::NAN, f64::INFINITY, 1e-300, 1e300]),
    ]
}

/// A tin filled so many centimetres deep.
fn filled(shape: Shape, depth: f64, oven: f64) -> Bake {
    let volume = Millilitres::new(shape.area() * depth * 1e4).unwrap();
    Bake { shape, volume, oven: celsius(oven), fan: false }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn shallower_in_the_same_tin_never_takes_longer(
        shape in shapes(), depth in 0.5..8.0_f64, share in 0.2..1.0_f64, oven in 120.0..250.0_f64,
    ) {
        let (deep, shallow) = (filled(shape, depth, oven), filled(shape, depth * share, oven));
        prop_assert!(minutes(&shallow) <= minutes(&deep) * (1.0 + 1e-9));
    }

    #[test]
    fn hotter_or_with_a_fan_never_takes_longer(
        shape in shapes(), depth in 0.5..8.0_f64, oven in 120.0..220.0_f64, more in 0.0..60.0_f64,
    ) {
        let cool = filled(shape, depth, oven);
        prop_assert!(minutes(&filled(shape, depth, oven + more)) <= minutes(&cool) * (1.0 + 1e-9));
        let fan = Bake { fan: true, ..cool };
        prop_assert!(minutes(&fan) <= minutes(&cool) * (1.0 + 1e-9));
    }

    /// A tray much wider than deep bakes as the plane wall does: heat from the
    /// sides has not reached the middle. Never longer than the
    /// widest, and from sides of 120 cm on within a thousandth of it.
    #[test]
    fn a_wide_tray_tends_to_the_plane_wall(depth in 0.5..4.0_f64, oven in 150.0..220.0_f64) {
        let tray = |side: f64| {
            minutes(&filled(Shape::rectangular(side, side).unwrap(), depth, oven))
        };
        let wall = tray(158.0);
        let mut before = 0.0;
        for side in [10.0, 20.0, 40.0, 80.0, 120.0] {
            let now = tray(side);
            prop_assert!(now >= before * (1.0 - 1e-9) && now <= wall * (1.0 + 1e-9));
            before = now;
        }
        prop_assert!((tray(120.0) / wall - 1.0).abs() < 1e-3);
    }

    /// Whatever the figures, an answer is a plausible number within its bands,
    /// or there is none.
    #[test]
    fn nonsense_never_yields_a_number(
        sizes in [odd(), odd()], volumes in [odd(), odd()], stated in odd(), oven in odd(),
        height in odd(), fan: bool,
    ) {
        let of = |across: f64, ml: f64| -> Option<Bake> {
            let shape = Shape::round(across).ok()?;
            let volume = Millilitres::new(ml).ok()?;
            Some(Bake { shape, volume, oven: Celsius::new(oven).ok()?, fan })
        };
        let answer = || {
            let stated = ExactMinutes::new(stated).ok()?;
            let own = of(sizes[0], volumes[0])?;
            let calibration = Calibration::new(own, stated, Batter::default()).ok()?;
            let asked = of(sizes[1], volumes[1])?;
            let capacity = asked.shape.capacity(height).ok()?;
            calibration.outlook(&asked, Some(capacity)).ok()
        };
        if let Some(outlook) = answer() {
            let estimate = outlook.estimate;
            let rising = [
                0.0,
                estimate.ninety.0.get(),
                estimate.eighty.0.get(),
                estimate.usual.get(),
                estimate.eighty.1.get(),
                estimate.ninety.1.get(),
                1440.0,
            ];
            prop_assert!(rising.is_sorted() && rising[3] > 0.0, "{:?}", rising);
            prop_assert!(outlook.depth_mm > 0.0 && outlook.depth_mm <= 500.0);
            prop_assert!((0.0..=1440.0).contains(&outlook.hand_warm.get()));
            prop_assert!(outlook.fill.is_some_and(|f| f.is_finite() && f > 0.0));
            prop_assert!(oven > 96.0 && stated > 0.0 && volumes.iter().all(|v| *v > 0.0));
        }
    }

    /// Every length twice as long, h halved so that each `Bi = h·l/k` stays
    /// the same: θ depends on Bi and `Fo = α·t/l²` alone, so the time to any θ
    /// is exactly four times as long. With h left alone Bi doubles, which
    /// speeds up each `P(Fo)`: then at least twice and at most four times.
    /// (Twice is the lumped limit, `t ∝ V/(h·S)`, Bi → 0; four times the
    /// perfect bath, Bi → ∞.)
    #[test]
    fn twice_the_size_takes_four_times_as_long_at_the_same_biot(
        across in 3.0..30.0_f64, height in 0.01..0.15_f64, theta in 0.05..0.9_f64,
        transfer in 2.0..60.0_f64,
    ) {
        let seconds = |size: f64, transfer: f64| {
            let heat = Heat { conductivity: 1.0, diffusivity: 5e-7, transfer };
            let shape = Shape::round(across * size).unwrap();
            Block::new(&shape, height * size, &heat).unwrap().seconds_to(theta).unwrap()
        };
        let once = seconds(1.0, transfer);
        prop_assert!((seconds(2.0, transfer / 2.0) / once / 4.0 - 1.0).abs() < 1e-9);
        let open = seconds(2.0, transfer) / once;
        prop_assert!((2.0 - 1e-9..=4.0 + 1e-9).contains(&open), "{}", open);
    }
}
