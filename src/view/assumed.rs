//! Which assumed figures an answer rests on.

use std::collections::BTreeSet;

use crate::check::{CheckedPlan, Verdict};
use crate::model::{About, GroupId, Lesson, OvenId, RecipeId, TinId};

/// The assumed figures that bear on this plan and its verdicts, in the
/// lesson's order, each once.
pub fn assumed(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    let bears = Bears::of(lesson, plan);
    let mut seen = BTreeSet::new();
    lesson
        .assumed
        .iter()
        .filter(|a| bears.on(&a.about) && seen.insert(&a.text))
        .map(|a| a.text.clone())
        .collect()
}

struct Bears {
    ovens: BTreeSet<OvenId>,
    recipes: BTreeSet<RecipeId>,
    /// Recipes of groups for which a proof or its absence was stated.
    quick: BTreeSet<RecipeId>,
    tins: BTreeSet<TinId>,
}

impl Bears {
    fn of(lesson: &Lesson, plan: &CheckedPlan) -> Self {
        let attending: Vec<GroupId> = lesson.attending().collect();
        let unserved = |g: &GroupId| {
            matches!(
                plan.group_outcomes()[g.0].verdict,
                Verdict::Cannot | Verdict::CannotAll | Verdict::NotRealistically
            )
        };
        let recipe = |g: &GroupId| lesson.group(*g).recipe;
        Self {
            ovens: plan.plan().loads.iter().map(|l| l.oven).collect(),
            recipes: attending.iter().map(recipe).collect(),
            quick: attending.iter().filter(|g| unserved(g)).map(recipe).collect(),
            tins: plan
                .plan()
                .choices
                .iter()
                .filter_map(|c| c.tin.map(|t| lesson.tin_choice_of(c.group, t).tin))
                .collect(),
        }
    }

    fn on(&self, about: &About) -> bool {
        match about {
            About::Everything => true,
            About::Oven(oven) => self.ovens.contains(oven),
            About::Recipe(recipe) => self.recipes.contains(recipe),
            About::QuickMinutes(recipe) => self.quick.contains(recipe),
            About::ClassQuickMinutes => !self.quick.is_empty(),
            About::TinStock(tin) => self.tins.contains(tin),
        }
    }
}
