//! Another recipe in the place of one, by which pupils practise the same.

use crate::file::format::{LessonFile, RecipeShape, TinShape};

/// All who make a recipe make another; `false` if nobody could.
pub(super) fn make_instead(
    file: &mut LessonFile,
    from: &str,
    to: &RecipeShape,
    tins: &[TinShape],
) -> bool {
    if file.recipes.iter().any(|r| r.name == to.name) {
        return false;
    }
    let Some(at) = file.recipes.iter().position(|r| r.name == from) else { return false };
    file.recipes[at] = to.clone();
    if file.title == from {
        file.title.clone_from(&to.name);
    }
    for group in file.groups.iter_mut().filter(|g| g.recipe == from) {
        group.recipe.clone_from(&to.name);
        group.methods.clear();
        group.tins.clear();
        group.beforehand.clear();
        group.collected.clear();
    }
    for tin in tins {
        if file.tins.iter().all(|known| known.name != tin.name) {
            file.tins.push(tin.clone());
        }
    }
    retain_known_outside(file);
    true
}

/// Steps done outside the bells are steps of some recipe, in whichever lesson.
pub(super) fn retain_known_outside(file: &mut LessonFile) {
    let steps = file.recipes.iter().flat_map(|r| &r.methods).flat_map(|m| &m.steps);
    let known: Vec<&str> = steps.map(|s| s.name.as_str()).collect();
    file.beforehand.retain(|name| known.contains(&name.as_str()));
    file.collected.retain(|name| known.contains(&name.as_str()));
}
