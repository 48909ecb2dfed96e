//! The table of foods, and the food that an ingredient is taken for.

use thiserror::Error;

/// The extract of the dataset that comes with the program.
const TABLE: &str = include_str!("../../assets/nutrition.csv");

/// What is said of where the figures come from.
pub const SOURCE: &str = "McCance and Widdowson's composition of foods integrated dataset (CoFID), \
2015, Public Health England. Contains public sector information licensed under the Open Government \
Licence v3.0.";

/// Words before an ingredient's name that make no other food of it.
const STATES: [&str; 38] = [
    "fresh",
    "ripe",
    "large",
    "medium",
    "small",
    "free-range",
    "organic",
    "grated",
    "chopped",
    "finely",
    "roughly",
    "coarsely",
    "diced",
    "sliced",
    "mashed",
    "softened",
    "melted",
    "soft",
    "cold",
    "warm",
    "lukewarm",
    "boiling",
    "hot",
    "beaten",
    "sifted",
    "sieved",
    "level",
    "extra",
    "good-quality",
    "whole",
    "crushed",
    "toasted",
    "peeled",
    "raw",
    "some",
    "more",
    "cooled",
    "drained",
];

/// The table was built wrongly.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("the table of foods cannot be read: {0}")]
pub struct TableError(String);

/// What 100 g of a food hold: grams, kcal and kJ; `None` where that is not
/// known. Carbohydrate, starch and sugars are monosaccharide equivalents.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Figures {
    pub protein: Option<f64>,
    pub fat: Option<f64>,
    pub saturates: Option<f64>,
    pub carbohydrate: Option<f64>,
    pub starch: Option<f64>,
    pub sugars: Option<f64>,
    /// How much of the sugars is sucrose, maltose and lactose.
    pub doubles: Option<f64>,
    pub fibre: Option<f64>,
    pub kcal: Option<f64>,
    pub kj: Option<f64>,
}

/// A food of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Food {
    /// Its code in the dataset.
    pub code: String,
    /// Its name there.
    pub name: String,
    names: Vec<String>,
    /// How much of 1 g goes in; less where peel and core are weighed too.
    pub edible: f64,
    pub(super) per_100_g: Figures,
}

/// All foods of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Foods(Vec<Food>);

impl Foods {
    /// The table that comes with the program.
    ///
    /// # Errors
    /// If the program was built with a broken one.
    pub fn of_table() -> Result<Self, TableError> {
        let wrong = |what: String| TableError(what);
        let mut reader =
            csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(TABLE.as_bytes());
        let mut foods = Vec::new();
        for row in reader.records() {
            let row = row.map_err(|e| wrong(e.to_string()))?;
            let cell = |at: usize| row.get(at).unwrap_or_default();
            let figure = |at: usize| match cell(at) {
                "N" => Ok(None),
                "Tr" => Ok(Some(0.0)),
                text => match text.parse::<f64>() {
                    Ok(figure) if figure.is_finite() => Ok(Some(figure)),
                    _ => Err(wrong(format!("\"{text}\" of {}", cell(0)))),
                },
            };
            foods.push(Food {
                code: cell(0).to_owned(),
                name: cell(1).to_owned(),
                names: cell(2).split('|').map(str::to_owned).collect(),
                edible: figure(13)?.unwrap_or(1.0),
                per_100_g: Figures {
                    protein: figure(3)?,
                    fat: figure(4)?,
                    saturates: figure(5)?,
                    carbohydrate: figure(6)?,
                    starch: figure(7)?,
                    sugars: figure(8)?,
                    doubles: figure(9)?,
                    fibre: figure(10)?,
                    kcal: figure(11)?,
                    kj: figure(12)?,
                },
            });
        }
        Ok(Self(foods))
    }

    /// Every food.
    pub fn all(&self) -> &[Food] {
        &self.0
    }

    /// The food an ingredient is taken for: one that goes by its name, by it
    /// without what is behind a comma or a "for", or without what only says how
    /// it is cut. A part of a name is not enough: peanut butter is no butter.
    pub fn of(&self, ingredient: &str) -> Option<&Food> {
        let whole = ingredient.to_lowercase().replace(',', " ");
        let head = ingredient.to_lowercase();
        let head = head.split([',', '(']).next().unwrap_or_default();
        let of_it = head.split(" for ").next().unwrap_or_default();
        let bare = without_states(of_it);
        [words(&whole), words(head), words(of_it), bare]
            .iter()
            .find_map(|name| self.0.iter().find(|food| food.goes_by(name)))
    }
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn without_states(name: &str) -> String {
    let is_state = |word: &&str| STATES.contains(word);
    name.split_whitespace().skip_while(is_state).collect::<Vec<_>>().join(" ")
}

impl Food {
    /// Whether it goes by a name, one or several of it.
    fn goes_by(&self, name: &str) -> bool {
        self.names.iter().any(|own| {
            let more = name.strip_prefix(own.as_str());
            matches!(more, Some("" | "s" | "es")) || own.strip_suffix('s') == Some(name)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_leads_to_one_food() {
        let Ok(foods) = Foods::of_table() else { panic!("the table cannot be read") };
        assert!(foods.all().len() > 80);
        for food in foods.all() {
            for name in &food.names {
                let found = foods.of(name).map(|f| f.code.as_str());
                assert_eq!(found, Some(food.code.as_str()), "{name}");
            }
        }
    }

    #[test]
    fn a_part_of_a_name_is_not_enough() {
        let foods = Foods::of_table().unwrap_or(Foods(Vec::new()));
        let name = |of: &str| foods.of(of).map(|f| f.name.clone());
        for (ingredient, food) in [
            ("large eggs, beaten", "Eggs, chicken, whole, raw"),
            ("softened unsalted butter", "Butter, unsalted"),
            ("lemon juice for the drizzle", "Lemon juice, fresh"),
            (
                "cooking apples, as bought",
                "Apples, cooking, raw, flesh only, weighed with skin and core",
            ),
            ("Plain flour (sifted)", "Flour, wheat, white, plain, soft"),
            ("peanut butter", "Peanut butter, smooth"),
            ("tomatoes", "Tomatoes, standard, raw"),
        ] {
            assert_eq!(name(ingredient).as_deref(), Some(food), "{ingredient}");
        }
        for none in ["almond butter", "coconut milk", "gluten-free flour", "dairy-free spread", ""]
        {
            assert_eq!(name(none), None, "{none}");
        }
    }
}
