//! All ingredients of a class on one page: by where they stand in the store, what is
//! needed, and what their labels say.

use super::labels::{IngredientLabel, NeedStands, Stands, label, labels, needs, recipe_stands};
use super::{Extra, OrderLine, Stores, order, told};
use crate::check::CheckedPlan;
use crate::model::{Lesson, RecipeId};
use crate::speech::allergens::{Allergen, List};
use crate::words::{capital, list, number};

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct IngredientsPage {
    /// How it stands, in a sentence.
    pub sentence: String,
    /// Allergens with a column of their own: what labels name and groups need.
    pub columns: Vec<&'static Allergen>,
    /// How many more the law lists, in the last column together.
    pub others: usize,
    /// Ingredients by where they stand; last those whose place is not entered.
    pub shelves: Vec<(String, Vec<IngredientRow>)>,
    /// Recipes that are made.
    pub recipes: Vec<RecipeRow>,
    /// Needs by unit.
    pub needs: Vec<UnitNeed>,
}

/// A need of a unit against the labels of what it makes.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitNeed {
    /// The unit.
    pub unit: String,
    /// The recipe it makes.
    pub makes: String,
    /// Its mixture is kept apart from the others'.
    pub is_apart: bool,
    /// The need, and how it stands.
    pub need: NeedStands,
}

impl UnitNeed {
    /// All of it in a sentence. It is never a yes or a no: where labels are read, who may
    /// eat is for whoever knows the pupil.
    pub fn told(&self) -> String {
        let Self { unit, makes, need, .. } = self;
        let stands = match need.stands {
            Some(Stands::NotKnown) if need.because.len() > 1 => {
                format!("not known, as the labels of {} have not been read", list(&need.because))
            }
            Some(Stands::NotKnown) if !need.because.is_empty() => {
                format!("not known, as the label of {} has not been read", list(&need.because))
            }
            Some(Stands::NotNamed) => {
                format!("{}, which is no proof that none is there", need.told())
            }
            _ => need.told(),
        };
        format!("{unit} needs “{}” and makes {makes}: {stands}.", need.need)
    }

    /// The ingredient to look at first for it, if one is to blame.
    pub fn first(&self) -> Option<&str> {
        self.need.because.first().map(String::as_str)
    }
}

/// A recipe that is made, against what is known of the labels of what goes into it.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeRow {
    /// The recipe.
    pub name: String,
    /// Against the columns; the last is all others together.
    pub stands: Vec<Stands>,
    /// Ingredients whose labels nobody has read.
    pub unread: Vec<String>,
}

impl RecipeRow {
    /// What is known of the labels of what goes into it, in short.
    pub fn labels(&self) -> String {
        match self.unread.len() {
            0 => "all read".to_owned(),
            n => format!("{n} not read"),
        }
    }

    /// All of it in a sentence.
    pub fn told(&self, columns: &[&'static Allergen]) -> String {
        let each = columns.iter().zip(&self.stands);
        let each: Vec<String> = each
            .map(|(allergen, stands)| format!("{} {}", allergen.short(), stands.name()))
            .collect();
        let labels = match self.unread.as_slice() {
            [] => "the labels of all that goes into it have been read".to_owned(),
            [one] => format!("the label of {one} has not been read"),
            several => format!("the labels of {} have not been read", list(several)),
        };
        match each.as_slice() {
            [] => format!("{}: {labels}", self.name),
            each => format!("{}: {labels}; {}", self.name, each.join(", ")),
        }
    }
}

/// An ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct IngredientRow {
    /// Its name.
    pub name: String,
    /// For the groups.
    pub needed: String,
    /// For demo and spare sets.
    pub spare: String,
    /// In whole packs, where it is known what one holds.
    pub packs: String,
    /// Against the columns; the last is all others together.
    pub stands: Vec<Stands>,
    /// Who read its label, and when.
    pub read: String,
    /// Whether it is known what its label names.
    pub is_read: bool,
    /// It is known as it was entered; nobody is named who read a label.
    pub as_entered: bool,
}

impl IngredientRow {
    /// All of it in a sentence.
    pub fn told(&self, columns: &[&'static Allergen]) -> String {
        let named = columns.iter().zip(&self.stands).filter(|(_, s)| **s == Stands::Named);
        let named: Vec<String> = named.map(|(a, _)| a.name.to_owned()).collect();
        let label = match (named.as_slice(), self.is_read) {
            ([], true) if self.as_entered => "entered as naming none of these".to_owned(),
            (named, true) if self.as_entered => format!("entered as naming {}", list(named)),
            ([], false) => "not known: nobody has read its label".to_owned(),
            ([], true) => "its label names none of these".to_owned(),
            (named, true) => format!("its label names {}", list(named)),
            (named, false) => format!("names {}; nobody has read the rest", list(named)),
        };
        format!("{}: {}, {label}", self.name, self.needed)
    }
}

impl IngredientsPage {
    /// Of a lesson and, if there is one, its plan; against a law's allergens.
    pub fn of(lesson: &Lesson, plan: Option<&CheckedPlan>, law: &'static List) -> Self {
        let stores = Stores::of(lesson, plan, Extra::usual(lesson));
        let lines = order(&[(lesson, &stores)]);
        let made: Vec<RecipeId> = stores.recipes.iter().map(|of| of.recipe).collect();
        let needs = needs(lesson, law);
        let all: Vec<IngredientLabel> = made.iter().flat_map(|&r| labels(lesson, r)).collect();
        let (columns, others): (Vec<&'static Allergen>, Vec<&'static Allergen>) =
            law.allergens.iter().partition(|allergen| {
                all.iter().any(|label| label.stands(allergen) == Stands::Named)
                    || needs.iter().any(|need| allergen.is_named_by(&need.need))
            });
        let against = |labels: &[IngredientLabel]| -> Vec<Stands> {
            let own = columns.iter().map(|allergen| recipe_stands(labels, allergen));
            let rest = others.iter().map(|allergen| recipe_stands(labels, allergen)).max();
            own.chain(rest).collect()
        };
        let row = |line: &OrderLine| {
            let of_line: Vec<IngredientLabel> = line
                .made
                .iter()
                .flat_map(|(_, recipe)| &lesson.recipes[recipe.0].ingredients)
                .filter(|i| i.name.trim().to_lowercase() == line.name.to_lowercase())
                .map(|ingredient| label(lesson, ingredient))
                .collect();
            let packs = line.packs().zip(line.packet.as_ref().and_then(|p| p.holds));
            let is_read = of_line.iter().all(|label| label.is_read);
            IngredientRow {
                name: line.name.clone(),
                needed: told::measured(line.measure, line.needed),
                spare: told::measured(line.measure, line.spare),
                packs: packs.map_or(String::new(), |(packs, (holds, measure))| {
                    format!("{} × {}", packs.count, told::measured(measure, holds))
                }),
                stands: against(&of_line),
                read: read_words(&of_line, is_read),
                is_read,
                as_entered: is_read && is_anonymous(&of_line),
            }
        };
        let mut shelves: Vec<(String, Vec<IngredientRow>)> = Vec::new();
        for line in &lines {
            let place = line.packet.as_ref().map_or("", |packet| packet.store.trim());
            match shelves.iter_mut().find(|(of, _)| of == place) {
                Some((_, rows)) => rows.push(row(line)),
                None => shelves.push((place.to_owned(), vec![row(line)])),
            }
        }
        shelves.sort_by_key(|(place, _)| place.is_empty());
        let recipe = |&id: &RecipeId| {
            let labels = labels(lesson, id);
            let unread = labels.iter().filter(|label| !label.is_read);
            RecipeRow {
                name: lesson.recipes[id.0].name.clone(),
                stands: against(&labels),
                unread: unread.map(|label| label.ingredient.clone()).collect(),
            }
        };
        let recipes = made.iter().map(recipe).collect();
        let unread: Vec<&IngredientRow> =
            shelves.iter().flat_map(|(_, rows)| rows).filter(|row| !row.is_read).collect();
        Self {
            sentence: sentence(lines.len(), unread.len()),
            columns,
            others: others.len(),
            shelves,
            recipes,
            needs: needs
                .into_iter()
                .map(|need| UnitNeed {
                    unit: lesson.group(need.group).name.clone(),
                    makes: lesson.recipe_of(need.group).name.clone(),
                    is_apart: lesson.group(need.group).keep_apart,
                    need,
                })
                .collect(),
        }
    }

    /// The row of an ingredient, whatever its capitals.
    pub fn row(&self, name: &str) -> Option<&IngredientRow> {
        let mut rows = self.shelves.iter().flat_map(|(_, rows)| rows);
        rows.find(|row| row.name.to_lowercase() == name.trim().to_lowercase())
    }
}

/// Whether nobody is named who read one of the labels.
fn is_anonymous(labels: &[IngredientLabel]) -> bool {
    labels.iter().all(|label| label.read_by.is_none())
}

fn read_words(labels: &[IngredientLabel], is_read: bool) -> String {
    let read = labels.iter().find_map(|label| Some((label.read_by.clone()?, label.read_on)));
    match read {
        Some((by, Some(on))) => format!("{by} {}", on.format("%-d %b")),
        Some((by, None)) => by,
        None if is_read => "as entered".to_owned(),
        None => "nobody yet".to_owned(),
    }
}

fn sentence(all: usize, unread: usize) -> String {
    match unread {
        _ if all == 0 => "The recipe has no ingredients yet: add them in Set up.".to_owned(),
        0 => "Every label has been read.".to_owned(),
        1 => "One ingredient has no label read: nothing can be said of it.".to_owned(),
        n => format!(
            "{} ingredients have no label read: nothing can be said of them.",
            capital(&number(n))
        ),
    }
}
