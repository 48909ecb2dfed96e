//! Recipes: what goes in, how to treat the oven, which tins.

use super::Builder;
use super::findings::{Findings, listed, quoted};
use super::names::{Names, check_name};
use crate::bake::fill_in::usual_of_a_bake;
use crate::file::format::{
    BakeShape, FullnessShape, IngredientShape, RecipeShape, SourceShape, StatedMinutes,
    TinChoiceShape,
};
use crate::finding::{Path, shortened};
use crate::model::{
    About, BakeRules, Figure, Ingredient, Measure, MethodId, Origin, Recipe, RecipeId, Role,
    StepKind, ThreePoint, TinChoice, TinId,
};
use crate::units::{Celsius, ExactMinutes, Grams, Kelvins, Millilitres, halves};

/// Degrees off its temperature at which a bake still bakes well, if not said.
const TOLERANCE: f64 = 5.0;
/// Share of the bake for which the door need stay shut at most, if not said.
const SHUT_SHARE: f64 = 0.75;
/// Share of a tin the raw mixture may fill, if not said.
const FILL_LIMIT: f64 = 2.0 / 3.0;

/// Names within one recipe.
pub(super) struct RecipeNames {
    /// Names of its methods.
    pub methods: Names,
    /// Labels of its tins.
    pub labels: Names,
    /// Name in the file of each method's bake step.
    pub bakes: Vec<Option<String>>,
}

impl RecipeNames {
    fn new() -> Self {
        Self { methods: Names::new("method"), labels: Names::new("tin choice"), bakes: Vec::new() }
    }
}

/// A recipe while it is built, with the figures it leaves to be assumed.
pub(super) struct Making {
    pub origin: Origin,
    pub names: RecipeNames,
    /// Steps whose quick and slow minutes are derived.
    pub spread: Vec<String>,
    /// Other figures nobody stated, and where they would be.
    pub assumed: Vec<(Path, String)>,
}

impl Making {
    /// Notes that a step's quick and slow minutes are derived.
    pub fn note(&mut self, stated: StatedMinutes, name: &str) {
        let known = self.spread.iter().any(|s| s == name);
        if matches!(stated, StatedMinutes::Usual(_)) && !known {
            self.spread.push(name.to_owned());
        }
    }
}

impl Builder<'_> {
    pub(super) fn recipes(&mut self) {
        let path = Path::root().field("recipes");
        let file = self.file;
        if !self.findings.length(&path, "recipes", file.recipes.len(), 200) {
            return;
        }
        for (i, shape) in file.recipes.iter().enumerate() {
            self.recipe(&path.index(i), shape);
        }
    }

    fn recipe(&mut self, path: &Path, shape: &RecipeShape) {
        self.recipes.add(&mut self.findings, &path.field("name"), &shape.name);
        let id = RecipeId(self.parts.recipes.len());
        let origin = match shape.source {
            SourceShape::Own => Origin::Recipe,
            SourceShape::Library => Origin::Library,
        };
        self.note_review(&path.field("review"), shape);
        let names = RecipeNames::new();
        let mut making = Making { origin, names, spread: Vec::new(), assumed: Vec::new() };
        let ingredients = self.ingredients(&path.field("ingredients"), &shape.ingredients);
        let batter = shape.batter_ml.and_then(|ml| {
            let path = path.field("batter_ml");
            let ml = self.findings.range(&path, "the raw mixture in ml", ml, (1.0, 50_000.0))?;
            Some(Figure { value: Millilitres::new(ml).ok()?, origin })
        });
        let bake = self.bake_rules(&path.field("bake"), shape, &mut making);
        let mut recipe = Recipe {
            name: shape.name.clone(),
            ingredients,
            batter,
            bake,
            methods: Vec::new(),
            tins: Vec::new(),
        };
        self.methods(path, shape, &mut recipe, &mut making);
        self.tin_choices(path, shape, &mut recipe, &mut making);
        self.note_assumptions(id, path, &recipe, making);
        self.parts.recipes.push(recipe);
    }

    /// What is unsure of a recipe from elsewhere is told until somebody has
    /// looked at it.
    fn note_review(&mut self, path: &Path, shape: &RecipeShape) {
        let Some(first) = shape.review.first() else { return };
        let about = if first.text.is_empty() { "" } else { ": " };
        let first = shortened(&format!("{}{about}{}", first.text, first.why), 200);
        let message = match shape.review.len() {
            1 => format!("one thing of {} is to be reviewed: {first}", quoted(&shape.name)),
            n => format!("{n} things of {} are to be reviewed, first {first}", quoted(&shape.name)),
        };
        let hint = "put it right where it is wrong, then take it out of `review`";
        self.findings.warning("to-review", path, message, hint);
    }

    fn note_assumptions(&mut self, id: RecipeId, path: &Path, recipe: &Recipe, making: Making) {
        let name = &recipe.name;
        if !making.spread.is_empty() {
            let steps = listed(making.spread.iter().map(String::as_str));
            let text = format!("quick and slow minutes of {steps}: ¾ and 1½ of the usual ({name})");
            self.assume(About::QuickMinutes(id), path.clone(), text);
        }
        if recipe.methods.iter().any(|m| m.bake_steps().is_some()) {
            for (at, text) in making.assumed {
                self.assume(About::Recipe(id), at, format!("{text} ({name})"));
            }
        }
        self.inside.push(making.names);
    }

    fn ingredients(&mut self, path: &Path, shapes: &[IngredientShape]) -> Vec<Ingredient> {
        if !self.findings.length(path, "ingredients", shapes.len(), 200) {
            return Vec::new();
        }
        let build = |(i, shape): (usize, &IngredientShape)| {
            ingredient(&mut self.findings, &path.index(i), shape)
        };
        shapes.iter().enumerate().filter_map(build).collect()
    }

    fn bake_rules(&mut self, path: &Path, shape: &RecipeShape, making: &mut Making) -> BakeRules {
        let bake: &BakeShape = &shape.bake;
        let f = &mut self.findings;
        let tolerance = bake.tolerance.unwrap_or_else(|| {
            let text = format!("bakes well within {TOLERANCE} °C of its temperature");
            making.assumed.push((path.field("tolerance"), text));
            TOLERANCE
        });
        let tolerance =
            f.range(&path.field("tolerance"), "the tolerance in °C", tolerance, (0.0, 50.0));
        let shut = bake.shut.and_then(|minutes| {
            let path = path.field("shut");
            let what = "the minutes the door stays shut";
            let minutes = f.range(&path, what, minutes, (0.0, 240.0))?;
            Some(Figure { value: ExactMinutes::new(minutes).ok()?, origin: making.origin })
        });
        let shut_share = bake.shut_share.unwrap_or_else(|| {
            if bake.shut.is_some() {
                let text = "oven door shut for ¾ of the bake at most".into();
                making.assumed.push((path.field("shut_share"), text));
            }
            SHUT_SHARE
        });
        let shut_share = f.range(&path.field("shut_share"), "shut_share", shut_share, (0.0, 1.0));
        let fill_limit = match bake.fill_limit {
            Some(limit) => {
                let limit = f.range(&path.field("fill_limit"), "fill_limit", limit, (0.05, 1.2));
                Figure { value: limit.unwrap_or(FILL_LIMIT), origin: making.origin }
            }
            None => {
                if shape.batter_ml.is_some() {
                    let text = "raw mixture fills ⅔ of a tin at most".into();
                    making.assumed.push((path.field("fill_limit"), text));
                }
                Figure::assumed(FILL_LIMIT)
            }
        };
        BakeRules {
            tolerance: Kelvins::new(tolerance.unwrap_or(TOLERANCE)).unwrap_or(Kelvins::ZERO),
            shut,
            shut_share: shut_share.unwrap_or(SHUT_SHARE),
            fill_limit,
        }
    }

    fn tin_choices(
        &mut self,
        path: &Path,
        shape: &RecipeShape,
        recipe: &mut Recipe,
        making: &mut Making,
    ) {
        let baked = shape.methods.iter().any(super::methods::is_baked);
        if baked && shape.tins.is_empty() {
            let message = format!("{} is baked, but in no tin", quoted(&shape.name));
            let hint = "add `tins: [(tin: \"…\", celsius: 180, minutes: 20)]` to the recipe";
            self.findings.error("no-tins", path, message, hint);
        }
        let path = path.field("tins");
        if !baked && !shape.tins.is_empty() && !shape.methods.is_empty() {
            let message = format!("{} has tins, but no step that bakes", quoted(&shape.name));
            let hint = "mark the step with `kind: Bake`, or leave the tins out";
            self.findings.error("no-bake", &path, message, hint);
        }
        if !self.findings.length(&path, "tins", shape.tins.len(), 60) {
            return;
        }
        for (i, tin) in shape.tins.iter().enumerate() {
            let choice = self.tin_choice(&path.index(i), tin, recipe, making);
            recipe.tins.push(choice);
        }
    }

    fn tin_choice(
        &mut self,
        path: &Path,
        shape: &TinChoiceShape,
        recipe: &Recipe,
        making: &mut Making,
    ) -> TinChoice {
        let label = shape.label.as_ref().unwrap_or(&shape.tin);
        let label_at = path.field(if shape.label.is_some() { "label" } else { "tin" });
        making.names.labels.add(&mut self.findings, &label_at, label);
        let tin = self.tins.find(&mut self.findings, &path.field("tin"), &shape.tin);
        let f = &mut self.findings;
        let count =
            f.count(&path.field("count"), "the number of tins", shape.count.unwrap_or(1), (1, 60));
        let batch = shape.batch.unwrap_or(1.0);
        let batch = f.range(&path.field("batch"), "the share of the batch", batch, (0.05, 20.0));
        let at = path.field("celsius");
        let celsius = shape.celsius.unwrap_or_else(|| {
            // The middle of what cakes and buns bake at (common practice of the
            // trade).
            let usual = Celsius::BAKING.get();
            making.assumed.push((at.clone(), format!("oven for {label} at {usual} °C")));
            usual
        });
        let celsius = f.range(&at, "the temperature in °C", celsius, (50.0, 300.0));
        let mut methods = Vec::new();
        for (i, name) in shape.methods.iter().enumerate() {
            let found = making.names.methods.find(f, &path.field("methods").index(i), name);
            methods.extend(found.map(MethodId));
        }
        let minutes = self.bake_minutes(path, shape, label, making);
        let mut choice = TinChoice {
            label: label.clone(),
            tin: TinId(tin.unwrap_or(0)),
            count: count.unwrap_or(1),
            batch: batch.unwrap_or(1.0),
            methods,
            celsius: celsius.and_then(|c| Celsius::new(c).ok()).unwrap_or(Celsius::BAKING),
            minutes,
            elsewhere: Vec::new(),
            about_full: shape.about_full.map(FullnessShape::share),
            step_minutes: Vec::new(),
        };
        choice.step_minutes = self.step_minutes(path, shape, &choice, recipe, making);
        choice
    }

    fn bake_minutes(
        &mut self,
        path: &Path,
        shape: &TinChoiceShape,
        label: &str,
        making: &mut Making,
    ) -> Option<ThreePoint> {
        let (stated, at) = (shape.minutes?, path.field("minutes"));
        let minutes = self.findings.minutes(&at, stated, self.file.class.band, making.origin)?;
        if !matches!(stated, StatedMinutes::Usual(_)) {
            return Some(minutes);
        }
        let minutes = usual_of_a_bake(minutes.usual(), making.origin).unwrap_or(minutes);
        let [quick, slow] = [minutes.quick(), minutes.slow()].map(|m| halves(m.get()));
        let text = format!("bake in {label}: {quick} to {slow} min about the stated ones");
        making.assumed.push((at, text));
        Some(minutes)
    }

    fn step_minutes(
        &mut self,
        path: &Path,
        shape: &TinChoiceShape,
        choice: &TinChoice,
        recipe: &Recipe,
        making: &mut Making,
    ) -> Vec<(String, ThreePoint)> {
        let mut known = Names::new("step with minutes");
        for (i, method) in recipe.methods.iter().enumerate() {
            if choice.goes_with(MethodId(i)) {
                for step in method.steps.iter().filter(|s| s.kind != StepKind::Bake) {
                    if known.position(&step.name).is_none() {
                        known.add_unchecked(&step.name);
                    }
                }
            }
        }
        let mut seen = Names::new("entry for the step");
        let mut minutes = Vec::new();
        for (name, stated) in &shape.step_minutes.0 {
            let path = path.field("step_minutes").key(name);
            seen.add(&mut self.findings, &path, name);
            known.find(&mut self.findings, &path, name);
            making.note(*stated, &format!("{name} ({})", choice.label));
            let band = self.file.class.band;
            if let Some(m) = self.findings.minutes(&path, *stated, band, making.origin) {
                minutes.push((name.clone(), m));
            }
        }
        minutes
    }
}

fn ingredient(f: &mut Findings, path: &Path, shape: &IngredientShape) -> Option<Ingredient> {
    check_name(f, &path.field("name"), "ingredient", &shape.name);
    let measure = shape.unit.map_or(Measure::Gram, Measure::from);
    let at = path.field("amount");
    if shape.amount == 0.0 {
        let message = format!("how much {} goes in is not said", quoted(&shape.name));
        let hint = "write its `amount`, or take the ingredient out";
        f.error("no-amount", &at, message, hint);
        return None;
    }
    let amount = f.range(&at, "the amount", shape.amount, (0.01, 100_000.0))?;
    let grams = f.range(&at, "its weight in grams", measure.grams(amount), (0.0, 100_000.0))?;
    Some(Ingredient {
        name: shape.name.clone(),
        amount,
        measure,
        grams: Grams::new(grams).ok()?,
        role: shape.role.map_or(Role::Other, Role::from),
        allergens: shape.allergens.clone(),
    })
}
