//! Roots, coefficients, products and worked examples of the textbooks.

use ovenbell::bake::block::{Block, Heat};
use ovenbell::bake::conduction::{Body, Series};
use ovenbell::bake::geometry::Shape;

use crate::bake::close;

const HALF_OF_THE_LAST_DIGIT: f64 = 0.5000001e-6;

/// Bi, then ζ₁ and C₁ of wall, cylinder and sphere (Incropera & DeWitt, table
/// 5.1, carried to six digits with SciPy).
#[allow(clippy::approx_constant)] // the sphere at Bi = 1 does have π/2
const TABLE: [(f64, [(f64, f64); 3]); 8] = [
    (0.01, [(0.099834, 1.001661), (0.141245, 1.002496), (0.173032, 1.002998)]),
    (0.1, [(0.311053, 1.016094), (0.441682, 1.024579), (0.542281, 1.029798)]),
    (0.5, [(0.653271, 1.070128), (0.940771, 1.114255), (1.165561, 1.144106)]),
    (1.0, [(0.860334, 1.119132), (1.255784, 1.207092), (1.570796, 1.273240)]),
    (2.0, [(1.076874, 1.178456), (1.599449, 1.338377), (2.028758, 1.479319)]),
    (5.0, [(1.313838, 1.240249), (1.989815, 1.502869), (2.570432, 1.787001)]),
    (10.0, [(1.428870, 1.261963), (2.179497, 1.567692), (2.836300, 1.924909)]),
    (100.0, [(1.555245, 1.273088), (2.380902, 1.601524), (3.110187, 1.999033)]),
];

const BODIES: [Body; 3] = [Body::Wall, Body::Cylinder, Body::Sphere];

fn series(body: Body, biot: f64) -> Series {
    Series::new(body, biot).unwrap()
}

/// θ at the centre by the first term alone, good above a Fourier number of 0.2.
fn one_term(series: &Series, fourier: f64) -> f64 {
    let first = series.terms()[0];
    first.coefficient * (-first.root * first.root * fourier).exp()
}

#[test]
fn first_roots_and_coefficients_are_those_of_the_table() {
    for (biot, row) in TABLE {
        for (body, (root, coefficient)) in BODIES.into_iter().zip(row) {
            let first = series(body, biot).terms()[0];
            close(first.root, root, HALF_OF_THE_LAST_DIGIT);
            close(first.coefficient, coefficient, HALF_OF_THE_LAST_DIGIT);
        }
    }
}

/// SciPy; Carslaw & Jaeger, Conduction of Heat in Solids, appendix IV, print
/// the same to four digits. The sphere's at Bi = 1 are (n + ½)·π exactly.
#[test]
fn the_first_four_roots_at_biot_one() {
    let wall = [0.860334, 3.425618, 6.437298, 9.529334];
    let cylinder = [1.255784, 4.079478, 7.155799, 10.270985];
    let sphere = [0.5, 1.5, 2.5, 3.5].map(|n| n * std::f64::consts::PI);
    for (body, roots) in BODIES.into_iter().zip([wall, cylinder, sphere]) {
        for (term, root) in series(body, 1.0).terms().iter().zip(roots) {
            close(term.root, root, HALF_OF_THE_LAST_DIGIT);
        }
    }
}

/// SciPy, 200 terms.
#[test]
fn full_series_one_term_and_products() {
    let wall = series(Body::Wall, 1.0);
    close(wall.full_centre(0.2), 0.950642, HALF_OF_THE_LAST_DIGIT);
    close(one_term(&wall, 0.2), 0.965141, HALF_OF_THE_LAST_DIGIT);
    // A short cylinder.
    let layer = wall.full_centre(1.0);
    let disc = series(Body::Cylinder, 2.0).full_centre(0.25);
    close(layer, 0.533859, HALF_OF_THE_LAST_DIGIT);
    close(disc, 0.701095, HALF_OF_THE_LAST_DIGIT);
    close(layer * disc, 0.374286, HALF_OF_THE_LAST_DIGIT);
    // A cuboid with sides 1 : 1 : 2, h/k = 1, α·t = 0.5.
    let side = series(Body::Wall, 1.0).full_centre(0.5);
    let long = series(Body::Wall, 2.0).full_centre(0.125);
    close(side * side * long, 0.581746, HALF_OF_THE_LAST_DIGIT);
}

/// The block is that product: lengths in metres, h = k = α = 1.
#[test]
fn the_block_is_the_product() {
    let heat = Heat { conductivity: 1.0, diffusivity: 1.0, transfer: 1.0 };
    let disc = Block::new(&Shape::round(400.0).unwrap(), 2.0, &heat).unwrap();
    close(disc.centre(1.0), 0.374286, HALF_OF_THE_LAST_DIGIT);
    let cuboid = Block::new(&Shape::rectangular(200.0, 400.0).unwrap(), 2.0, &heat).unwrap();
    close(cuboid.centre(0.5), 0.581746, HALF_OF_THE_LAST_DIGIT);
    close(cuboid.seconds_to(cuboid.centre(0.5)).unwrap(), 0.5, 1e-12);
}

/// Near 0 the centre of a wall in a perfect bath (Bi = 10 000, the greatest
/// there is) is `1 − 2·erfc(1/(2√Fo)) + …`, Carslaw & Jaeger, 3.3.
#[test]
fn the_full_series_is_right_near_nought() {
    for body in BODIES {
        for biot in [1e-4, 1e-2, 1.0, 1e2, 1e4] {
            let body = series(body, biot);
            for step in 0..400 {
                let now = body.full_centre(f64::from(step) * 1e-4);
                let later = body.full_centre(f64::from(step + 1) * 1e-4);
                assert!(now <= 1.0 + 1e-12 && later <= now + 1e-12);
            }
            assert!((body.full_centre(0.0199) - 1.0).abs() < 4e-5);
            assert_eq!(body.centre(0.0199), 1.0);
        }
    }
    let wall = series(Body::Wall, 1e4);
    for fourier in [0.01_f64, 0.02, 0.03] {
        let image = 1.0 - 2.0 * libm::erfc(1.0 / (2.0 * fourier.sqrt()));
        close(wall.full_centre(fourier), image, 2e-6);
    }
}

/// Incropera & DeWitt, example 5.4 (from memory): a pipe wall of 40 mm, −20 °C,
/// oil of 60 °C on one side and insulation on the other, h 500, k 63.9,
/// α 18.8e-6, after 8 min. Printed 42.9 °C by one term and table values.
#[test]
fn a_pipe_wall() {
    let wall = series(Body::Wall, 500.0 * 0.04 / 63.9);
    let fourier = 18.8e-6 * 480.0 / (0.04 * 0.04);
    let celsius = 60.0 + (-20.0 - 60.0) * one_term(&wall, fourier);
    close(celsius, 43.016, 0.02);
    close(celsius, 42.9, 0.15); // table look-up in print
}

/// Incropera & DeWitt, example 5.5 (from memory): a sphere of 10 mm, k 20,
/// ρ 3000, c 1000, cooled in air (h 10) from 400 to 335 °C: Bi is small and it
/// is lumped. Printed 94 s.
#[test]
fn a_sphere_in_air() {
    let time_constant = 3000.0 * 1000.0 * 0.005 / (3.0 * 10.0);
    let time = -time_constant * ((335.0_f64 - 20.0) / (400.0 - 20.0)).ln();
    close(time, 93.799, 5e-4);
    close(time, 94.0, 0.5);
    // The series agrees as far as lumping is right: Bi 0.0025.
    let sphere = series(Body::Sphere, 10.0 * 0.005 / 20.0);
    let fourier = 20.0 / 3e6 * time / (0.005 * 0.005);
    close(sphere.full_centre(fourier), 315.0 / 380.0, 1e-3);
}

/// Çengel, example 4-3 (from memory): an egg as a sphere of 5 cm, 5 °C, in
/// water of 95 °C to 70 °C, h 1200, k 0.627, α 0.151e-6. Printed 865 s.
#[test]
fn an_egg() {
    let egg = series(Body::Sphere, 1200.0 * 0.025 / 0.627);
    let first = egg.terms()[0];
    let theta: f64 = (70.0 - 95.0) / (5.0 - 95.0);
    let fourier = -(theta / first.coefficient).ln() / (first.root * first.root);
    let seconds = fourier * 0.025 * 0.025 / 0.151e-6;
    close(seconds, 862.65, 0.5);
    close(seconds, 865.0, 3.0); // table look-up in print
}

/// Çengel, example 4-4 (from memory): a brass plate of 4 cm, 20 °C, in an oven
/// of 500 °C for 7 min, h 120, k 110, α 33.9e-6; its surface, `θ·cos ζ`.
/// Printed 282 °C.
#[test]
fn a_brass_plate() {
    let plate = series(Body::Wall, 120.0 * 0.02 / 110.0);
    let fourier = 33.9e-6 * 420.0 / (0.02 * 0.02);
    let theta = one_term(&plate, fourier) * plate.terms()[0].root.cos();
    let celsius = 500.0 + (20.0 - 500.0) * theta;
    close(celsius, 279.58, 0.1);
    close(celsius, 282.0, 3.0); // table look-up in print
}
