//! A substitution, as a change of the lesson's file.

use super::{Goes, Swap, goes_in, words};
use crate::edit::FileChange;
use crate::file::format::{IngredientShape, LessonFile};
use crate::finding::{Finding, shortened};

/// Something else goes into a recipe instead of an ingredient, in the ingredient's
/// place. What its label says nobody has read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PutIn<'a> {
    /// The recipe, by its place in the lesson.
    pub recipe: usize,
    /// The ingredient, by its name there.
    pub ingredient: &'a str,
    /// What goes in.
    pub swap: &'static Swap,
}

impl PutIn<'_> {
    fn is_it(&self, ingredient: &IngredientShape) -> bool {
        same(&ingredient.name, self.ingredient) && ingredient.amount > 0.0
    }
}

impl FileChange for PutIn<'_> {
    fn label(&self) -> String {
        let instead = shortened(self.ingredient, 40);
        match self.swap.goes_in {
            [Goes::LessOfIt(_)] => format!("less {instead}"),
            all => format!("{} instead of {instead}", words::names(all, self.ingredient)),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let all = file.recipes.get_mut(self.recipe).map(|recipe| &mut recipe.ingredients);
        let found = all.and_then(|all| {
            let at = all.iter().position(|of| self.is_it(of))?;
            Some((all, at))
        });
        let (all, at) = found.ok_or_else(|| self.no_such_entry())?;
        let old = all.remove(at);
        let mut at = at;
        for new in goes_in(self.swap, &old) {
            // More of what is in it already.
            match all.iter_mut().find(|of| same(&of.name, &new.name) && of.unit == new.unit) {
                Some(there) => there.amount += new.amount,
                None => {
                    all.insert(at.min(all.len()), new);
                    at += 1;
                }
            }
        }
        Ok(())
    }
}

pub(super) fn same(name: &str, other: &str) -> bool {
    name.trim().to_lowercase() == other.trim().to_lowercase()
}
