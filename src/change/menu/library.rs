//! Recipes of the library that are the same mixture as one of the lesson's,
//! so that their methods and tins hold for it.

use crate::edit::rooms;
use crate::file::format::{KitCount, LessonFile, MethodShape, RecipeShape, TinShape};
use crate::file::{lesson_of_shapes, library};
use crate::model::{Recipe, Role};

/// Baker's percentages may differ by so much: half an egg in a batch of 100 g
/// of flour would be 25.
const SAME: f64 = 6.0;

/// A library recipe for a lesson's.
pub(super) struct Match {
    /// As written.
    pub(super) shape: RecipeShape,
    /// Batches of the lesson's recipe that one of the library's comes to.
    pub(super) batches: f64,
    /// Ingredients that the lesson's recipe has not.
    pub(super) also: Vec<String>,
}

/// The recipe of the library with the same mixture, if there is one.
pub(super) fn same_mixture(recipe: &Recipe) -> Option<Match> {
    let mine = recipe.balance()?;
    for shape in library::recipes().ok()? {
        let Some(theirs) = read(&shape) else { continue };
        let Some(balance) = theirs.balance() else { continue };
        let near = |a: f64, b: f64| (a - b).abs() <= SAME;
        let same = near(mine.fat, balance.fat)
            && near(mine.sugar, balance.sugar)
            && near(mine.syrup, balance.syrup)
            && near(mine.egg, balance.egg)
            && near(mine.liquid, balance.liquid);
        if same {
            let flour = |r: &Recipe| -> f64 {
                let of = r.ingredients.iter().filter(|i| i.role == Role::Flour);
                of.map(|i| i.grams.get()).sum()
            };
            let has = |name: &str| recipe.ingredients.iter().any(|i| i.name == name);
            let new =
                theirs.ingredients.iter().filter(|i| i.role == Role::Raising && !has(&i.name));
            let also = new.map(|i| i.name.clone()).collect();
            return Some(Match { shape, batches: flour(&theirs) / flour(recipe), also });
        }
    }
    None
}

fn read(shape: &RecipeShape) -> Option<Recipe> {
    let file = library::lesson_of(shape.clone()).ok()?;
    Some(lesson_of_shapes(&file, &[]).ok()?.recipes.first()?.clone())
}

/// A method of the library for a lesson: what a room does not count is taken
/// to be there, but for kit that works by electricity or gas. `None` if the
/// lesson's rooms lack such.
pub fn method_for(file: &LessonFile, method: &MethodShape) -> Option<MethodShape> {
    let counted: Vec<&(String, KitCount)> = rooms(file)
        .flat_map(|r| r.kit.0.iter().chain(r.units.iter().flat_map(|u| &u.kit.0)))
        .chain(&file.shared_kit.0)
        .collect();
    let known = |kit: &str| counted.iter().any(|(name, _)| name == kit);
    let machine = |kit: &str| kit.contains("whisk") || kit.contains("mixer") || kit == "ring";
    let mut method = method.clone();
    for step in &mut method.steps {
        if step.kit.0.iter().any(|(kit, _)| machine(kit) && !known(kit)) {
            return None;
        }
        step.kit.0.retain(|(kit, _)| known(kit));
    }
    method.holds.retain(|hold| known(&hold.kit));
    Some(method)
}

/// Whether two tins are of one kind: rim, shape and height, whatever they are
/// called.
pub(super) fn same_kind(a: &TinShape, b: &TinShape) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= 3.0;
    a.name == b.name
        || (near(a.rim_mm.0, b.rim_mm.0)
            && near(a.rim_mm.1, b.rim_mm.1)
            && near(a.height_mm, b.height_mm)
            && (a.form == b.form || a.form.is_none() || b.form.is_none()))
}
