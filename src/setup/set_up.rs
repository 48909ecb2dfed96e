//! What is set up, as changes of the lesson's file.

use super::rename::{Named, rename};
use super::{class, starter};
use crate::edit::FileChange;
use crate::file::format::{LessonFile, RecipeShape, RoomShape, SavedClass, TinShape};
use crate::finding::{Finding, Path};

/// Something put into a lesson, taken out of it or called otherwise.
#[derive(Debug, Clone)]
pub enum SetUp<'a> {
    /// The lesson is a kept class's.
    Class(&'a SavedClass),
    /// A recipe comes in.
    Recipe {
        /// Which.
        recipe: &'a RecipeShape,
        /// Kinds of tins it may bring.
        tins: &'a [TinShape],
    },
    /// A recipe goes.
    WithoutRecipe(&'a str),
    /// The lesson is in another room.
    Room(&'a RoomShape),
    /// A thing has another name.
    Called {
        /// The thing.
        what: &'a Named,
        /// What people know it by.
        old: &'a str,
        /// Its new name.
        to: &'a str,
    },
}

impl FileChange for SetUp<'_> {
    fn label(&self) -> String {
        match self {
            SetUp::Class(saved) => format!("class {}", saved.class.name),
            SetUp::Recipe { recipe, .. } => format!("with {}", recipe.name),
            SetUp::WithoutRecipe(recipe) => format!("without {recipe}"),
            SetUp::Room(room) => format!("in the {}", room.name),
            SetUp::Called { old, to, .. } => format!("{old} is called {}", to.trim()),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        match self {
            SetUp::Class(saved) => class::take(file, saved),
            SetUp::Recipe { recipe, tins } => starter::take_recipe(file, recipe, tins),
            SetUp::WithoutRecipe(recipe) => {
                if !starter::has_recipe(file, recipe) {
                    return Err(self.no_such_entry());
                }
                starter::remove_recipe(file, recipe);
            }
            SetUp::Room(room) => starter::take_room(file, room),
            SetUp::Called { what, to, .. } => {
                let refused = |why| Finding::error("not-called-so", Path::root(), why);
                rename(file, what, to).map_err(refused)?;
            }
        }
        Ok(())
    }
}
