//! Single alterations of a lesson file.

use crate::edit::Edit;
use crate::file::format::{
    LockShape, MethodShape, OvenShape, RecipeShape, StatedMinutes, TinChoiceShape, TinShape,
};

/// Something altered in a lesson file. Recipes, tins and steps are named;
/// rooms and periods are numbered, 0 being the file's `room` and `period`.
#[derive(Debug, Clone, PartialEq)]
pub enum Alteration {
    /// A lock is let go.
    Unlock(LockShape),
    /// Ovens may be switched on from this minute.
    OvensOn {
        /// For which period.
        period: usize,
        /// Minutes from its start bell.
        minute: i32,
    },
    /// Steps are done for every group before the bell.
    Beforehand {
        /// Their names.
        steps: Vec<String>,
    },
    /// A step of the class gives way to a recap.
    Recap {
        /// In which period.
        period: usize,
        /// The step.
        step: String,
    },
    /// A step of the class is kept shorter.
    Shorten {
        /// In which period.
        period: usize,
        /// The step.
        step: String,
        /// Its minutes from now on.
        minutes: StatedMinutes,
    },
    /// Partners do half of these steps each.
    SideBySide {
        /// The recipe.
        recipe: String,
        /// The steps, by name.
        steps: Vec<String>,
    },
    /// Units share their ovens and kit.
    Share,
    /// More of some kit.
    Kit {
        /// In which room; `None` for kit the rooms share.
        room: Option<usize>,
        /// What.
        kit: String,
        /// How many more.
        more: i64,
    },
    /// More tins of a kind.
    Stock {
        /// In which room.
        room: usize,
        /// The kind.
        tin: String,
        /// How many more.
        more: i64,
    },
    /// All groups that make a recipe may bake it so too.
    Tin {
        /// The recipe.
        recipe: String,
        /// The way of baking, added to the recipe if it has none of that label.
        tin: Box<TinChoiceShape>,
        /// The kind of tin, where the lesson does not know it.
        kind: Option<TinShape>,
        /// It is the best liked from now on, not the last.
        first: bool,
    },
    /// All groups that make a recipe may use this method too.
    Method {
        /// The recipe.
        recipe: String,
        /// The method, added to the recipe if it has none of that name.
        method: Box<MethodShape>,
        /// It is the best liked from now on, not the last.
        first: bool,
    },
    /// Groups of one pupil work in twos, an odd one as a three.
    Pairs,
    /// A pupil who bakes alone bakes with another group.
    Join {
        /// The group of one.
        alone: String,
        /// The group it joins.
        with: String,
    },
    /// Groups that make a recipe make another.
    Recipe {
        /// The recipe they make now.
        from: String,
        /// The one they make then.
        to: Box<RecipeShape>,
        /// Kinds of tins it may bring.
        tins: Vec<TinShape>,
    },
    /// Steps are done for every group after the bell.
    Collect {
        /// Their names.
        steps: Vec<String>,
    },
    /// More ovens.
    Oven {
        /// In which room.
        room: usize,
        /// What they are like, and how many.
        oven: OvenShape,
    },
    /// The end bell later.
    Longer {
        /// Of which period.
        period: usize,
        /// By so many minutes.
        minutes: i32,
    },
    /// A recipe is made in two lessons of the same length.
    TwoLessons {
        /// The recipe.
        recipe: String,
        /// The method.
        method: String,
        /// So many of its steps are done in the first.
        first: usize,
    },
    /// What is chosen on a group's card.
    OnCard(Vec<Edit>),
}
