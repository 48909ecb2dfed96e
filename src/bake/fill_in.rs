//! Minutes nobody has stated, worked out and put into the recipes: of bakes
//! in tins without minutes, and of bakes at another temperature that an oven
//! shared with another recipe would have.

use super::anchor::bake_of;
use super::compromise;
use super::estimate::{Estimate, Spread, model_minutes};
use super::fault::BakeError;
use super::mixture;
use super::tin_table::{TinRow, tin_table};
use crate::model::{Group, Origin, PastBake, Recipe, ThreePoint, Tin, TinChoice};
use crate::units::{Celsius, ExactMinutes, Kelvins};

/// More temperatures than this for one bake help nobody.
const MOST_TEMPERATURES: usize = 4;

impl Estimate {
    /// As the minutes of a step: the 90 % band from its low end, which every
    /// proof counts with, to its high end.
    ///
    /// # Errors
    /// If a step cannot take so long.
    pub fn three_point(
        &self,
        origin: Origin,
    ) -> Result<ThreePoint, crate::model::figure::MinutesError> {
        ThreePoint::new(self.ninety.0.get(), self.usual.get(), self.ninety.1.get(), origin)
    }
}

/// Usual minutes of a bake, and the rest as one bake scatters about them by
/// itself, outwards to the half minute and marked assumed: a bake is no pupil
/// who may be quick.
///
/// # Errors
/// If a step cannot take so long.
pub fn usual_of_a_bake(
    usual: ExactMinutes,
    origin: Origin,
) -> Result<ThreePoint, crate::model::figure::MinutesError> {
    let (factor, usual) = (Spread::of_one_bake().ninety, usual.get());
    let quick = (2.0 * usual / factor).floor() / 2.0;
    let slow = ((2.0 * usual * factor).ceil() / 2.0).min(ThreePoint::LONGEST_STEP.max(usual));
    let mut minutes = ThreePoint::new(quick, usual, slow, origin)?;
    minutes.spread = Origin::Assumed;
    Ok(minutes)
}

/// Works out the bake and cooling minutes of a recipe's tins where none are
/// stated, and hands back the table it went by.
pub fn fill_in(recipe: &mut Recipe, tins: &[Tin], past: &[PastBake]) -> Vec<TinRow> {
    let table = tin_table(recipe, tins, past);
    for row in &table {
        if let Some(id) = row.choice {
            recipe.tins[id.0].minutes = row.as_choice.minutes;
            recipe.tins[id.0].step_minutes.clone_from(&row.as_choice.step_minutes);
        }
    }
    table
}

/// Works out the minutes of bakes at temperatures other than their own: those
/// that other groups' bakes want, and those between, as far as the recipes
/// bear them. Only for tins that groups may use.
pub fn fill_in_elsewhere(recipes: &mut [Recipe], tins: &[Tin], groups: &[Group]) {
    let mut wishes: Vec<(Celsius, Kelvins)> = Vec::new();
    for group in groups {
        let Some(recipe) = recipes.get(group.recipe.0) else { continue };
        for choice in group.tins.iter().filter_map(|t| recipe.tins.get(t.0)) {
            let wish = (choice.celsius, recipe.bake.tolerance);
            if choice.minutes.is_some() && !wishes.contains(&wish) {
                wishes.push(wish);
            }
        }
    }
    let mut candidates: Vec<Celsius> = wishes.iter().map(|(celsius, _)| *celsius).collect();
    for (i, first) in wishes.iter().enumerate() {
        candidates.extend(wishes[i + 1..].iter().filter_map(|s| compromise::between(*first, *s)));
    }
    for (id, recipe) in recipes.iter_mut().enumerate() {
        let used = |choice: usize| {
            groups.iter().any(|g| g.recipe.0 == id && g.tins.iter().any(|t| t.0 == choice))
        };
        for choice in (0..recipe.tins.len()).filter(|&c| used(c)) {
            let elsewhere = elsewhere(recipe, choice, tins, &candidates);
            recipe.tins[choice].elsewhere = elsewhere;
        }
    }
}

fn elsewhere(
    recipe: &Recipe,
    choice: usize,
    tins: &[Tin],
    candidates: &[Celsius],
) -> Vec<(Celsius, ThreePoint)> {
    let choice = &recipe.tins[choice];
    let Some(own) = choice.minutes else { return Vec::new() };
    let give = recipe.bake.tolerance.get() + 1e-9;
    let mut found: Vec<(Celsius, ThreePoint)> = Vec::new();
    for &celsius in candidates {
        let off = (celsius - choice.celsius).get().abs();
        let new = celsius != choice.celsius && found.iter().all(|(at, _)| *at != celsius);
        if new
            && off <= give
            && found.len() < MOST_TEMPERATURES
            && let Some(tin) = tins.get(choice.tin.0)
            && let Ok(minutes) = at_temperature(recipe, choice, tin, own, celsius)
        {
            found.push((celsius, minutes));
        }
    }
    found
}

/// Minutes at another temperature: the model's ratio times those at its own.
/// The tin stays the same, so that the scatter of tins about each other, which
/// the band of a computed bake is for, does not come in: quick and slow are
/// those of its own minutes, and a cooler oven is never the quicker one.
fn at_temperature(
    recipe: &Recipe,
    choice: &TinChoice,
    tin: &Tin,
    own: ThreePoint,
    celsius: Celsius,
) -> Result<ThreePoint, BakeError> {
    let batter = mixture::batter(recipe);
    let minutes = |celsius| -> Result<f64, BakeError> {
        Ok(model_minutes(&bake_of(recipe, choice, tin, celsius)?, &batter)?.get())
    };
    let ratio = minutes(celsius)? / minutes(choice.celsius)?;
    let times = |m: ExactMinutes| m.get() * ratio;
    let (quick, usual, slow) = (times(own.quick()), times(own.usual()), times(own.slow()));
    ThreePoint::new(quick, usual, slow, Origin::Computed).map_err(|_| BakeError::NoAnchor)
}
