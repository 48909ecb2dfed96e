//! A numerical solution of the heat equation that shares nothing with the
//! series: Crank–Nicolson on shells of a wall or cylinder.

use ovenbell::bake::conduction::{Body, Series};

/// θ at the centre at rising Fourier numbers; length, conductivity and
/// diffusivity are 1. Finite volumes: shell `i` lies about `(i + ½)·d`.
fn march(body: Body, biot: f64, stops: &[f64]) -> Vec<f64> {
    const SHELLS: usize = 200;
    const STEP: f64 = 1e-4;
    let d = 1.0 / SHELLS as f64;
    // Area of the face outside shell i over the volume of shell i, and so on.
    let face = |i: usize| if body == Body::Wall { 1.0 } else { i as f64 * d };
    let volume = |i: usize| if body == Body::Wall { d } else { (i as f64 + 0.5) * d * d };
    let inner = |i: usize| face(i) / d;
    let surface = face(SHELLS) / (d / 2.0 + 1.0 / biot); // half a shell and the film in series
    let outer = |i: usize| if i + 1 == SHELLS { surface } else { face(i + 1) / d };
    let mut theta = vec![1.0; SHELLS];
    let mut found = Vec::new();
    let mut step = 0_u32;
    for &stop in stops {
        while f64::from(step) * STEP < stop - STEP / 2.0 {
            theta = half_implicit(&theta, STEP, inner, outer, volume);
            step += 1;
        }
        // At the centre itself: the parabola through the two innermost shells
        // (for the cylinder likewise even in r).
        found.push(theta[0] - (theta[1] - theta[0]) / 8.0);
    }
    found
}

fn half_implicit(
    theta: &[f64],
    step: f64,
    inner: impl Fn(usize) -> f64,
    outer: impl Fn(usize) -> f64,
    volume: impl Fn(usize) -> f64,
) -> Vec<f64> {
    let n = theta.len();
    let (mut upper, mut right) = (vec![0.0; n], vec![0.0; n]);
    for i in 0..n {
        let share = step / 2.0 / volume(i);
        let a = if i == 0 { 0.0 } else { share * inner(i) };
        let b = share * outer(i);
        let below = if i == 0 { 0.0 } else { theta[i - 1] };
        let above = if i + 1 == n { 0.0 } else { theta[i + 1] };
        let known = theta[i] + a * (below - theta[i]) + b * (above - theta[i]);
        let (before, known_before) = if i == 0 { (0.0, 0.0) } else { (upper[i - 1], right[i - 1]) };
        let pivot = 1.0 + a + b - a * before;
        upper[i] = b / pivot;
        right[i] = (known + a * known_before) / pivot;
    }
    for i in (0..n - 1).rev() {
        right[i] += upper[i] * right[i + 1];
    }
    right
}

#[test]
fn series_and_numerical_solution_agree_within_half_a_percent() {
    let stops = [0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0];
    let mut worst = 0.0_f64;
    for body in [Body::Wall, Body::Cylinder] {
        for biot in [0.1, 0.3, 1.0, 3.0, 10.0, 100.0] {
            let series = Series::new(body, biot).unwrap();
            for (fourier, numerical) in stops.into_iter().zip(march(body, biot, &stops)) {
                let off = (numerical / series.full_centre(fourier) - 1.0).abs();
                worst = worst.max(off);
                assert!(off < 0.005, "{body:?} Bi {biot} Fo {fourier}: off by {off}");
            }
        }
    }
    println!("series against numerical solution: worst {:.3} %", 100.0 * worst);
}
