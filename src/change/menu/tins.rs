//! Other tins for a recipe: its own that not every group takes, those of the
//! library for the same mixture, and any others in the cupboard, with computed
//! minutes.

use super::super::alteration::Alteration;
use super::Menu;
use super::library::{same_kind, same_mixture};
use crate::bake::tin_table::{TinRow, tin_table};
use crate::edit::tin_label;
use crate::file::format::{RecipeShape, TinChoiceShape, TinShape};
use crate::file::{lesson_of_shapes, library};
use crate::finding::shortened;
use crate::model::{ChangeKind, RecipeId, TinId};

/// A tin whose minutes nobody states costs so many times one that is known to
/// bake well: it wants a trial bake.
const COMPUTED: f64 = 2.0;

/// What a tin or method costs more for its place in the recipe's list, the
/// best liked being first.
#[allow(clippy::cast_precision_loss)] // a few
pub(super) fn further_down(place: usize) -> f64 {
    1.0 + 0.025 * place as f64
}

impl Menu<'_> {
    pub(super) fn tins(&mut self) {
        let library = library::tins().unwrap_or_default();
        for id in self.recipes_made() {
            self.own_tins(id);
            let mut known: Vec<TinShape> = self.kinds_of(&self.file.recipes[id.0].tins, &[]);
            self.library_tins(id, &library, &mut known);
            self.other_tins(id, &library, &known);
        }
    }

    /// The kinds of tins that some ways of baking name.
    fn kinds_of(&self, tins: &[TinChoiceShape], library: &[TinShape]) -> Vec<TinShape> {
        let all = || self.file.tins.iter().chain(library);
        tins.iter().filter_map(|t| all().find(|k| k.name == t.tin).cloned()).collect()
    }

    /// The recipe's own, where not every group takes them, or likes them best
    /// if that is what is wanted.
    fn own_tins(&mut self, id: RecipeId) {
        let first = self.goal == super::Goal::Spare;
        let shape = &self.file.recipes[id.0];
        for (t, tin) in shape.tins.iter().enumerate() {
            let liked = |g| {
                let at = self.lesson.group(g).tins.iter().position(|x| x.0 == t);
                at.is_some_and(|at| !first || at == 0)
            };
            let makers = || self.groups().filter(|&g| self.lesson.group(g).recipe == id);
            if !makers().all(liked) {
                self.add_tin(shape, (tin.clone(), None), further_down(t), Vec::new());
            }
        }
    }

    /// What the library's recipe for the same mixture states.
    fn library_tins(&mut self, id: RecipeId, library: &[TinShape], known: &mut Vec<TinShape>) {
        let Some(found) = same_mixture(&self.lesson.recipes[id.0]) else { return };
        let shape = &self.file.recipes[id.0];
        let own = known.clone();
        for (t, tin) in found.shape.tins.iter().enumerate() {
            let Some(kind) = library.iter().find(|k| k.name == tin.tin) else { continue };
            let taken = |t: &TinChoiceShape| tin_label(t) == tin_label(tin);
            if own.iter().any(|k| same_kind(k, kind)) || shape.tins.iter().any(taken) {
                continue;
            }
            let mine = self.file.tins.iter().find(|k| same_kind(k, kind));
            let mut tin = tin.clone();
            if let Some(mine) = mine {
                tin.label = Some(tin_label(&tin).to_owned());
                tin.tin.clone_from(&mine.name);
            }
            let batch = tin.batch.unwrap_or(1.0) * found.batches;
            tin.batch = ((batch - 1.0).abs() > 0.01).then_some(batch);
            let asks = vec![format!(
                "Minutes as the built-in recipe {} has them, for the same mixture.",
                found.shape.name
            )];
            let new = mine.is_none().then(|| kind.clone());
            self.add_tin(shape, (tin, new), further_down(t), asks);
            known.push(kind.clone());
        }
    }

    /// Other kinds of tins that would bake sooner, or take less of a shelf,
    /// than any the groups take.
    fn other_tins(&mut self, id: RecipeId, library: &[TinShape], known: &[TinShape]) {
        let mut file = self.file.clone();
        let mine = file.tins.len();
        for kind in library {
            if !file.tins.iter().any(|k| same_kind(k, kind)) {
                file.tins.push(kind.clone());
            }
        }
        let Ok(lesson) = lesson_of_shapes(&file, self.past) else { return };
        let table = tin_table(&lesson.recipes[id.0], &lesson.tins, self.past);
        let area = |tin: TinId, count: u32| {
            let rim = lesson.tins[tin.0].rim;
            i64::from(rim.0.get()) * i64::from(rim.1.get()) * i64::from(count)
        };
        let taken = self.lesson.groups.iter().filter(|g| g.recipe == id).flat_map(|g| &g.tins);
        let taken: Vec<_> = taken.filter_map(|t| lesson.recipes[id.0].tins.get(t.0)).collect();
        let least = taken.iter().map(|t| area(t.tin, t.count)).min();
        let usual = |m: Option<crate::model::ThreePoint>| m.map(|m| m.usual().get());
        let soonest = taken.iter().filter_map(|t| usual(t.minutes)).reduce(f64::min);
        let (Some(least), Some(soonest)) = (least, soonest) else { return };
        for row in table.iter().filter(|r| r.choice.is_none()) {
            let kind = &file.tins[row.tin().0];
            let minutes = usual(row.as_choice.minutes).unwrap_or(f64::INFINITY);
            let better = minutes < soonest - 0.5 || area(row.tin(), row.as_choice.count) < least;
            if better && !known.iter().any(|k| same_kind(k, kind)) {
                let new = (row.tin().0 >= mine).then(|| kind.clone());
                self.add_row(id, row, new);
            }
        }
    }

    fn add_row(&mut self, id: RecipeId, row: &TinRow, new: Option<TinShape>) {
        let shape = &self.file.recipes[id.0];
        let of = &row.as_choice;
        let methods = of.methods.iter().map(|m| shape.methods[m.0].name.clone()).collect();
        let count = i64::from(of.count);
        let tin = TinChoiceShape {
            label: (count > 1).then(|| format!("{count} × {}", of.label)),
            count: (count > 1).then_some(count),
            methods,
            ..TinChoiceShape::new(&of.label, of.celsius.get())
        };
        let asks = vec![
            "Its minutes are worked out, not tried: bake one and see before the lesson.".to_owned(),
        ];
        self.add_tin(shape, (tin, new), COMPUTED, asks);
    }

    fn add_tin(
        &mut self,
        recipe: &RecipeShape,
        (tin, kind): (TinChoiceShape, Option<TinShape>),
        times: f64,
        mut asks: Vec<String>,
    ) {
        let of = shortened(&recipe.name, 60);
        let words = format!("{of} in {}", shortened(tin_label(&tin), 60));
        if kind.is_some() {
            let name = shortened(&tin.tin, 60);
            let makers = self.groups().filter(|&g| self.lesson.recipe_of(g).name == recipe.name);
            let most = makers.count() * usize::try_from(tin.count.unwrap_or(1)).unwrap_or(1);
            asks.push(format!("Look in the cupboard: up to {most} are wanted ({name})."));
        }
        let first = self.goal == super::Goal::Spare;
        let recipe = recipe.name.clone();
        let what = Alteration::Tin { recipe, tin: Box::new(tin), kind, first };
        self.add_at(ChangeKind::Tin, times, what, words, asks);
    }
}
