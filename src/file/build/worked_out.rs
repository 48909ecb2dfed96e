//! Minutes a lesson file leaves out and the bake layer works out; and stated
//! ones it cannot believe.

use super::Builder;
use super::findings::quoted;
use crate::bake::fill_in::{fill_in, fill_in_elsewhere};
use crate::bake::tin_table::{TinRow, cooling};
use crate::bake::{Shape, estimate, materials};
use crate::finding::Path;
use crate::model::{About, Origin, Recipe, RecipeId, StepKind, ThreePoint};
use crate::units::{Celsius, ExactMinutes};

/// Coldest and hottest a recipe may want its cake before it is handled, °C.
const COOLED: (f64, f64) = (22.0, 90.0);

impl Builder<'_> {
    /// Bake and cooling minutes that nobody has stated.
    pub(super) fn work_out(&mut self) {
        for id in 0..self.parts.recipes.len() {
            let path = Path::root().field("recipes").index(id);
            let recipe = &mut self.parts.recipes[id];
            let table = fill_in(recipe, &self.parts.tins, self.past);
            self.report_bakes(RecipeId(id), &path.field("tins"), &table);
            self.work_out_cooling(RecipeId(id), &path, &table);
        }
    }

    /// Bake minutes at temperatures that other groups' bakes want.
    pub(super) fn work_out_elsewhere(&mut self) {
        let parts = &mut self.parts;
        fill_in_elsewhere(&mut parts.recipes, &parts.tins, &parts.groups);
    }

    fn report_bakes(&mut self, id: RecipeId, path: &Path, table: &[TinRow]) {
        let mut suspected = false;
        for row in table {
            let Some(choice) = row.choice else { continue };
            let path = path.index(choice.0);
            let stated = self.file.recipes[id.0].tins.get(choice.0).is_some_and(is_stated);
            if stated {
                self.report_odd(&path.field("minutes"), row, &mut suspected);
                continue;
            }
            let name = self.parts.recipes[id.0].name.clone();
            let label = quoted(&row.as_choice.label);
            match &row.expected {
                Ok(expected) => {
                    let text = format!("bake in {label}: {} ({name})", of(&expected.estimate));
                    let text = format!("{text}, {}", expected.origin);
                    self.assume(About::Recipe(id), text);
                    if row.as_choice.about_full.is_some()
                        && row.each.is_some_and(|each| each.origin == Origin::Assumed)
                    {
                        self.assume(About::Recipe(id), format!("how full {label} is ({name})"));
                    }
                }
                Err(why) => {
                    let message = format!(
                        "no bake minutes are stated for {label} of {}, and none can be worked \
                         out: {why}; no group can use it",
                        quoted(&name)
                    );
                    let hint = "add `minutes:` with how long it bakes in this tin";
                    self.findings.warning("tin-without-minutes", &path, message, hint);
                }
            }
        }
    }

    /// Stated minutes that the recipe's other tins, or the size of the cake,
    /// make unlikely.
    fn report_odd(&mut self, path: &Path, row: &TinRow, suspected: &mut bool) {
        let (label, Ok(expected)) = (quoted(&row.as_choice.label), &row.expected) else { return };
        let hint = "if tin, mixture and minutes are right, leave it: stated minutes always hold";
        if let Some(others) = row.is_odd() {
            let message = format!(
                "{label} is said to bake {} min; by the recipe's other tins it is {:.0}, nine \
                 times in ten {:.0} to {:.0}",
                expected.estimate.usual,
                others.usual.get(),
                others.ninety.0.get(),
                others.ninety.1.get()
            );
            self.findings.warning("bake-minutes-odd", path, message, hint);
        }
        if let Some(warning) = expected.kappa.and_then(estimate::suspicious)
            && !*suspected
        {
            *suspected = true;
            let message = format!("{label}: {warning}");
            self.findings.warning("bake-minutes-unlikely", path, message, hint);
        }
    }

    /// Cooling steps without minutes: until the middle is as cold as wanted.
    fn work_out_cooling(&mut self, id: RecipeId, path: &Path, table: &[TinRow]) {
        for method in 0..self.parts.recipes[id.0].methods.len() {
            for step in 0..self.parts.recipes[id.0].methods[method].steps.len() {
                let of = &self.parts.recipes[id.0].methods[method].steps[step];
                if of.kind == StepKind::Cool && of.minutes.is_none() {
                    let name = of.name.clone();
                    self.work_out_cool(id, path, table, (method, step), &name);
                }
            }
        }
    }

    fn work_out_cool(
        &mut self,
        id: RecipeId,
        path: &Path,
        table: &[TinRow],
        (method, step): (usize, usize),
        name: &str,
    ) {
        let shapes = self.file.recipes[id.0].methods.get(method).map(|m| &m.steps);
        let written = shapes.and_then(|s| s.iter().position(|s| s.name == name)).unwrap_or(0);
        let shape = shapes.and_then(|s| s.get(written));
        if shape.is_none_or(|s| s.minutes.is_some()) {
            return; // nonsense was stated, which is reported
        }
        let path = path.field("methods").index(method).field("steps").index(written);
        let to = shape.and_then(|s| s.cool_to).unwrap_or(materials::HAND_WARM.value);
        let what = "the temperature to cool to in °C";
        let Some(to) = self.findings.range(&path.field("cool_to"), what, to, COOLED) else {
            return;
        };
        let (recipe, tins) = (&self.parts.recipes[id.0], &self.parts.tins);
        let mut longest: Option<ThreePoint> = None;
        let mut own = Vec::new();
        for row in table {
            let Some(choice) = row.choice.filter(|&c| needs(recipe, c.0, method, name)) else {
                continue;
            };
            let form = tins[row.tin().0].form;
            let minutes = cools(form.and_then(|f| Shape::of(&f).ok()), row.depth, to);
            let Some(minutes) = minutes else {
                let label = quoted(&row.as_choice.label);
                let message = format!(
                    "the step {} has no minutes, and none can be worked out for {label}, whose \
                     shape or depth of mixture is not known",
                    quoted(name)
                );
                let hint = "add `minutes: 5` to the step, or to this tin's `step_minutes`";
                self.findings.error("no-minutes", &path, message, hint);
                return;
            };
            if longest.is_none_or(|l| minutes.usual() > l.usual()) {
                longest = Some(minutes);
            }
            own.push((choice.0, minutes));
        }
        let stated = recipe.tins.iter().flat_map(|t| &t.step_minutes).find(|(n, _)| n == name);
        let Some(minutes) = longest.or(stated.map(|(_, m)| *m)) else {
            let message = format!("the step {} has no minutes", quoted(name));
            let hint = "add `minutes: 5` or `minutes: (4, 5, 7)`";
            self.findings.error("no-minutes", &path, message, hint);
            return;
        };
        let text = format!("{name}: until the middle is at {to} °C, computed ({})", recipe.name);
        let recipe = &mut self.parts.recipes[id.0];
        recipe.methods[method].steps[step].minutes = Some(minutes);
        for (choice, minutes) in own {
            recipe.tins[choice].step_minutes.push((name.to_owned(), minutes));
        }
        self.assume(About::Recipe(id), text);
    }
}

fn is_stated(tin: &crate::file::format::TinChoiceShape) -> bool {
    tin.minutes.is_some()
}

/// Whether a tin goes with the method and says nothing of the step itself.
fn needs(recipe: &Recipe, choice: usize, method: usize, step: &str) -> bool {
    let choice = &recipe.tins[choice];
    choice.goes_with(crate::model::MethodId(method))
        && choice.step_minutes.iter().all(|(name, _)| name != step)
}

fn cools(shape: Option<Shape>, depth: Option<f64>, to: f64) -> Option<ThreePoint> {
    let minutes: ExactMinutes = cooling(&shape?, depth?, Celsius::new(to).ok()?).ok()?;
    ThreePoint::usual_only(minutes.get(), Origin::Computed).ok()
}

/// "check from 16, expect 21, at latest 27 min".
fn of(estimate: &estimate::Estimate) -> String {
    format!(
        "check from {:.0}, expect {:.0}, at latest {:.0} min",
        estimate.eighty.0.get(),
        estimate.usual.get(),
        estimate.eighty.1.get()
    )
}
