//! The groups that make a recipe, and what is fixed for them.

use crate::file::format::{GroupShape, LessonFile, LockShape, RecipeShape};

/// More of a kind than a lesson may have; a count beyond it is reported.
const MOST: i64 = 60;

/// The names an entry with a count gives: "Unit 1", "Unit 2" and so on.
pub(super) fn expand(name: &str, count: Option<i64>) -> Vec<String> {
    match count {
        None => vec![name.to_owned()],
        Some(count) => (1..=count.clamp(0, MOST)).map(|n| format!("{name} {n}")).collect(),
    }
}

/// Whether a group may make its recipe by a method.
pub(super) fn may_use(group: &GroupShape, recipe: &RecipeShape, method: usize) -> bool {
    let method = recipe.methods.get(method);
    group.methods.is_empty() || method.is_some_and(|m| group.methods.contains(&m.name))
}

/// Those who make a recipe.
pub(super) struct Makers {
    /// Their entries.
    pub entries: Vec<usize>,
    /// What they are called, with the entry of each.
    pub names: Vec<(usize, String)>,
}

impl Makers {
    /// The groups that make a recipe.
    pub fn of(file: &LessonFile, recipe: usize) -> Self {
        let mut makers = Self { entries: Vec::new(), names: Vec::new() };
        let Some(name) = file.recipes.get(recipe).map(|r| &r.name) else { return makers };
        if file.recipes.iter().position(|r| r.name == *name) != Some(recipe) {
            return makers; // its name means another
        }
        for (i, group) in file.groups.iter().enumerate().filter(|(_, g)| g.recipe == *name) {
            makers.entries.push(i);
            makers.names.extend(expand(&group.name, group.count).into_iter().map(|n| (i, n)));
        }
        makers
    }

    /// Their entries, and what is fixed for them.
    pub fn mutably(
        self,
        file: &mut LessonFile,
    ) -> (impl Iterator<Item = &mut GroupShape>, impl Iterator<Item = &mut LockShape>) {
        let Self { entries, names } = self;
        let groups = file.groups.iter_mut().enumerate();
        let groups = groups.filter(move |(i, _)| entries.contains(i)).map(|(_, group)| group);
        let theirs = move |lock: &&mut LockShape| names.iter().any(|(_, n)| *n == lock.group);
        (groups, file.locks.iter_mut().filter(theirs))
    }
}
