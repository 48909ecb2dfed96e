//! How long what was baked cools: as the recipe says, or until the middle is
//! as cold as it wants.

use super::anchor::is_worked_out;
use super::cooling::Cooling;
use super::fault::BakeError;
use super::geometry::Shape;
use super::materials;
use crate::model::{Method, MethodId, Origin, Recipe, Step, StepKind, ThreePoint, TinChoice};
use crate::units::{Celsius, ExactMinutes};

/// How long it cools, and where that comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolsFor {
    /// Minutes.
    pub minutes: ExactMinutes,
    /// From the recipe, or computed.
    pub origin: Origin,
}

/// Minutes from the oven until the middle is at a temperature, for raw
/// mixture so many millimetres deep: it has risen by then.
///
/// # Errors
/// As [`Cooling::minutes`].
pub fn cooling(shape: &Shape, depth: f64, wanted: Celsius) -> Result<ExactMinutes, BakeError> {
    let baked_height = materials::RISE.value * depth / 10.0;
    Cooling::default().minutes(shape, baked_height, wanted)
}

/// The cooling steps after the bake, in order.
pub fn after_bake(method: &Method) -> impl Iterator<Item = &Step> {
    let out = method.bake_steps().map_or(method.steps.len(), |(_, _, out)| out.0);
    method.steps.iter().skip(out + 1).filter(|s| s.kind == StepKind::Cool)
}

/// Minutes of a step in a tin.
fn in_tin(choice: &TinChoice, step: &Step) -> Option<ThreePoint> {
    let own = choice.step_minutes.iter().find(|(name, _)| *name == step.name);
    own.map(|(_, minutes)| *minutes).or(step.minutes)
}

/// A tin's shape, and how deep the raw mixture is in it, in millimetres.
pub type Filled = (Shape, f64);

/// Gives a tin its own minutes of cooling steps for which none are stated:
/// from the oven on, less what it has cooled before that step. A step with
/// minutes keeps them in the tins that the recipe states; in another, whose
/// bake is worked out, it takes as much longer as the model says, `in_own`
/// being how a tin that is stated is filled. What quick minutes prove must hold
/// whatever the model says, so those are never longer for it.
pub fn work_out(
    recipe: &Recipe,
    choice: &mut TinChoice,
    filled: Option<&Filled>,
    in_own: impl Fn(&TinChoice) -> Option<Filled>,
) {
    let Some((shape, depth)) = filled else { return };
    let other = choice.minutes.is_some_and(|m| is_worked_out(m.origin));
    let depth = *depth;
    for (i, method) in recipe.methods.iter().enumerate() {
        if !choice.goes_with(MethodId(i)) {
            continue;
        }
        let mut cooled = 0.0;
        for step in after_bake(method) {
            let stated = choice.step_minutes.iter().any(|(name, _)| *name == step.name);
            if let (Some(to), false) = (step.cool_to, stated)
                && let Ok(all) = cooling(shape, depth, to)
                && let Ok(minutes) =
                    ThreePoint::usual_only((all.get() - cooled).max(1.0), Origin::Computed)
            {
                choice.step_minutes.push((step.name.clone(), minutes));
            }
            if other
                && !choice.step_minutes.iter().any(|(name, _)| *name == step.name)
                && let Some(minutes) = step.minutes.filter(|_| step.cool_to.is_none())
                && let Some(ratio) = longer(recipe, MethodId(i), step, (shape, depth), &in_own)
                && let Ok(minutes) = ThreePoint::new(
                    minutes.quick().get() * ratio.min(1.0),
                    minutes.usual().get() * ratio,
                    minutes.slow().get() * ratio,
                    Origin::Computed,
                )
            {
                choice.step_minutes.push((step.name.clone(), minutes));
            }
            cooled += in_tin(choice, step).map_or(0.0, |m| m.usual().get());
        }
    }
}

/// How many times as long as in the first tin of a method that is stated, and
/// has no minutes of its own for the step, the middle takes to be hand-warm.
fn longer(
    recipe: &Recipe,
    method: MethodId,
    step: &Step,
    (shape, depth): (&Shape, f64),
    stated: impl Fn(&TinChoice) -> Option<Filled>,
) -> Option<f64> {
    let is_own = |tin: &&TinChoice| {
        tin.goes_with(method)
            && tin.minutes.is_some_and(|m| !is_worked_out(m.origin))
            && tin.step_minutes.iter().all(|(name, _)| *name != step.name)
    };
    let (own_shape, own_depth) = recipe.tins.iter().find(is_own).and_then(stated)?;
    let wanted = Celsius::new(materials::HAND_WARM.value).ok()?;
    let minutes = |shape: &Shape, depth: f64| cooling(shape, depth, wanted).ok().map(|m| m.get());
    let own = minutes(&own_shape, own_depth).filter(|m| *m > 0.0)?;
    Some(minutes(shape, depth)? / own)
}

/// The recipe's cooling in a tin, by the first method that goes with it; until
/// it is hand-warm where that has none.
pub fn cools(
    recipe: &Recipe,
    choice: &TinChoice,
    shape: Option<&Shape>,
    depth: Option<f64>,
) -> Option<CoolsFor> {
    let method = (0..recipe.methods.len()).find(|&m| choice.goes_with(MethodId(m)))?;
    let mut sum: Option<(f64, Origin)> = None;
    for step in after_bake(&recipe.methods[method]) {
        let minutes = in_tin(choice, step)?;
        let (before, origin) = sum.unwrap_or((0.0, minutes.origin));
        let origin = if minutes.origin == Origin::Computed { minutes.origin } else { origin };
        sum = Some((before + minutes.usual().get(), origin));
    }
    if let Some((minutes, origin)) = sum {
        return Some(CoolsFor { minutes: ExactMinutes::new(minutes).ok()?, origin });
    }
    let wanted = Celsius::new(materials::HAND_WARM.value).ok()?;
    let minutes = cooling(shape?, depth?, wanted).ok()?;
    Some(CoolsFor { minutes, origin: Origin::Computed })
}
