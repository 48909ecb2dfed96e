//! How good the bake times are: each tin of `tests/data/tins.csv` in turn
//! calibrates, and the others of its recipe are predicted, by the model and by
//! cruder rules. Then whether the model could honestly do better, judged on
//! recipes left out of the fit; then customary times of the trade. Markdown.
//!
//! `cargo bench --no-default-features --bench tins`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::collections::BTreeMap;

use ovenbell::bake::cross_check::measure;
use ovenbell::bake::estimate::model_minutes;
use ovenbell::bake::geometry::Plan;
use ovenbell::bake::{Batter, Spread};

#[path = "../common/customary.rs"]
mod customary;
#[path = "../common/published.rs"]
mod published;

use published::{Published, fitted, held, judged, median_error, rms};

type Recipes = BTreeMap<String, Vec<Published>>;
/// ln of what a rule says of a tin, up to a constant of the recipe.
type Rule<'a> = &'a dyn Fn(&Published) -> f64;

fn main() {
    let recipes = judged();
    accuracy(&recipes);
    each_recipe(&recipes);
    better(&recipes);
    trade();
}

fn model(tin: &Published) -> f64 {
    with(tin, &Batter::default())
}

fn with(tin: &Published, batter: &Batter) -> f64 {
    model_minutes(&tin.bake, batter).unwrap().get().ln()
}

fn thumb(tin: &Published) -> f64 {
    measure(&tin.bake, &Batter::default()).unwrap().ln()
}

fn depth(tin: &Published) -> f64 {
    tin.bake.shape.depth(tin.bake.volume).unwrap().ln()
}

/// ln(predicted/published) of every ordered pair of tins of a recipe.
fn errors(tins: &[Published], rule: Rule) -> Vec<f64> {
    let said: Vec<f64> = tins.iter().map(rule).collect();
    let mut errors = Vec::new();
    for (i, known) in tins.iter().enumerate() {
        for (j, other) in tins.iter().enumerate().filter(|(j, _)| *j != i) {
            errors.push(said[j] - said[i] - (other.minutes / known.minutes).ln());
        }
    }
    errors
}

fn all_errors(recipes: &Recipes, rule: Rule) -> Vec<f64> {
    recipes.values().flat_map(|tins| errors(tins, rule)).collect()
}

fn row(name: &str, errors: &[f64]) {
    let spread = Spread::default();
    println!(
        "| {name} | {} | {:.1} % | {:.3} | {:.0} % | {:.0} % |",
        errors.len(),
        100.0 * median_error(errors),
        rms(errors),
        100.0 * held(errors, spread.eighty),
        100.0 * held(errors, spread.ninety)
    );
}

fn head(first: &str) {
    println!(
        "\n| {first} | predictions | median error | rms of ln | in 80 % band | in 90 % band |"
    );
    println!("| --- | --- | --- | --- | --- | --- |");
}

fn accuracy(recipes: &Recipes) {
    let tins: usize = recipes.values().map(Vec::len).sum();
    println!("{} recipes, {tins} tins", recipes.len());
    head("rule");
    row("t ∝ (V/S)^1.27", &all_errors(recipes, &thumb));
    row("t ∝ depth", &all_errors(recipes, &depth));
    row("t ∝ depth²", &all_errors(recipes, &|tin| 2.0 * depth(tin)));
    row("the same time", &all_errors(recipes, &|_| 0.0));
    calibrated(recipes);
}

/// The model as the program uses it: calibrated, with bands. Says the factors
/// the bands would be fitted to, and which tins are predicted worst.
fn calibrated(recipes: &Recipes) {
    let (mut errors, mut worst) = (Vec::new(), (0.0, String::new()));
    for (recipe, tins) in recipes {
        for (i, known) in tins.iter().enumerate() {
            let calibration = known.calibration();
            for (_, other) in tins.iter().enumerate().filter(|(j, _)| *j != i) {
                let minutes = calibration.estimate(&other.bake).unwrap().usual.get();
                let error = (minutes / other.minutes).ln();
                errors.push(error);
                if error.abs() > worst.0 {
                    let said = format!(
                        "{recipe}: {} from {}, {minutes:.1} min for {}",
                        other.tin, known.tin, other.minutes
                    );
                    worst = (error.abs(), said);
                }
            }
        }
    }
    row("the model", &errors);
    println!(
        "\nBands that hold just 80 and 90 %: ×{:.3} and ×{:.3}",
        fitted(&errors, 0.8),
        fitted(&errors, 0.9)
    );
    println!("Worst: {}", worst.1);
}

fn each_recipe(recipes: &Recipes) {
    head("recipe, by the model");
    for (name, tins) in recipes {
        row(name, &errors(tins, &model));
    }
}

/// A family of rules: each recipe in turn is predicted by the member that does
/// best (least rms) on all the others. Returns those errors.
fn left_out(recipes: &Recipes, family: &[Vec<Vec<f64>>]) -> Vec<f64> {
    let best_without = |left: usize| {
        let score = |member: &Vec<Vec<f64>>| {
            let others = member.iter().enumerate().filter(|(i, _)| *i != left);
            rms(&others.flat_map(|(_, e)| e.iter().copied()).collect::<Vec<_>>())
        };
        family.iter().min_by(|a, b| score(a).total_cmp(&score(b))).unwrap()
    };
    (0..recipes.len()).flat_map(|left| best_without(left)[left].clone()).collect()
}

fn family<T>(
    recipes: &Recipes,
    members: &[T],
    rule: impl Fn(&T, &Published) -> f64,
) -> Vec<Vec<Vec<f64>>> {
    let of = |member: &T| recipes.values().map(|tins| errors(tins, &|t| rule(member, t))).collect();
    members.iter().map(of).collect()
}

/// Recipes of which a change makes the rms less, and those of which more.
fn better_and_worse(recipes: &Recipes, changed: &[f64]) -> (usize, usize) {
    let (mut at, mut better, mut worse) = (0, 0, 0);
    for tins in recipes.values() {
        let before = rms(&errors(tins, &model));
        let count = tins.len() * (tins.len() - 1);
        let after = rms(&changed[at..at + count]);
        at += count;
        better += usize::from(after < before - 1e-9);
        worse += usize::from(after > before + 1e-9);
    }
    (better, worse)
}

fn better(recipes: &Recipes) {
    println!("\nFitted to all recipes but one, and judged on that one:");
    head("change");
    row("none", &all_errors(recipes, &model));
    let tell = |name: &str, family: &[Vec<Vec<f64>>]| {
        let errors = left_out(recipes, family);
        let (better, worse) = better_and_worse(recipes, &errors);
        row(&format!("{name}: {better} recipes better, {worse} worse"), &errors);
    };
    let shares: Vec<f64> = (0..=20).map(|i| f64::from(i) / 20.0).collect();
    let blend = |w: &f64, t: &Published| (1.0 - w) * model(t) + w * thumb(t);
    tell("part of (V/S)^1.27", &family(recipes, &shares, blend));
    let factors: Vec<f64> = (0..=30).map(|i| f64::from(i) / 100.0).collect();
    let is_rect = |t: &Published| matches!(t.bake.shape.plan(), Plan::Rect { .. });
    let rect = |f: &f64, t: &Published| model(t) + if is_rect(t) { *f } else { 0.0 };
    tell("rectangular tins slower by a factor", &family(recipes, &factors, rect));
    let powers: Vec<f64> = (0..=30).map(|i| 0.7 + f64::from(i) / 50.0).collect();
    tell("a power of the model", &family(recipes, &powers, |p, t| p * model(t)));
    let mut batters = Vec::new();
    for conductivity in [0.5, 0.7, 1.0, 1.5, 2.5] {
        for transfer in [4.0, 6.0, 8.0, 11.0, 15.0] {
            for rise in [1.3, 1.6, 2.0] {
                batters.push(Batter { conductivity, transfer, rise, ..Batter::default() });
            }
        }
    }
    tell("k, h and s fitted anew", &family(recipes, &batters, |b, t| with(t, b)));
}

fn trade() {
    println!("\nCustomary times of the trade, the model set by the recipe's buns or muffins:");
    println!("\n| bake | computed, min | 80 % band | customary | from | |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for case in customary::cases() {
        let estimate = case.estimate();
        let (low, high) = case.customary;
        let usual = estimate.usual.get();
        let verdict = match (case.overlaps(), usual) {
            (false, _) => "misses",
            (true, u) if u < low => "overlaps, shorter",
            (true, u) if u > high => "overlaps, longer",
            _ => "agrees",
        };
        println!(
            "| {} | {usual:.1} | {:.1} to {:.1} | {low} to {high} | {} | {verdict} |",
            case.name,
            estimate.eighty.0.get(),
            estimate.eighty.1.get(),
            case.source
        );
    }
}
