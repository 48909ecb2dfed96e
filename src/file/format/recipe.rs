//! Recipes in a lesson file.

use serde::{Deserialize, Serialize};

use super::{Entries, StatedMinutes, is_default};
use crate::model::{Measure, Role};

/// Where a recipe's figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum SourceShape {
    /// The teacher's own recipe.
    #[default]
    Own,
    /// Copied from the library that comes with the program.
    Library,
}

/// A recipe: one batch for one group.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecipeShape {
    /// Its name.
    pub name: String,
    /// Where its figures come from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub source: SourceShape,
    /// Anything worth knowing: hazard, skill, substitutions.
    #[serde(default, skip_serializing_if = "is_default")]
    pub notes: Vec<String>,
    /// Ingredients of one batch.
    #[serde(default, skip_serializing_if = "is_default")]
    pub ingredients: Vec<IngredientShape>,
    /// Volume of the raw mixture of one batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batter_ml: Option<f64>,
    /// How to treat the oven.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bake: BakeShape,
    /// Ways of making it.
    pub methods: Vec<MethodShape>,
    /// Ways of baking it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tins: Vec<TinChoiceShape>,
    /// What is unsure since it was read from elsewhere.
    #[serde(default, skip_serializing_if = "is_default")]
    pub review: Vec<ReviewShape>,
    /// What else was told of it elsewhere: a JSON object, as text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jsonld: Option<String>,
}

/// Something to be reviewed: `(text: "2–3 eggs", why: "2 to 3: the less is taken")`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReviewShape {
    /// The part of the recipe that it is about.
    #[serde(default, skip_serializing_if = "is_default")]
    pub about: ReviewedShape,
    /// The words it is about, as they stood elsewhere; empty if it is about
    /// what did not stand there.
    #[serde(default, skip_serializing_if = "is_default")]
    pub text: String,
    /// Why it is unsure, and what to do.
    pub why: String,
}

/// The part of a recipe that something to be reviewed is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum ReviewedShape {
    /// The recipe as a whole.
    #[default]
    Recipe,
    /// Its name.
    Name,
    /// An ingredient, or all of them.
    Ingredient,
    /// What ingredients do in the mixture.
    Roles,
    /// A step, or all of them.
    Step,
    /// Minutes of steps of which nobody stated any.
    Minutes,
    /// The bake: its tin, how hot it is and how long it lasts.
    Tin,
}

/// An ingredient: `(name: "plain flour", amount: 200, role: Flour)`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IngredientShape {
    /// Its name.
    pub name: String,
    /// How much, in `unit`.
    pub amount: f64,
    /// Grams if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<MeasureShape>,
    /// Its role; `Other` if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<RoleShape>,
    /// Allergens on the label; not said means nobody has looked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allergens: Option<Vec<String>>,
}

/// A measure in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs)] // the names of the measures say it all
pub enum MeasureShape {
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Millilitre,
    Litre,
    Teaspoon,
    Tablespoon,
    UsCup,
    Egg,
}

impl From<MeasureShape> for Measure {
    fn from(shape: MeasureShape) -> Measure {
        match shape {
            MeasureShape::Gram => Measure::Gram,
            MeasureShape::Kilogram => Measure::Kilogram,
            MeasureShape::Ounce => Measure::Ounce,
            MeasureShape::Pound => Measure::Pound,
            MeasureShape::Millilitre => Measure::Millilitre,
            MeasureShape::Litre => Measure::Litre,
            MeasureShape::Teaspoon => Measure::Teaspoon,
            MeasureShape::Tablespoon => Measure::Tablespoon,
            MeasureShape::UsCup => Measure::UsCup,
            MeasureShape::Egg => Measure::Egg,
        }
    }
}

/// The role of an ingredient, in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[allow(missing_docs)] // as `model::Role`
pub enum RoleShape {
    Flour,
    Fat,
    Sugar,
    Syrup,
    Egg,
    Liquid,
    Raising,
    Other,
}

impl From<RoleShape> for Role {
    fn from(shape: RoleShape) -> Role {
        match shape {
            RoleShape::Flour => Role::Flour,
            RoleShape::Fat => Role::Fat,
            RoleShape::Sugar => Role::Sugar,
            RoleShape::Syrup => Role::Syrup,
            RoleShape::Egg => Role::Egg,
            RoleShape::Liquid => Role::Liquid,
            RoleShape::Raising => Role::Raising,
            RoleShape::Other => Role::Other,
        }
    }
}

/// How to treat the oven.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct BakeShape {
    /// Degrees off its temperature at which it still bakes well; 5 if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// Minutes the door stays shut after loading; not said means it may be
    /// opened at any time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shut: Option<f64>,
    /// The door need stay shut for no more than this share of the bake; 0.75
    /// if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shut_share: Option<f64>,
    /// Share of a tin the raw mixture may fill; two thirds if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fill_limit: Option<f64>,
    /// Minutes to load; (0.5, 1, 2) if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub load: Option<StatedMinutes>,
    /// Minutes to test and take out; (0.5, 1, 2) if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub take_out: Option<StatedMinutes>,
    /// What loading and taking out ask of the adults; nothing if not said.
    #[serde(skip_serializing_if = "is_default")]
    pub adult: AdultShapeNeed,
}

/// A way of making a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MethodShape {
    /// Its name: "all-in-one", "creaming by hand".
    pub name: String,
    /// Its steps, in the order in which a recipe tells them.
    pub steps: Vec<StepShape>,
    /// Gaps between steps that matter.
    #[serde(default, skip_serializing_if = "is_default")]
    pub links: Vec<LinkShape>,
    /// Kit occupied over several steps.
    #[serde(default, skip_serializing_if = "is_default")]
    pub holds: Vec<HoldShape>,
    /// The steps from whose start to whose end the tin is occupied; from the
    /// step before the bake to the first cooling if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tin_held: Option<(String, String)>,
}

/// The kind of a step, in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum StepKindShape {
    /// Work of hands.
    #[default]
    Hand,
    /// The step happens by itself.
    Wait,
    /// Loading, baking and taking out; at most one in a method.
    Bake,
    /// The bake cools.
    Cool,
}

/// The adult a step asks for, in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum AdultShapeNeed {
    /// No adult.
    #[default]
    None,
    /// An adult in the room.
    Near,
    /// An adult occupied by the step.
    With,
}

/// A step: `(name: "rub in", minutes: (4, 5, 7))`.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepShape {
    /// Its name, in the teacher's words.
    pub name: String,
    /// Its kind.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kind: StepKindShape,
    /// How long. Not for the bake, whose minutes are the tin's; worked out
    /// for cooling, if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<StatedMinutes>,
    /// Cooling without minutes goes on until the middle is at this many °C;
    /// 45 (hand-warm) if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cool_to: Option<f64>,
    /// The steps it comes after; the one before it in the list if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<Vec<String>>,
    /// How many pupils of the group; one for work of hands if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupils: Option<i64>,
    /// Every pupil of the group takes part.
    #[serde(default, skip_serializing_if = "is_default")]
    pub everyone: bool,
    /// Kit in use while it lasts.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kit: Entries<i64>,
    /// The adult it asks for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub adult: AdultShapeNeed,
    /// More of the teacher's words.
    #[serde(default, skip_serializing_if = "is_default")]
    pub words: String,
    /// The words for pupils.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pupil_words: String,
    /// Of a bake: by what it is known to be done.
    #[serde(default, skip_serializing_if = "is_default")]
    pub done_when: String,
    /// The words for pupils in other languages, by the code of each: `{"pl": "…"}`.
    #[serde(default, skip_serializing_if = "is_default")]
    pub home: Entries<String>,
    /// Someone may do it before the start bell.
    #[serde(default, skip_serializing_if = "is_default")]
    pub may_be_beforehand: bool,
    /// Someone may do it after the end bell.
    #[serde(default, skip_serializing_if = "is_default")]
    pub may_be_collected: bool,
}

/// A gap that matters: `(from: "mix", to: "bake", longest: 10)`. A link to the
/// bake is to the start of loading, one from it from the end of taking out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LinkShape {
    /// The earlier step.
    pub from: String,
    /// The later one.
    pub to: String,
    /// Least minutes between them; 0 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<f64>,
    /// Longest minutes between them; it may wait if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest: Option<f64>,
}

/// Kit occupied over several steps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoldShape {
    /// The kit held.
    pub kit: String,
    /// How many; one if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// From the start of this step.
    pub from: String,
    /// To the end of this one.
    pub to: String,
}

/// How full a tin looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum FullnessShape {
    /// About a third.
    Third,
    /// About half.
    Half,
    /// About two thirds.
    TwoThirds,
}

impl FullnessShape {
    /// As a share of what the tin holds.
    pub fn share(self) -> f64 {
        match self {
            FullnessShape::Third => 1.0 / 3.0,
            FullnessShape::Half => 0.5,
            FullnessShape::TwoThirds => 2.0 / 3.0,
        }
    }
}

/// A way of baking a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TinChoiceShape {
    /// The kind of tin.
    pub tin: String,
    /// The choice's own name; the tin's name if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// How many tins; one if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// Share of the batch; all of it if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<f64>,
    /// Only for these methods.
    #[serde(default, skip_serializing_if = "is_default")]
    pub methods: Vec<String>,
    /// Oven temperature without a fan, °C; 180 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub celsius: Option<f64>,
    /// Bake minutes; worked out from the recipe's other tins if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<StatedMinutes>,
    /// How full the tin is, where neither volume nor weight of the mixture is
    /// known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about_full: Option<FullnessShape>,
    /// Minutes of other steps that differ in this tin, by the step's name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub step_minutes: Entries<StatedMinutes>,
}

impl TinChoiceShape {
    /// One tin for a whole batch by any method, its minutes to be worked out.
    pub fn new(tin: &str, celsius: impl Into<Option<f64>>) -> Self {
        Self {
            tin: tin.to_owned(),
            label: None,
            count: None,
            batch: None,
            methods: Vec::new(),
            celsius: celsius.into(),
            minutes: None,
            about_full: None,
            step_minutes: Entries::default(),
        }
    }
}
