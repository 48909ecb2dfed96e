//! Other methods for a recipe, and a recipe made in two lessons.

use super::super::alteration::Alteration;
use super::super::two_lessons::best_cut;
use super::Menu;
use super::library::{method_for, same_mixture};
use super::tins::further_down;
use crate::file::format::{MethodShape, RecipeShape};
use crate::finding::shortened;
use crate::model::{ChangeKind, RecipeId};

impl Menu<'_> {
    /// Recipes that some group makes, each once.
    pub(super) fn recipes_made(&self) -> Vec<RecipeId> {
        let mut made: Vec<RecipeId> = self.groups().map(|g| self.lesson.group(g).recipe).collect();
        made.sort_unstable();
        made.dedup();
        made
    }

    /// Methods that are not, or not first, in every list of those who make the
    /// recipe; then those of the library for the same mixture.
    pub(super) fn methods(&mut self) {
        for id in self.recipes_made() {
            let shape = &self.file.recipes[id.0];
            let first = self.goal == super::Goal::Spare;
            for (m, method) in shape.methods.iter().enumerate() {
                let liked = |g| {
                    let methods = &self.lesson.group(g).methods;
                    let at = methods.iter().position(|x| x.0 == m);
                    at.is_some_and(|at| !first || at == 0)
                };
                let makers = || self.groups().filter(|&g| self.lesson.group(g).recipe == id);
                if !makers().all(liked) {
                    self.add_method(shape, method.clone(), m, Vec::new());
                }
            }
            let Some(found) = same_mixture(&self.lesson.recipes[id.0]) else { continue };
            let unknown = |m: &MethodShape| shape.methods.iter().all(|own| own.name != m.name);
            let offered = found.shape.methods.iter().enumerate().filter(|(_, m)| unknown(m));
            for (m, method) in offered {
                let Some(method) = method_for(self.file, method) else { continue };
                let mut asks =
                    vec![format!("Made as the built-in recipe {} says.", found.shape.name)];
                if !found.also.is_empty() {
                    asks.push(format!(
                        "It may want {} as well: less air is beaten in by a quick method.",
                        found.also.join(" and ")
                    ));
                }
                self.add_method(shape, method, m, asks);
            }
        }
    }

    fn add_method(
        &mut self,
        recipe: &RecipeShape,
        method: MethodShape,
        place: usize,
        asks: Vec<String>,
    ) {
        let of = shortened(&recipe.name, 60);
        let words = format!("{of} by another method: {}", shortened(&method.name, 60));
        let first = self.goal == super::Goal::Spare;
        let recipe = recipe.name.clone();
        let what = Alteration::Method { recipe, method: Box::new(method), first };
        self.add_at(ChangeKind::Method, further_down(place), what, words, asks);
    }

    pub(super) fn two_lessons(&mut self) {
        let mut in_need: Vec<RecipeId> =
            self.in_need().map(|g| self.lesson.group(g).recipe).collect();
        in_need.sort_unstable();
        in_need.dedup();
        for id in in_need {
            let shape = &self.file.recipes[id.0];
            let of = |g: &crate::model::GroupId| self.lesson.group(*g).recipe == id;
            let Some(group) = self.groups().find(of) else { continue };
            let locked = |g: crate::model::GroupId| self.lesson.locks.iter().any(|l| l.group == g);
            if self.lesson.group(group).period.0 != 0 || self.groups().filter(of).any(locked) {
                continue;
            }
            let Some(&method) = self.lesson.group(group).methods.first() else { continue };
            let Some(method) = shape.methods.get(method.0) else { continue };
            let Some(first) = best_cut(shape, method) else { continue };
            let last = shortened(&method.steps[first - 1].name, 40);
            let words = format!(
                "{} in two lessons: as far as {last} in the first",
                shortened(&shape.name, 60)
            );
            let asks = vec![
                "A second lesson as long as this one, and a cold, covered and dated place for \
                 what waits; how long it may wait is for the recipe and your school's policy to \
                 say."
                    .to_owned(),
            ];
            let (recipe, method) = (shape.name.clone(), method.name.clone());
            let what = Alteration::TwoLessons { recipe, method, first };
            self.add(ChangeKind::TwoLessons, what, words, asks);
        }
    }
}
