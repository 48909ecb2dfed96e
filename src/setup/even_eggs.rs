//! Tins whose share of a batch takes no even number of eggs, and the nearest shares that
//! do.

use crate::edit::FileChange;
use crate::file::format::{LessonFile, MeasureShape, RecipeShape};
use crate::finding::{Finding, shortened};
use crate::model::{EggStep, nearest_egg_scaling};
use crate::units::plain_number;

/// Where the rest of a batch moves by a larger share than this, it is said by how much:
/// a scale of a kitchen shows as much (common practice of the trade).
const SAID: f64 = 0.02;
/// Eggs as near as this to half ones come out even.
const EVEN: f64 = 0.02;

/// A tin's share of the batch with which its eggs come out even.
#[derive(Debug, Clone, PartialEq)]
pub struct EvenEggs {
    /// The recipe's place in the file, and the tin's in the recipe.
    pub place: (usize, usize),
    /// The tin's name.
    pub tin: String,
    /// Eggs for it.
    pub eggs: f64,
    /// The share of the batch they are right for.
    pub share: f64,
    /// By which factor all but the eggs moves.
    pub moves: f64,
}

impl EvenEggs {
    /// "1.5 eggs: 75 % of the batch, the rest 7 % more".
    pub fn words(&self) -> String {
        let eggs = plain_number(self.eggs);
        let unit = if self.eggs > 1.0 { "eggs" } else { "egg" };
        let share = plain_number((1000.0 * self.share).round() / 10.0);
        let by = (self.moves - 1.0).abs();
        let moves = match by <= SAID {
            true => String::new(),
            false => {
                let way = if self.moves > 1.0 { "more" } else { "less" };
                format!(", the rest {} % {way}", plain_number((100.0 * by).round()))
            }
        };
        format!("{eggs} {unit}: {share} % of the batch{moves}")
    }
}

impl FileChange for EvenEggs {
    fn label(&self) -> String {
        format!("{} eggs for {}", plain_number(self.eggs), shortened(&self.tin, 40))
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let (recipe, tin) = self.place;
        let tin = file.recipes.get_mut(recipe).and_then(|recipe| recipe.tins.get_mut(tin));
        let Some(tin) = tin else { return Err(self.no_such_entry()) };
        tin.batch = Some(self.share);
        Ok(())
    }
}

/// A tin whose eggs do not come out even: how many it takes, and the nearest shares with
/// which they do.
#[derive(Debug, Clone, PartialEq)]
pub struct Uneven {
    /// "a 15 cm square takes 1.4 of 2 eggs."
    pub words: String,
    /// In whole eggs, and in half ones where that is nearer.
    pub nearest: Vec<EvenEggs>,
}

/// The tins of a recipe whose eggs do not come out even.
pub fn uneven(index: usize, recipe: &RecipeShape) -> Vec<Uneven> {
    let eggs = recipe.ingredients.iter().filter(|i| i.unit == Some(MeasureShape::Egg));
    let eggs: f64 = eggs.map(|i| i.amount).sum();
    let tins = recipe.tins.iter().enumerate().filter_map(|(i, tin)| {
        let batch = tin.batch.unwrap_or(1.0);
        let takes = eggs * batch;
        if !takes.is_finite() || takes <= 0.0 || (2.0 * takes - (2.0 * takes).round()).abs() < EVEN
        {
            return None;
        }
        let name = tin.label.as_deref().unwrap_or(&tin.tin);
        let mut nearest: Vec<EvenEggs> = Vec::new();
        for step in [EggStep::Whole, EggStep::Half] {
            let Ok(scaling) = nearest_egg_scaling(eggs, batch, step) else { continue };
            if nearest.iter().all(|other| (other.eggs - scaling.eggs).abs() > EVEN) {
                nearest.push(EvenEggs {
                    place: (index, i),
                    tin: name.to_owned(),
                    eggs: scaling.eggs,
                    share: scaling.share,
                    moves: scaling.share / batch,
                });
            }
        }
        let takes = plain_number((100.0 * takes).round() / 100.0);
        let words = format!("{} takes {takes} eggs.", shortened(name, 40));
        (!nearest.is_empty()).then_some(Uneven { words, nearest })
    });
    tins.collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::sync::OnceLock;

    use proptest::prelude::*;

    use super::*;
    use crate::file::format::{IngredientShape, TinChoiceShape};
    use crate::file::library;
    use crate::setup::starter::new_lesson;

    /// A lesson of one recipe, of which one tin takes a share.
    fn lesson(eggs: f64, batch: f64) -> LessonFile {
        static LESSON: OnceLock<LessonFile> = OnceLock::new();
        let mut file = LESSON
            .get_or_init(|| {
                let mut file = new_lesson().unwrap();
                file.recipes = library::recipes().unwrap().into_iter().take(1).collect();
                file
            })
            .clone();
        let mut tin = TinChoiceShape::new("square", 180.0);
        tin.batch = Some(batch);
        let unit = Some(MeasureShape::Egg);
        let name = "eggs".to_owned();
        let eggs = IngredientShape { name, amount: eggs, unit, role: None, allergens: None };
        (file.recipes[0].ingredients, file.recipes[0].tins) = (vec![eggs], vec![tin]);
        file
    }

    fn of(eggs: f64, batch: f64) -> Vec<Uneven> {
        uneven(0, &lesson(eggs, batch).recipes[0])
    }

    #[test]
    fn the_nearest_whole_and_half_eggs_are_told_with_what_moves() {
        assert!(of(3.0, 0.5).is_empty(), "one and a half come out even");
        let [square] = &of(2.0, 0.7)[..] else { panic!("1.4 eggs do not") };
        assert_eq!(square.words, "square takes 1.4 eggs.");
        let told: Vec<String> = square.nearest.iter().map(EvenEggs::words).collect();
        assert_eq!(
            told,
            [
                "1 egg: 50 % of the batch, the rest 29 % less",
                "1.5 eggs: 75 % of the batch, the rest 7 % more"
            ]
        );
        let near = &of(3.0, 0.675)[0].nearest;
        assert_eq!(near.last().unwrap().words(), "2 eggs: 66.7 % of the batch");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]
        #[test]
        fn eggs_come_out_even_and_no_move_of_more_than_2_in_100_goes_unsaid(
            eggs in 0.25_f64..14.0, batch in 0.05_f64..4.0,
        ) {
            let file = lesson(eggs, batch);
            for of in of(eggs, batch) {
                for even in of.nearest {
                    let made = even.made(&file).unwrap();
                    let share = made.recipes[0].tins[0].batch.unwrap();
                    let takes = 2.0 * eggs * share;
                    prop_assert!((takes - takes.round()).abs() < 1e-6, "{takes}");
                    let moved = (share / batch - 1.0).abs();
                    prop_assert_eq!(moved > 0.02, even.words().contains("the rest"));
                    // Once it is used nothing more is said of it.
                    prop_assert!(uneven(0, &made.recipes[0]).is_empty());
                }
            }
        }
    }
}
