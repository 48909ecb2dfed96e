//! Recipes: ingredients, methods as graphs of steps, tins.

use super::figure::{Figure, ThreePoint};
use super::ids::{KitId, MethodId, StepId, TinId};
use super::language::Language;
use super::measure::Measure;
use crate::units::{Celsius, ExactMinutes, Grams, Kelvins, Millilitres};

/// The role of an ingredient in the balance of a mixture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// Flour and what stands in for it; the 100 of baker's percentages.
    Flour,
    /// Fat and oil.
    Fat,
    /// Dry sugar.
    Sugar,
    /// Syrup and treacle.
    Syrup,
    /// Egg.
    Egg,
    /// Milk, water, juice.
    Liquid,
    /// Baking powder, bicarbonate, yeast.
    Raising,
    /// Anything else: spice, fruit, cheese, topping.
    Other,
}

/// An ingredient of one batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Ingredient {
    /// Its name.
    pub name: String,
    /// How much, in its measure.
    pub amount: f64,
    /// The measure.
    pub measure: Measure,
    /// Its weight.
    pub grams: Grams,
    /// Its role.
    pub role: Role,
    /// Allergens on its label, as entered; `None` means nobody has looked.
    pub allergens: Option<Vec<String>>,
}

/// Baker's percentages: parts per 100 of flour by weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Fat.
    pub fat: f64,
    /// Dry sugar.
    pub sugar: f64,
    /// Syrup and treacle.
    pub syrup: f64,
    /// Egg.
    pub egg: f64,
    /// Added liquid.
    pub liquid: f64,
    /// Raising agent added to the flour's own.
    pub raising: f64,
}

/// The kind of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StepKind {
    /// Pupils work at it.
    Hand,
    /// The step happens by itself: proving, resting, chilling.
    Wait,
    /// Pupils put the tins into the oven. Made from `bake`, named "load".
    Load,
    /// The bake itself.
    Bake,
    /// Pupils test and take the tins out. Made from `bake`, named "take out".
    TakeOut,
    /// The bake cools.
    Cool,
}

impl StepKind {
    /// Whether pupils' hands do it, so that pace counts and the class's own
    /// steps and the period bind it.
    pub fn is_hand(self) -> bool {
        matches!(self, StepKind::Hand | StepKind::Load | StepKind::TakeOut)
    }
}

/// How many pupils of the group a step takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PupilsNeeded {
    /// So many; 0 for a step that happens by itself.
    Count(u32),
    /// Every pupil of the group.
    All,
}

impl PupilsNeeded {
    /// How many pupils of a group of `pupils`; never more than there are.
    pub fn of(self, pupils: u32) -> u32 {
        match self {
            PupilsNeeded::Count(n) => n.min(pupils),
            PupilsNeeded::All => pupils,
        }
    }
}

/// The adult a step asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AdultNeed {
    /// No adult.
    #[default]
    None,
    /// An adult in the room, whom the step does not occupy.
    Near,
    /// An adult who is occupied for the length of the step.
    With,
}

/// A step of a method.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Its name, unique in its method.
    pub name: String,
    /// Its kind.
    pub kind: StepKind,
    /// The teacher's words for what is done.
    pub words: String,
    /// The words for pupils.
    pub pupil_words: String,
    /// Of a bake: by what it is known to be done, in the recipe's own words.
    pub done_when: String,
    /// The same in other languages, each once, as entered.
    pub home: Vec<(Language, String)>,
    /// How long; `None` only for the bake, whose minutes are the tin's.
    pub minutes: Option<ThreePoint>,
    /// For cooling nobody stated minutes for: it goes on until the middle is
    /// as cold as this, so that every tin has minutes of its own.
    pub cool_to: Option<Celsius>,
    /// The pupils it takes.
    pub pupils: PupilsNeeded,
    /// Kit used while it lasts, and how much of each.
    pub kit: Vec<(KitId, u32)>,
    /// The adult it asks for.
    pub adult: AdultNeed,
    /// Someone may do it before the start bell.
    pub may_be_beforehand: bool,
    /// Someone may do it after the end bell.
    pub may_be_collected: bool,
}

/// `end(from) + least <= start(to) <= end(from) + longest`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// The earlier step.
    pub from: StepId,
    /// The later step.
    pub to: StepId,
    /// Least gap, unrounded.
    pub least: ExactMinutes,
    /// Longest gap, unrounded; `None` if it may wait.
    pub longest: Option<Figure<ExactMinutes>>,
}

/// Kit that stays occupied from the start of one step to the end of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// The kit held.
    pub kit: KitId,
    /// Number of items.
    pub count: u32,
    /// Held from the start of this step.
    pub from: StepId,
    /// Held to the end of this one.
    pub to: StepId,
}

/// A way of making a recipe. Its steps and links form a graph without cycles.
#[derive(Debug, Clone, PartialEq)]
pub struct Method {
    /// Its name, unique in the recipe.
    pub name: String,
    /// Its steps, each after those it is linked from. A baked method has
    /// exactly one each of load, bake and take out, in this order.
    pub steps: Vec<Step>,
    /// Its links. Load, bake and take out are linked without a gap.
    pub links: Vec<Link>,
    /// Kit held over several steps.
    pub holds: Vec<Hold>,
    /// The tin is held from the start of the first of these steps to the end
    /// of the second. `None` if the method is not baked.
    pub tin_held: Option<(StepId, StepId)>,
}

impl Method {
    /// The steps that load, bake and take out, if it is baked.
    pub fn bake_steps(&self) -> Option<(StepId, StepId, StepId)> {
        let find = |kind| self.steps.iter().position(|s| s.kind == kind).map(StepId);
        Some((find(StepKind::Load)?, find(StepKind::Bake)?, find(StepKind::TakeOut)?))
    }

    /// The step of that name.
    pub fn step_named(&self, name: &str) -> Option<StepId> {
        self.steps.iter().position(|s| s.name == name).map(StepId)
    }
}

/// How a recipe wants its oven treated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BakeRules {
    /// Up to this far from its temperature it still bakes well.
    pub tolerance: Kelvins,
    /// Minutes the door stays shut, from the end of loading; `None` if the
    /// bake is not delicate.
    pub shut: Option<Figure<ExactMinutes>>,
    /// The door need not stay shut longer than this share of the bake.
    pub shut_share: f64,
    /// Share of a tin's capacity the raw mixture may fill.
    pub fill_limit: Figure<f64>,
}

/// A way of baking a recipe: which tin, how many, how hot, how long.
#[derive(Debug, Clone, PartialEq)]
pub struct TinChoice {
    /// Its name, unique in the recipe ("12 buns, ¾ batch").
    pub label: String,
    /// The kind of tin.
    pub tin: TinId,
    /// How many tins one group fills.
    pub count: u32,
    /// Share of the recipe's batch that goes in.
    pub batch: f64,
    /// Methods it belongs to; empty for all.
    pub methods: Vec<MethodId>,
    /// Oven temperature without a fan.
    pub celsius: Celsius,
    /// Bake minutes at that temperature: stated, or worked out where nobody
    /// has stated them; without them it cannot be chosen.
    pub minutes: Option<ThreePoint>,
    /// Bake minutes at other temperatures its recipe bears, worked out for
    /// those that other bakes of the lesson want.
    pub elsewhere: Vec<(Celsius, ThreePoint)>,
    /// How full a tin is said to be, as a share of what it holds, where
    /// nobody knows the mixture's volume.
    pub about_full: Option<f64>,
    /// Minutes of other steps that differ for this tin (filling, cooling),
    /// by the step's name.
    pub step_minutes: Vec<(String, ThreePoint)>,
}

impl TinChoice {
    /// Bake minutes at its own temperature or at another it is known at.
    pub fn minutes_at(&self, celsius: Celsius) -> Option<ThreePoint> {
        if celsius == self.celsius {
            return self.minutes;
        }
        self.elsewhere.iter().find(|(at, _)| *at == celsius).map(|(_, minutes)| *minutes)
    }

    /// The temperatures it has minutes for, its own first.
    pub fn temperatures(&self) -> impl Iterator<Item = Celsius> + '_ {
        let own = self.minutes.map(|_| self.celsius);
        own.into_iter().chain(self.elsewhere.iter().map(|(at, _)| *at))
    }

    /// Whether it can be used with that method.
    pub fn goes_with(&self, method: MethodId) -> bool {
        self.methods.is_empty() || self.methods.contains(&method)
    }
}

/// A recipe: one batch, for one group.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Its name, unique in the lesson.
    pub name: String,
    /// Ingredients of one batch.
    pub ingredients: Vec<Ingredient>,
    /// Volume of the raw mixture of one batch, where known.
    pub batter: Option<Figure<Millilitres>>,
    /// How to treat its oven.
    pub bake: BakeRules,
    /// Ways of making it, at least one.
    pub methods: Vec<Method>,
    /// Ways of baking it; empty if it is not baked.
    pub tins: Vec<TinChoice>,
}

impl Recipe {
    /// Weight of one batch.
    pub fn total_grams(&self) -> f64 {
        self.ingredients.iter().map(|i| i.grams.get()).sum()
    }

    /// Baker's percentages; `None` without flour.
    pub fn balance(&self) -> Option<Balance> {
        let weight = |role| -> f64 {
            self.ingredients.iter().filter(|i| i.role == role).map(|i| i.grams.get()).sum()
        };
        let flour = weight(Role::Flour);
        (flour > 0.0).then(|| {
            let percent = |role| 100.0 * weight(role) / flour;
            Balance {
                fat: percent(Role::Fat),
                sugar: percent(Role::Sugar),
                syrup: percent(Role::Syrup),
                egg: percent(Role::Egg),
                liquid: percent(Role::Liquid),
                raising: percent(Role::Raising),
            }
        })
    }
}
