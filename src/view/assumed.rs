//! Which assumed figures an answer rests on.

use std::collections::BTreeSet;

use super::words::{in_short, list};
use crate::check::{CheckedPlan, Verdict};

use crate::model::{About, Group, GroupId, Lesson, OvenId, RecipeId, TinId};

/// The assumed figures that bear on this plan and its verdicts, in the
/// lesson's order. A figure assumed of several things, named in brackets at
/// its end, is told once with all their names.
pub fn assumed(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    let bears = Bears::of(lesson, plan);
    let mut figures: Vec<(&str, Vec<String>)> = Vec::new();
    for assumption in lesson.assumed.iter().filter(|a| bears.on(&a.about)) {
        let (figure, of) = assumption
            .text
            .strip_suffix(')')
            .and_then(|text| text.rsplit_once(" ("))
            .map_or((assumption.text.as_str(), None), |(figure, of)| (figure, Some(of)));
        let at = figures.iter().position(|(f, _)| *f == figure).unwrap_or_else(|| {
            figures.push((figure, Vec::new()));
            figures.len() - 1
        });
        if let Some(of) = of.filter(|of| !figures[at].1.iter().any(|known| known == of)) {
            figures[at].1.push(of.to_owned());
        }
    }
    let figures = figures.into_iter().map(|(figure, of)| match of.len() {
        0 => figure.to_owned(),
        _ => format!("{figure} ({})", list(&in_short(&of))),
    });
    figures.chain(elsewhere(lesson, plan)).collect()
}

/// Bakes at another temperature than their tin's own, whose minutes are
/// computed.
fn elsewhere(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    let plan = plan.plan();
    let of = |(g, group): (usize, &Group)| {
        let id = GroupId(g);
        let tin = lesson.tin_choice_of(id, plan.choice(id)?.tin?);
        let at = plan.loads.iter().find(|l| l.group == id)?.celsius;
        let minutes = tin.minutes_at(at).filter(|_| at != tin.celsius)?;
        let usual = minutes.usual().get();
        Some(format!(
            "{} bakes at {at} instead of {}: {usual:.0} min, {}",
            group.name, tin.celsius, minutes.origin
        ))
    };
    lesson.groups.iter().enumerate().filter_map(of).collect()
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
