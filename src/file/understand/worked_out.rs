//! Minutes a lesson file leaves out and the bake layer works out; and stated
//! ones it cannot believe.

use std::borrow::Cow;

use super::Builder;
use super::findings::quoted;
use crate::bake::fill_in::{fill_in, fill_in_elsewhere};
use crate::bake::tin_table::TinRow;
use crate::bake::{cools, estimate};
use crate::finding::Path;
use crate::model::{About, Method, MethodId, Origin, PastBake, RecipeId, StepKind, TinChoice};
use crate::units::Celsius;

impl<'a> Builder<'a> {
    /// Bakes that are gone by: for the day of a lesson those noted before it, by which
    /// its groups were told what to do.
    fn bakes_to_go_by(&self) -> Cow<'a, [PastBake]> {
        let day = self.parts.date.filter(|_| self.file.today.is_some());
        let Some(day) = day else { return Cow::Borrowed(self.past) };
        let before = |bake: &&PastBake| bake.date.is_none_or(|date| date < day);
        self.past.iter().filter(before).cloned().collect()
    }

    /// Bake and cooling minutes that nobody has stated.
    pub(super) fn work_out(&mut self) {
        if self.findings.any_error() {
            return; // tins may be others than those meant
        }
        self.worked_out = true;
        let past = self.bakes_to_go_by();
        for id in 0..self.parts.recipes.len() {
            let path = Path::root().field("recipes").index(id);
            let recipe = &mut self.parts.recipes[id];
            let table = fill_in(recipe, &self.parts.tins, &past);
            self.report_bakes(RecipeId(id), &path.field("tins"), &table);
            self.work_out_cooling(RecipeId(id), &path);
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
            self.report_full(id, &path, row);
            let stated = self.file.recipes[id.0].tins.get(choice.0).is_some_and(is_stated);
            if stated {
                self.report_odd(&path.field("minutes"), row, &mut suspected);
                continue;
            }
            let name = self.parts.recipes[id.0].name.clone();
            let label = quoted(&row.as_choice.label);
            match &row.expected {
                Ok(expected) => {
                    let text = format!("bake in {label}: {} ({name})", expected.estimate);
                    let text = format!("{text}, {}", expected.origin);
                    self.assume(About::Recipe(id), path.field("minutes"), text);
                    if row.as_choice.about_full.is_some()
                        && row.each.is_some_and(|each| each.origin == Origin::Assumed)
                    {
                        let text = format!("how full {label} is ({name})");
                        self.assume(About::Recipe(id), path.field("about_full"), text);
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

    /// A tin that runs over by figures that are in part assumed; where all are
    /// known, no group may use it, which is told with the group.
    fn report_full(&mut self, id: RecipeId, path: &Path, row: &TinRow) {
        let limit = self.parts.recipes[id.0].bake.fill_limit.value;
        let Some(fill) = row.fill.filter(|f| f.origin == Origin::Assumed && f.value > 1.0) else {
            return;
        };
        let message = format!(
            "{} would be {:.0} % full, by weight of the ingredients or size of the tin; {:.0} % \
             is the limit",
            quoted(&row.as_choice.label),
            100.0 * fill.value,
            100.0 * limit
        );
        let hint = "take a smaller batch or more tins, or state `batter_ml` and `capacity_ml`";
        self.findings.warning("too-full", path, message, hint);
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

    /// Cooling steps without minutes get the longest of their tins'; each tin
    /// has its own.
    fn work_out_cooling(&mut self, id: RecipeId, path: &Path) {
        for method in 0..self.parts.recipes[id.0].methods.len() {
            for step in 0..self.parts.recipes[id.0].methods[method].steps.len() {
                let of = &self.parts.recipes[id.0].methods[method].steps[step];
                if of.kind == StepKind::Cool && of.minutes.is_none() && of.cool_to.is_some() {
                    let name = of.name.clone();
                    self.work_out_cool(id, path, (method, step), &name);
                }
            }
        }
    }

    fn work_out_cool(
        &mut self,
        id: RecipeId,
        path: &Path,
        (method, step): (usize, usize),
        name: &str,
    ) {
        let recipe = &self.parts.recipes[id.0];
        let of = &recipe.methods[method];
        let shapes = self.file.recipes[id.0].methods.get(method).map(|m| &m.steps);
        let written = shapes.and_then(|s| s.iter().position(|s| s.name == name)).unwrap_or(0);
        let path = path.field("methods").index(method).field("steps").index(written);
        let same_name = |m: &Method| {
            m.steps.iter().any(|s| s.name == name && s.cool_to != of.steps[step].cool_to)
        };
        let why = if !cools::after_bake(of).any(|s| s.name == name) {
            Some("it does not cool what has been baked".to_owned())
        } else if recipe.methods.iter().any(same_name) {
            Some("another method has a step of that name that cools otherwise".to_owned())
        } else {
            let without = |t: &&TinChoice| {
                t.goes_with(MethodId(method)) && t.step_minutes.iter().all(|(n, _)| n != name)
            };
            recipe.tins.iter().find(without).map(|tin| {
                let label = quoted(&tin.label);
                format!("shape or depth of mixture of {label} is not known")
            })
        };
        let own = recipe.tins.iter().filter(|t| t.goes_with(MethodId(method)));
        let own = own.flat_map(|t| &t.step_minutes).filter(|(n, _)| n == name).map(|(_, m)| *m);
        let longest = own.reduce(|a, b| if b.usual() > a.usual() { b } else { a });
        let (Some(minutes), None) = (longest, &why) else {
            let why = why.unwrap_or_else(|| "no tin says how deep the mixture is".to_owned());
            let message = format!(
                "the step {} has no minutes, and none can be worked out: {why}",
                quoted(name)
            );
            let hint = "add `minutes: 5` or `minutes: (4, 5, 7)`";
            self.findings.error("no-minutes", &path, message, hint);
            return;
        };
        let to = of.steps[step].cool_to.map_or(0.0, Celsius::get);
        let text = format!("{name}: until the middle is at {to} °C, computed ({})", recipe.name);
        self.parts.recipes[id.0].methods[method].steps[step].minutes = Some(minutes);
        self.assume(About::Recipe(id), path.field("minutes"), text);
    }
}

fn is_stated(tin: &crate::file::format::TinChoiceShape) -> bool {
    tin.minutes.is_some()
}
