//! Changes a teacher makes on the cards, as changes of the lesson's file.

use super::entry::{own_group, set_oven_out};
use super::file_change::FileChange;
use super::lists::{put_first, tin_labels};
use crate::file::format::{LessonFile, RecipeShape, TinChoiceShape};
use crate::finding::{Finding, Path};

/// A change made on a card, in a field or in a list.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// Something was entered or chosen while setting up.
    Enter {
        /// What it is, for undo and redo: "start bell", "Oven 3 is a gas oven".
        what: String,
        /// The field: what is wrong in it is refused.
        at: Path,
        /// It is being typed; all of it is one change.
        typing: bool,
        /// The lesson's file then.
        file: Box<LessonFile>,
    },
    /// A group bakes in this tin if it can.
    Tin {
        /// Whose.
        group: String,
        /// The recipe's name for the way of baking.
        label: String,
    },
    /// A group bakes in a tin its recipe does not name yet; the minutes are
    /// worked out.
    NewTin {
        /// Whose.
        group: String,
        /// The lesson's name of the kind of tin, and the recipe's.
        tin: String,
        /// How many.
        count: i64,
        /// Oven temperature without a fan, in whole °C.
        celsius: i32,
        /// The methods it is for; empty for all.
        methods: Vec<String>,
    },
    /// A group uses this method if it can.
    Method {
        /// Whose.
        group: String,
        /// The method.
        method: String,
    },
    /// A group takes part or not.
    LeftOut {
        /// Which.
        group: String,
        /// It does not.
        out: bool,
    },
    /// An oven works or not.
    OvenOut {
        /// Which.
        oven: String,
        /// It does not.
        out: bool,
    },
    /// A group's mixture is kept apart from the others'.
    Apart {
        /// Whose.
        group: String,
    },
    /// A pupil fewer or more in a group.
    Pupils {
        /// Whose.
        group: String,
        /// How many then.
        pupils: i64,
    },
}

impl FileChange for Edit {
    fn label(&self) -> String {
        match self {
            Edit::Enter { what, .. } => what.clone(),
            Edit::Tin { group, label } => format!("{group} in {label}"),
            Edit::NewTin { group, tin, .. } => format!("{group} in {tin}"),
            Edit::Method { group, method } => format!("{group} by {method}"),
            Edit::LeftOut { group, out: true } => format!("leave {group} out"),
            Edit::LeftOut { group, out: false } => format!("take {group} in"),
            Edit::OvenOut { oven, out: true } => format!("{oven} out of order"),
            Edit::OvenOut { oven, out: false } => format!("{oven} works again"),
            Edit::Apart { group } => format!("{group} kept apart"),
            Edit::Pupils { group, pupils: 1 } => format!("{group} of 1 pupil"),
            Edit::Pupils { group, pupils } => format!("{group} of {pupils} pupils"),
        }
    }

    fn field(&self) -> Option<(&Path, bool)> {
        match self {
            Edit::Enter { at, typing, .. } => Some((at, *typing)),
            _ => None,
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        self.make(file).ok_or_else(|| self.no_such_entry())
    }
}

impl Edit {
    /// `None` if the file has no such group, recipe or oven.
    fn make(&self, file: &mut LessonFile) -> Option<()> {
        match self {
            Edit::Enter { file: then, .. } => file.clone_from(then),
            Edit::Tin { group, label } => {
                let index = own_group(file, group)?;
                let all = of_recipe(file, index, tin_labels);
                put_first(&mut file.groups[index].tins, &all, label);
            }
            Edit::NewTin { group, tin, count, celsius, methods } => {
                let index = own_group(file, group)?;
                let before = of_recipe(file, index, tin_labels);
                let recipe = file.groups[index].recipe.clone();
                let recipe = file.recipes.iter_mut().find(|r| r.name == recipe)?;
                if !before.contains(tin) {
                    recipe.tins.push(TinChoiceShape {
                        count: (*count != 1).then_some(*count),
                        methods: methods.clone(),
                        ..TinChoiceShape::new(tin, f64::from(*celsius))
                    });
                }
                // Groups that take any tin would take this one too.
                for of_recipe in file.groups.iter_mut().filter(|g| g.recipe == recipe.name) {
                    if of_recipe.tins.is_empty() {
                        of_recipe.tins.clone_from(&before);
                    }
                }
                put_first(&mut file.groups[index].tins, &before, tin);
            }
            Edit::Method { group, method } => {
                let index = own_group(file, group)?;
                let methods = |r: &RecipeShape| r.methods.iter().map(|m| m.name.clone()).collect();
                let all = of_recipe(file, index, methods);
                put_first(&mut file.groups[index].methods, &all, method);
            }
            Edit::LeftOut { group, out } => {
                let index = own_group(file, group)?;
                file.groups[index].left_out = *out;
            }
            Edit::Apart { group } => {
                let index = own_group(file, group)?;
                file.groups[index].keep_apart = true;
            }
            Edit::Pupils { group, pupils } => {
                let index = own_group(file, group)?;
                file.groups[index].pupils = Some((*pupils).max(1));
            }
            Edit::OvenOut { oven, out } => return set_oven_out(file, oven, *out).then_some(()),
        }
        Some(())
    }
}

/// What the recipe of a group's entry has.
fn of_recipe(
    file: &LessonFile,
    group: usize,
    what: impl Fn(&RecipeShape) -> Vec<String>,
) -> Vec<String> {
    let recipe = file.recipes.iter().find(|r| r.name == file.groups[group].recipe);
    recipe.map(what).unwrap_or_default()
}
