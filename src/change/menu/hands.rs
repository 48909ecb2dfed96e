//! Partners side by side at work that two can share.

use super::super::alteration::Alteration;
use super::super::side_by_side::shared_steps;
use super::Menu;
use crate::finding::shortened;
use crate::model::ChangeKind;
use crate::words::list;

impl Menu<'_> {
    /// For each recipe that a group of two or more in need makes, all work two
    /// can share.
    pub(super) fn side_by_side(&mut self) {
        let mut recipes: Vec<usize> = self
            .in_need()
            .map(|g| self.lesson.group(g))
            .filter(|group| group.pupils >= 2)
            .map(|group| group.recipe.0)
            .collect();
        recipes.sort_unstable();
        recipes.dedup();
        for recipe in recipes {
            let shape = &self.file.recipes[recipe];
            let steps = shared_steps(self.file, shape);
            if steps.is_empty() {
                continue;
            }
            let named: Vec<String> = steps.iter().map(|s| shortened(s, 40)).collect();
            let of = shortened(&shape.name, 60);
            let words = format!("{of}, partners side by side: {}", list(&named));
            let asks = vec![format!(
                "Partners each do half of it at the same time ({}); say before who takes which \
                 half.",
                list(&named)
            )];
            let what = Alteration::SideBySide { recipe: shape.name.clone(), steps };
            self.add(ChangeKind::SideBySide, what, words, asks);
        }
    }
}
