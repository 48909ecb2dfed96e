//! What is ordered for lessons: every ingredient once, whatever recipes and
//! lessons it is for.

use super::{MadeFor, RecipeStores, Stores};
use crate::model::{Ingredient, Lesson, Measure, RecipeId, Role};

/// An ingredient to be ordered. Its total is what is needed and what is spare.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// Its name.
    pub name: String,
    /// Where it stands in a store: of the first recipe that has it.
    pub role: Role,
    /// What it is counted in.
    pub measure: Measure,
    /// What groups need.
    pub needed: f64,
    /// Demo and spare sets.
    pub spare: f64,
    /// What it is for: lessons by their place in the list, with their recipes.
    pub made: Vec<(usize, RecipeId)>,
}

impl OrderLine {
    /// All of it.
    pub fn total(&self) -> f64 {
        self.needed + self.spare
    }
}

/// All that lessons need, in the order in which it is first needed. Names that
/// differ only in capitals are one ingredient; one that is weighed here and
/// measured there has a line for each.
pub fn order(lessons: &[(&Lesson, &Stores)]) -> Vec<OrderLine> {
    let mut lines: Vec<OrderLine> = Vec::new();
    for (at, (lesson, stores)) in lessons.iter().enumerate() {
        for of in &stores.recipes {
            let ingredients = &lesson.recipes[of.recipe.0].ingredients;
            for amount in &of.amounts {
                let ingredient = &ingredients[amount.ingredient];
                let spare = spare(of, &amount.each);
                let (needed, made) = (amount.total - spare, (at, of.recipe));
                add(&mut lines, ingredient, (needed, spare), made);
            }
        }
    }
    lines
}

/// What of an ingredient is for demo and spare sets.
fn spare(of: &RecipeStores, each: &[f64]) -> f64 {
    let beside = |made_for| matches!(made_for, MadeFor::Demo | MadeFor::Spare);
    let sets = of.sets.iter().zip(each).filter(|(set, _)| beside(set.made_for));
    sets.map(|(set, each)| each * f64::from(set.count)).sum()
}

fn add(
    lines: &mut Vec<OrderLine>,
    ingredient: &Ingredient,
    (needed, spare): (f64, f64),
    made: (usize, RecipeId),
) {
    let name = ingredient.name.trim();
    let same = |line: &&mut OrderLine| {
        line.name.to_lowercase() == name.to_lowercase()
            && base(line.measure).0 == base(ingredient.measure).0
    };
    let Some(line) = lines.iter_mut().find(same) else {
        lines.push(OrderLine {
            name: name.to_owned(),
            role: ingredient.role,
            measure: ingredient.measure,
            needed,
            spare,
            made: vec![made],
        });
        return;
    };
    let (mut needed, mut spare) = (needed, spare);
    if line.measure != ingredient.measure {
        let (unit, own) = base(line.measure);
        let (_, other) = base(ingredient.measure);
        line.measure = unit;
        (line.needed, line.spare) = (line.needed * own, line.spare * own);
        (needed, spare) = (needed * other, spare * other);
    }
    line.needed += needed;
    line.spare += spare;
    if !line.made.contains(&made) {
        line.made.push(made);
    }
}

/// What amounts in a measure can be added up in, and how many of it one is.
fn base(measure: Measure) -> (Measure, f64) {
    match measure {
        Measure::Egg => (Measure::Egg, 1.0),
        _ => match measure.one() {
            crate::model::Amount::Grams(one) => (Measure::Gram, one),
            crate::model::Amount::Millilitres(one) => (Measure::Millilitre, one),
        },
    }
}
