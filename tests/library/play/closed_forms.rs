//! Odds against what is known in closed form, or by a convolution.

use super::lessons::{all_served, chains};
use ovenbell::model::Lesson;
use ovenbell::play::{
    Dealer, Luck, Minutes, Network, Odds, Play, Settings, Shape, Spread, Together, odds,
};

fn played(lesson: &Lesson, runs: u32) -> Odds {
    let plan = all_served(lesson);
    let together = Some(Together::INDEPENDENT);
    odds(lesson, &plan, &Settings { runs, together, ..Settings::default() }, &[]).unwrap()
}

/// Four standard errors of a share of so many runs.
fn four_errors(share: f64, runs: u32) -> f64 {
    4.0 * (share * (1.0 - share) / f64::from(runs)).sqrt()
}

/// Odds that a beta on `m` falls into each cell of a grid, by its density in
/// the middle of many thin slices.
fn cells((quick, usual, slow): (f64, f64, f64), grid: f64, count: usize) -> Vec<f64> {
    let (a, b) = (4.0 * (usual - quick) / (slow - quick), 4.0 * (slow - usual) / (slow - quick));
    let slices = 20_000;
    let mut cells = vec![0.0; count];
    let mut all = 0.0;
    for i in 0..slices {
        let x = (f64::from(i) + 0.5) / f64::from(slices);
        let density = x.powf(a) * (1.0 - x).powf(b);
        let at = (quick + x * (slow - quick)) / grid;
        cells[at as usize] += density;
        all += density;
    }
    cells.iter().map(|c| c / all).collect()
}

/// A chain's odds are those of the sum of its steps, convolved on a grid of a
/// twentieth of a minute.
#[test]
fn a_chain_is_out_as_often_as_its_convolution_says() {
    let steps = [(3.0, 5.0, 10.0), (2.0, 3.0, 7.0), (4.0, 4.0, 9.0), (1.0, 2.0, 2.5)];
    let (grid, count) = (0.05, 800);
    let mut sum = vec![0.0; count];
    sum[0] = 1.0;
    for step in steps {
        let of = cells(step, grid, 400);
        let mut next = vec![0.0; count];
        for (i, p) in sum.iter().enumerate().filter(|(_, p)| **p > 0.0) {
            for (j, q) in of.iter().enumerate() {
                if i + j < count {
                    next[i + j] += p * q;
                }
            }
        }
        sum = next;
    }
    // Each of five cells stands for its middle, the first for its beginning.
    let by = |minutes: f64| -> f64 {
        let middle = |i: usize| (i as f64 + 0.5 * steps.len() as f64) * grid;
        sum.iter().enumerate().filter(|(i, _)| middle(*i) <= minutes).map(|(_, p)| p).sum()
    };
    let runs = 100_000;
    for minutes in [15, 16, 17, 19] {
        let share = played(&chains(1, minutes, &steps), runs).class.before_closing;
        let wanted = by(f64::from(minutes));
        let off = (share - wanted).abs();
        // Half a cell either way beside the error of the runs.
        assert!(off < four_errors(wanted, runs) + 0.006, "{minutes}: {share} for {wanted}");
    }
}

#[test]
fn independent_groups_are_all_out_as_often_as_the_product_of_each() {
    let runs = 40_000;
    let odds = played(&chains(4, 12, &[(2.0, 4.0, 9.0), (3.0, 6.0, 8.0)]), runs);
    let product: f64 = odds.groups.iter().map(|g| g.out).product();
    let share = odds.class.before_closing;
    assert!(product > 0.05 && product < 0.95, "{product}");
    assert!((share - product).abs() < 2.0 * four_errors(product, runs), "{share} for {product}");
    for group in &odds.groups {
        let mean = odds.groups.iter().map(|g| g.out).sum::<f64>() / 4.0;
        assert!((group.out - mean).abs() < four_errors(mean, runs));
    }
}

/// Ready times of all groups, run by run.
fn ready_times(lesson: &Lesson, together: &Together, runs: u64) -> Vec<Vec<f64>> {
    let plan = all_served(lesson);
    let network = Network::new(lesson, &plan);
    let dealer = Dealer::new(&network, Luck { seed: 3 }, Spread::LISTED, together);
    let quick = vec![0.0; network.nodes.len()];
    let mut play = Play::new(&network, network.earliest_starts(&quick));
    let (mut minutes, mut normals) = (Minutes::default(), Vec::new());
    let times = (0..runs).map(|run| {
        dealer.deal(run, &mut normals, &mut minutes);
        play.run(&minutes);
        (0..network.groups.len()).map(|g| play.ready(g)).collect()
    });
    times.collect()
}

fn mean_and_variance(values: &[f64]) -> (f64, f64) {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    (mean, values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / values.len() as f64)
}

/// Mean and variance of a chain are the sums of its steps': Malcolm, Roseboom,
/// Clark and Fazar, Operations Research 7, 1959, and the variance of the beta.
#[test]
fn a_chain_has_the_mean_and_the_variance_of_its_steps() {
    let steps = [(3.0, 5.0, 10.0), (2.0, 3.0, 7.0), (4.0, 4.0, 9.0)];
    let shape = |&(quick, usual, slow): &(f64, f64, f64)| Shape::Pert { quick, usual, slow };
    let mean: f64 = steps.iter().map(|s| shape(s).mean()).sum();
    let variance: f64 = steps.iter().map(|s| shape(s).variance()).sum();
    let times = ready_times(&chains(1, 60, &steps), &Together::INDEPENDENT, 40_000);
    let times: Vec<f64> = times.into_iter().map(|t| t[0]).collect();
    let found = mean_and_variance(&times);
    assert!((found.0 - mean).abs() < 4.0 * (variance / 40_000.0).sqrt(), "{found:?}");
    assert!((found.1 / variance - 1.0).abs() < 4.0 * (2.0_f64 / 40_000.0).sqrt(), "{found:?}");
}

/// Steps that go together keep their own spread, and their sum has a wider one.
#[test]
fn a_slow_class_is_slow_all_over() {
    let steps = [(3.0, 5.0, 10.0), (2.0, 3.0, 7.0)];
    let spread = |together: &Together| {
        let times = ready_times(&chains(2, 60, &steps), together, 20_000);
        let sums: Vec<f64> = times.iter().map(|t| t[0] + t[1]).collect();
        let each: Vec<f64> = times.iter().map(|t| t[0]).collect();
        (mean_and_variance(&each), mean_and_variance(&sums))
    };
    let (alone, both) = spread(&Together::INDEPENDENT);
    let (alone_together, both_together) = spread(&Together::USUAL);
    assert!((alone.0 - alone_together.0).abs() < 0.1);
    assert!(alone_together.1 > 1.2 * alone.1, "a group's steps go together");
    assert!((both.1 / (2.0 * alone.1) - 1.0).abs() < 0.06, "independent groups add up");
    assert!(both_together.1 > 2.2 * alone_together.1, "groups of a class go together");
}

/// Quantiles of a beta on quick, usual and slow by normals, from adding up its
/// density and that of the normal.
fn by_normals((quick, usual, slow): (f64, f64, f64)) -> impl Fn(f64) -> f64 {
    let (a, b) = (4.0 * (usual - quick) / (slow - quick), 4.0 * (slow - usual) / (slow - quick));
    let slices = 20_000;
    let middle = move |i: usize| (i as f64 + 0.5) / slices as f64;
    let mut below: Vec<f64> = Vec::new();
    let mut all = 0.0;
    for i in 0..slices {
        all += middle(i).powf(a) * (1.0 - middle(i)).powf(b);
        below.push(all);
    }
    let step = 1e-3;
    let mut normal = vec![0.0];
    for i in 0..16_000 {
        let z = f64::from(i) * step - 8.0 + step / 2.0;
        normal.push(normal[normal.len() - 1] + step * density(z));
    }
    move |z| {
        let share = normal[((z.clamp(-8.0, 8.0) + 8.0) / step) as usize] * all;
        quick + (slow - quick) * middle(below.partition_point(|&b| b < share).min(slices - 1))
    }
}

fn density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / std::f64::consts::TAU.sqrt()
}

/// Mean of the product of two quantities whose normals share so much of their
/// variance, by integrating over what they share and over what each has alone.
fn mean_product(one: &dyn Fn(f64) -> f64, other: &dyn Fn(f64) -> f64, rho: f64) -> f64 {
    let step = 0.1;
    let normals = || (-60..=60).map(|i| f64::from(i) * step);
    let given = |of: &dyn Fn(f64) -> f64, shared: f64| -> f64 {
        let at = |own: f64| of(rho.sqrt() * shared + (1.0 - rho).sqrt() * own);
        normals().map(|own| step * density(own) * at(own)).sum()
    };
    normals().map(|z| step * density(z) * given(one, z) * given(other, z)).sum()
}

/// Two groups of the class: within a group hand steps share what the class and
/// the group share, across groups what the class shares (a Gaussian copula, whose
/// covariances are integrated here).
#[test]
fn minutes_that_go_together_vary_as_the_integrals_of_the_copula_say() {
    let steps = [(3.0, 5.0, 10.0), (2.0, 3.0, 7.0), (4.0, 4.0, 9.0)];
    let quantiles = steps.map(by_normals);
    let mean = |i: usize| {
        let (quick, usual, slow) = steps[i];
        Shape::Pert { quick, usual, slow }.mean()
    };
    let covariance = |i: usize, j: usize, rho| {
        mean_product(&quantiles[i], &quantiles[j], rho) - mean(i) * mean(j)
    };
    let usual = Together::USUAL;
    let (mut alone, mut across) = (0.0, 0.0);
    for (i, &(quick, usual_minutes, slow)) in steps.iter().enumerate() {
        alone += Shape::Pert { quick, usual: usual_minutes, slow }.variance();
        for j in 0..3 {
            across += covariance(i, j, usual.class);
            alone += if i == j { 0.0 } else { covariance(i, j, usual.class + usual.group) };
        }
    }
    let times = ready_times(&chains(2, 60, &steps), &usual, 40_000);
    let each: Vec<f64> = times.iter().map(|t| t[0]).collect();
    let sums: Vec<f64> = times.iter().map(|t| t[0] + t[1]).collect();
    // Four standard errors of a variance of normals, and some for its kurtosis.
    let close = |found: f64, wanted: f64| (found / wanted - 1.0).abs() < 0.035;
    let (each, sums) = (mean_and_variance(&each).1, mean_and_variance(&sums).1);
    assert!(close(each, alone), "{each} for {alone}");
    assert!(close(sums, 2.0 * alone + 2.0 * across), "{sums} for {alone} and {across}");
}

/// Mean and variance of the later of two: Clark, *The Greatest of a Finite Set of Random
/// Variables*, Operations Research 9, 1961. Sums of eight narrow steps are near
/// enough to normals.
#[test]
fn the_later_of_two_groups_comes_as_late_as_clark_says() {
    let steps = [(1.9, 2.0, 2.1); 8];
    let times = ready_times(&chains(2, 60, &steps), &Together::INDEPENDENT, 40_000);
    let later: Vec<f64> = times.iter().map(|t| t[0].max(t[1])).collect();
    let variance = 8.0 * Shape::Pert { quick: 1.9, usual: 2.0, slow: 2.1 }.variance();
    let apart = (2.0 * variance).sqrt();
    let wanted = 16.0 + apart / std::f64::consts::TAU.sqrt();
    let (mean, spread) = mean_and_variance(&later);
    let error = 4.0 * (variance / 40_000.0).sqrt();
    assert!((mean - wanted).abs() < error + 0.01 * apart, "{mean} for {wanted}");
    // His second moment, of two alike: the variance shrinks by 1/π of itself.
    let narrower = variance * (1.0 - std::f64::consts::FRAC_1_PI);
    assert!((spread / narrower - 1.0).abs() < 0.05, "{spread} for {narrower}");
}
