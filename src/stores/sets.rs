//! Sets of a recipe's ingredients: who gets one, and of what size.

use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, RecipeId, TinChoiceId, Today};

/// Sets beside those of the groups, of each recipe that is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extra {
    /// For the teacher's demonstration.
    pub demo: u32,
    /// For what is forgotten or dropped.
    pub spare: u32,
}

impl Extra {
    /// One whole spare set, or as many as the day's copy of the lesson says; a
    /// demo is the teacher's to ask for.
    pub fn usual(lesson: &Lesson) -> Self {
        let spare = lesson.today.as_ref().map_or(Today::SPARE_SETS, |t| t.spare_sets);
        Self { demo: 0, spare }
    }
}

/// Whom a set is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MadeFor {
    /// Groups that fill this tin; none if the recipe is not baked.
    Groups(Option<TinChoiceId>),
    /// The demonstration.
    Demo,
    /// Whoever forgets or drops something.
    Spare,
}

/// Sets that are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Sets {
    /// Whom they are for.
    pub made_for: MadeFor,
    /// Whole batches of the recipe in one of them.
    pub factor: f64,
    /// How many.
    pub count: u32,
    /// The groups that get them, one each.
    pub groups: Vec<GroupId>,
    /// Kept apart from all others, on covered trays.
    pub apart: bool,
}

/// All sets of a recipe; none if no group makes it.
pub(super) fn sets(
    lesson: &Lesson,
    plan: Option<&CheckedPlan>,
    recipe: RecipeId,
    extra: Extra,
) -> Vec<Sets> {
    let mut sets: Vec<Sets> = Vec::new();
    for id in lesson.attending().filter(|&g| lesson.group(g).recipe == recipe) {
        let group = lesson.group(id);
        let chosen = plan.and_then(|plan| plan.plan().choice(id)).map(|choice| choice.tin);
        let tin = chosen.unwrap_or_else(|| group.tins.first().copied());
        let factor = tin.map_or(1.0, |tin| lesson.tin_choice_of(id, tin).batch);
        let (made_for, apart) = (MadeFor::Groups(tin), group.keep_apart);
        match sets.iter_mut().find(|s| s.made_for == made_for && s.apart == apart) {
            Some(alike) => {
                alike.count += 1;
                alike.groups.push(id);
            }
            None => sets.push(Sets { made_for, factor, count: 1, groups: vec![id], apart }),
        }
    }
    if sets.is_empty() {
        return sets;
    }
    sets.sort_by(|a, b| b.apart.cmp(&a.apart).then(a.factor.total_cmp(&b.factor)));
    // What only trays kept apart hold is kept apart with them.
    let apart = sets.iter().all(|set| set.apart);
    for (made_for, count) in [(MadeFor::Demo, extra.demo), (MadeFor::Spare, extra.spare)] {
        if count > 0 {
            sets.push(Sets { made_for, factor: 1.0, count, groups: Vec::new(), apart });
        }
    }
    sets
}
