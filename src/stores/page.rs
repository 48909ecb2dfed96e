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

/// A lesson of several on the page.
#[derive(Debug, Clone, Copy)]
pub struct PageOf<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// What it needs.
    pub stores: &'a Stores,
    /// The class by which its units are told from those of others; empty of one lesson.
    pub class: &'a str,
}

impl PageOf<'_> {
    /// The recipes that are made.
    fn made(&self) -> impl Iterator<Item = RecipeId> + '_ {
        self.stores.recipes.iter().map(|of| of.recipe)
    }

    fn labels(&self) -> Vec<IngredientLabel> {
        self.made().flat_map(|recipe| labels(self.lesson, recipe)).collect()
    }

    fn needs(&self, law: &'static List) -> Vec<UnitNeed> {
        let of = |need: NeedStands| {
            let group = self.lesson.group(need.group);
            UnitNeed {
                unit: format!("{} {}", self.class, group.name).trim_start().to_owned(),
                makes: self.lesson.recipe_of(need.group).name.clone(),
                is_apart: group.keep_apart,
                need,
            }
        };
        needs(self.lesson, law).into_iter().map(of).collect()
    }
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
    /// Of each column, whether that is as it was entered: nobody is named who read it.
    pub as_entered: Vec<bool>,
    /// Ingredients whose labels nobody has read.
    pub unread: Vec<String>,
}

impl RecipeRow {
    /// What is known of the labels of what goes into it, in short.
    pub fn labels(&self) -> String {
        let entered = self.as_entered.iter().filter(|is| **is).count();
        match (self.unread.len(), entered) {
            (0, 0) => "all read".to_owned(),
            (0, n) if n == self.as_entered.len() => "as entered".to_owned(),
            (0, _) => "part as entered".to_owned(),
            (n, _) => format!("{n} not read"),
        }
    }

    /// All of it in a sentence.
    pub fn told(&self, columns: &[&'static Allergen]) -> String {
        let each = columns.iter().zip(&self.stands);
        let each: Vec<String> = each
            .map(|(allergen, stands)| format!("{} {}", allergen.short(), stands.name()))
            .collect();
        let labels = match self.unread.as_slice() {
            [] if self.as_entered.contains(&true) => {
                "of all that goes into it there is an entry, but not of all a reader".to_owned()
            }
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
    /// It is known as it was entered: of one of its labels nobody is named who read it.
    pub as_entered: bool,
    /// Of each column, whether that is as it was entered.
    pub entered: Vec<bool>,
    /// Of some of its labels it is known what they name, of others not.
    pub is_read_in_part: bool,
}

impl IngredientRow {
    /// All of it in a sentence.
    pub fn told(&self, columns: &[&'static Allergen]) -> String {
        let named = columns.iter().zip(&self.stands).filter(|(_, s)| **s == Stands::Named);
        let named: Vec<String> = named.map(|(a, _)| a.name.to_owned()).collect();
        let label = match (named.as_slice(), self.is_read) {
            ([], true) if self.as_entered => "entered as naming none of these".to_owned(),
            (named, true) if self.as_entered => format!("entered as naming {}", list(named)),
            ([], false) if self.is_read_in_part => {
                "not known: not all of its labels have been read".to_owned()
            }
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
        let page = Self::of_all(&[PageOf { lesson, stores: &stores, class: "" }], law);
        let sentence = "The recipe has no ingredients yet: add them in Set up.";
        if page.shelves.is_empty() { Self { sentence: sentence.to_owned(), ..page } } else { page }
    }

    /// Of several lessons, each with what it needs; against a law's allergens.
    pub fn of_all(lessons: &[PageOf<'_>], law: &'static List) -> Self {
        let of: Vec<_> = lessons.iter().map(|of| (of.lesson, of.stores)).collect();
        let lines: Vec<OrderLine> = order(&of);
        let needs: Vec<UnitNeed> = lessons.iter().flat_map(|of| of.needs(law)).collect();
        let all: Vec<IngredientLabel> = lessons.iter().flat_map(PageOf::labels).collect();
        let (columns, others): (Vec<&'static Allergen>, Vec<&'static Allergen>) =
            law.allergens.iter().partition(|allergen| {
                all.iter().any(|label| label.stands(allergen) == Stands::Named)
                    || needs.iter().any(|need| allergen.is_named_by(&need.need.need))
            });
        let against = |labels: &[IngredientLabel]| -> Vec<Stands> {
            let own = columns.iter().map(|allergen| recipe_stands(labels, allergen));
            let rest = others.iter().map(|allergen| recipe_stands(labels, allergen)).max();
            own.chain(rest).collect()
        };
        let entered = |labels: &[IngredientLabel]| -> Vec<bool> {
            let own = columns.iter().map(|allergen| is_as_entered(labels, &[allergen]));
            own.chain((!others.is_empty()).then(|| is_as_entered(labels, &others))).collect()
        };
        let row = |line: &OrderLine| {
            let of_line: Vec<IngredientLabel> = line
                .made
                .iter()
                .flat_map(|&(at, recipe)| {
                    let lesson = lessons[at].lesson;
                    let ingredients = lesson.recipes[recipe.0].ingredients.iter();
                    ingredients.filter(|i| line.is_of(i)).map(move |i| label(lesson, i))
                })
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
                entered: entered(&of_line),
                is_read_in_part: !is_read && of_line.iter().any(|label| label.is_read),
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
        let mut recipes: Vec<(RecipeRow, &str)> = Vec::new();
        for of in lessons {
            for id in of.made() {
                let labels = labels(of.lesson, id);
                let unread = labels.iter().filter(|label| !label.is_read);
                let row = RecipeRow {
                    name: of.lesson.recipes[id.0].name.clone(),
                    stands: against(&labels),
                    as_entered: entered(&labels),
                    unread: unread.map(|label| label.ingredient.clone()).collect(),
                };
                if recipes.iter().all(|(other, _)| *other != row) {
                    recipes.push((row, of.class));
                }
            }
        }
        let recipes = told_apart(recipes);
        let rows = || shelves.iter().flat_map(|(_, rows)| rows);
        let sentence = sentence(lines.len(), rows().filter(|row| !row.is_read).count());
        Self { sentence, columns, others: others.len(), shelves, recipes, needs }
    }

    /// The row of an ingredient, whatever its capitals.
    pub fn row(&self, name: &str) -> Option<&IngredientRow> {
        let mut rows = self.shelves.iter().flat_map(|(_, rows)| rows);
        rows.find(|row| row.name.to_lowercase() == name.trim().to_lowercase())
    }
}

/// Recipes of one name with other labels are told apart by the classes that make them.
fn told_apart(recipes: Vec<(RecipeRow, &str)>) -> Vec<RecipeRow> {
    let names: Vec<String> = recipes.iter().map(|(row, _)| row.name.clone()).collect();
    let of = |(row, class): (RecipeRow, &str)| {
        let is_alone = names.iter().filter(|name| **name == row.name).count() < 2;
        let name = match is_alone || class.is_empty() {
            true => row.name,
            false => format!("{} ({class})", row.name),
        };
        RecipeRow { name, ..row }
    };
    recipes.into_iter().map(of).collect()
}

/// Whether it is known as it was entered alone how labels stand to some allergens: nobody is
/// named who read what names one of them, or, if none does, one of the labels.
fn is_as_entered(labels: &[IngredientLabel], of: &[&'static Allergen]) -> bool {
    let names = |label: &&IngredientLabel| of.iter().any(|a| label.stands(a) == Stands::Named);
    let mut naming = labels.iter().filter(names).peekable();
    match naming.peek() {
        Some(_) => naming.all(|label| label.read_by.is_none()),
        None => labels.iter().any(|label| label.read_by.is_none()),
    }
}

/// Whether of one of the labels nobody is named who read it.
fn is_anonymous(labels: &[IngredientLabel]) -> bool {
    labels.iter().any(|label| label.read_by.is_none())
}

/// Who read labels, and when: of several one name only if it is that of all.
fn read_words(labels: &[IngredientLabel], is_read: bool) -> String {
    let read = labels.iter().filter(|label| label.is_read).count();
    if !is_read && read > 0 {
        return format!("{read} of {} read", labels.len());
    }
    let reader = |label: &IngredientLabel| Some((label.read_by.clone()?, label.read_on));
    let first = labels.first().and_then(reader);
    let are_alike = labels.iter().all(|label| reader(label) == first);
    match first {
        _ if !are_alike && is_anonymous(labels) => "part as entered".to_owned(),
        _ if !are_alike => "several".to_owned(),
        Some((by, Some(on))) => format!("{by} {}", on.format("%-d %b")),
        Some((by, None)) => by,
        None if is_read => "as entered".to_owned(),
        None => "nobody yet".to_owned(),
    }
}

fn sentence(all: usize, unread: usize) -> String {
    match unread {
        _ if all == 0 => "No lesson has ingredients yet.".to_owned(),
        0 => "Every label has been read.".to_owned(),
        1 => {
            "One ingredient has a label that nobody has read: nothing can be said of it.".to_owned()
        }
        n => format!(
            "{} ingredients have labels that nobody has read: nothing can be said of them.",
            capital(&number(n))
        ),
    }
}
