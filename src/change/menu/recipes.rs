//! Other methods for a recipe, and a recipe made in two lessons.

use super::super::alteration::Alteration;
use super::super::two_lessons::best_cut;
use super::Menu;
use super::library::{method_for, same_mixture};
use super::tins::further_down;
use crate::file::format::{MethodShape, RecipeShape, TinShape};
use crate::file::library;
use crate::finding::shortened;
use crate::model::{ChangeKind, Lock, RecipeId};

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

    /// For each recipe of groups in need, others of the library that are made
    /// by the same method: what pupils are to practise stays.
    pub(super) fn other_recipe(&mut self) {
        let mut in_need: Vec<RecipeId> =
            self.in_need().map(|g| self.lesson.group(g).recipe).collect();
        in_need.sort_unstable();
        in_need.dedup();
        let (Ok(library), Ok(tins)) = (library::recipes(), library::tins()) else { return };
        for id in in_need {
            let shape = &self.file.recipes[id.0];
            let is_locked = |l: &Lock| self.lesson.group(l.group).recipe == id;
            if self.lesson.locks.iter().any(is_locked) {
                continue;
            }
            let taught: Vec<&str> = shape.methods.iter().map(|m| m.name.as_str()).collect();
            for other in &library {
                let is_new = self.file.recipes.iter().all(|r| r.name != other.name);
                let same = other.methods.iter().filter(|m| taught.contains(&m.name.as_str()));
                let methods: Vec<MethodShape> =
                    same.filter_map(|m| method_for(self.file, m)).collect();
                let Some(method) = methods.first().filter(|_| is_new) else { continue };
                let (from, to) = (shortened(&shape.name, 60), shortened(&other.name, 60));
                let by = shortened(&method.name, 60);
                let words = format!("{to} in place of {from}: {by} too");
                let asks = vec![format!(
                    "Whoever orders gets what {to} takes in place of what {from} takes and reads \
                     its labels for every need of the class; the demo is of {to}."
                )];
                let mut recipe = RecipeShape { methods, ..other.clone() };
                let kept: Vec<String> = recipe.methods.iter().map(|m| m.name.clone()).collect();
                recipe
                    .tins
                    .retain(|t| t.methods.is_empty() || t.methods.iter().any(|m| kept.contains(m)));
                for tin in &mut recipe.tins {
                    tin.methods.retain(|m| kept.contains(m));
                }
                let named = |t: &&TinShape| recipe.tins.iter().any(|choice| choice.tin == t.name);
                let tins = tins.iter().filter(named).cloned().collect();
                let (from, to) = (shape.name.clone(), Box::new(recipe));
                self.add(ChangeKind::Recipe, Alteration::Recipe { from, to, tins }, words, asks);
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
