//! What labels say: of ingredients, of recipes, and against what groups need.
//!
//! Nothing is ever told to hold nothing of an allergen: a label that was read names
//! it or does not, and what nobody has read is not known.

use chrono::NaiveDate;

use crate::model::{GroupId, Ingredient, Lesson, RecipeId};
use crate::speech::allergens::{Allergen, List};
use crate::words::list;

/// How something stands to an allergen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// Labels that were read do not name it.
    NotNamed,
    /// Nobody has read some label.
    NotKnown,
    /// A label names it.
    Named,
}

impl Stands {
    /// Its fixed words.
    pub fn name(self) -> &'static str {
        match self {
            Stands::NotNamed => "not named",
            Stands::NotKnown => "not known",
            Stands::Named => "named",
        }
    }
}

/// What is known of an ingredient's label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IngredientLabel {
    /// The ingredient.
    pub ingredient: String,
    /// Allergens that are named, as they were entered.
    pub named: Vec<String>,
    /// Somebody has read all of it.
    pub is_read: bool,
    /// Initials of who did, where they are entered.
    pub read_by: Option<String>,
    /// When.
    pub read_on: Option<NaiveDate>,
}

impl IngredientLabel {
    /// How it stands to an allergen.
    pub fn stands(&self, allergen: &Allergen) -> Stands {
        if self.named.iter().any(|name| allergen.is_named_by(name)) {
            Stands::Named
        } else if self.is_read {
            Stands::NotNamed
        } else {
            Stands::NotKnown
        }
    }
}

/// The label of an ingredient of a recipe. Where it has a packet, the packet's
/// label is what was read; what the recipe names besides is named all the same.
pub fn label(lesson: &Lesson, ingredient: &Ingredient) -> IngredientLabel {
    let packet = lesson.packets.iter().find(|p| p.is_of(&ingredient.name));
    let read = packet.and_then(|packet| packet.read(lesson.date));
    let mut named = read.map_or_else(Vec::new, |label| label.names.clone());
    for name in ingredient.allergens.iter().flatten() {
        if !named.contains(name) {
            named.push(name.clone());
        }
    }
    IngredientLabel {
        ingredient: ingredient.name.clone(),
        named,
        is_read: read.is_some() || packet.is_none() && ingredient.allergens.is_some(),
        read_by: read.map(|label| label.read_by.clone()),
        read_on: read.and_then(|label| label.read_on),
    }
}

/// Labels of a recipe's ingredients, in its order.
pub fn labels(lesson: &Lesson, recipe: RecipeId) -> Vec<IngredientLabel> {
    lesson.recipes[recipe.0].ingredients.iter().map(|i| label(lesson, i)).collect()
}

/// How a recipe stands to an allergen. Of one without ingredients nothing is known.
pub fn recipe_stands(labels: &[IngredientLabel], allergen: &Allergen) -> Stands {
    labels.iter().map(|label| label.stands(allergen)).max().unwrap_or(Stands::NotKnown)
}

/// A need of a group against the labels of what its recipe takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NeedStands {
    /// Whose.
    pub group: GroupId,
    /// The need, as entered.
    pub need: String,
    /// How the recipe stands to it; `None` where the need names no allergen of the
    /// list, so that only a person can tell.
    pub stands: Option<Stands>,
    /// Ingredients whose labels name it, or, if none does, those nobody has read.
    pub because: Vec<String>,
}

impl NeedStands {
    /// How it stands, and because of what.
    pub fn told(&self) -> String {
        let because = list(&self.because);
        match self.stands {
            None => "no allergen of the law's list: ask who knows the pupil".to_owned(),
            Some(Stands::Named) => format!("named on the label of {because}"),
            Some(Stands::NotNamed) => "not named on the labels that were read".to_owned(),
            Some(Stands::NotKnown) if because.is_empty() => {
                "not known, as no ingredients are entered".to_owned()
            }
            Some(Stands::NotKnown) => format!("not known: nobody has read the label of {because}"),
        }
    }
}

/// Needs of all groups that take part, in the lesson's order.
pub fn needs(lesson: &Lesson, law: &List) -> Vec<NeedStands> {
    let of_group = |group: GroupId| {
        let labels = labels(lesson, lesson.group(group).recipe);
        let needs = lesson.group(group).needs.iter();
        needs.map(|need| need_stands(group, need, &labels, law)).collect::<Vec<_>>()
    };
    lesson.attending().flat_map(of_group).collect()
}

fn need_stands(group: GroupId, need: &str, labels: &[IngredientLabel], law: &List) -> NeedStands {
    let mut meant = law.allergens.iter().filter(|a| a.is_named_by(need)).peekable();
    let is_allergen = meant.peek().is_some();
    let mut each: Vec<(Stands, &str)> = Vec::new();
    for allergen in meant {
        each.extend(labels.iter().map(|l| (l.stands(allergen), l.ingredient.as_str())));
    }
    let stands = each.iter().map(|(stands, _)| *stands).max().unwrap_or(Stands::NotKnown);
    let mut because: Vec<String> = Vec::new();
    for (_, ingredient) in each.iter().filter(|(s, _)| *s == stands && *s != Stands::NotNamed) {
        if !because.iter().any(|name| name == ingredient) {
            because.push((*ingredient).to_owned());
        }
    }
    let stands = is_allergen.then_some(stands);
    NeedStands { group, need: need.to_owned(), stands, because }
}
