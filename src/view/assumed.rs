//! Which assumed figures an answer rests on.

use std::collections::BTreeSet;

use super::words::{in_short, list};
use crate::check::{CheckedPlan, Verdict};
use crate::finding::Path;
use crate::model::{About, Group, GroupId, Lesson, OvenId, RecipeId, TinId};
use crate::plan::Rule;

/// The assumed figures that bear on this plan and its verdicts, in the
/// lesson's order. A figure assumed of several things, named in brackets at
/// its end, is told once with all their names.
pub fn assumed(lesson: &Lesson, plan: &CheckedPlan) -> Vec<String> {
    where_stated(lesson, plan).into_iter().map(|(figure, _)| figure).collect()
}

/// The same, each with the place where the first of the things it is assumed
/// of would state it; a figure that only the plan brings about has none.
pub fn where_stated(lesson: &Lesson, plan: &CheckedPlan) -> Vec<(String, Option<Path>)> {
    let told = told(lesson, &Bears::of(lesson, plan)).into_iter();
    let told = told.map(|(figure, at)| (figure, Some(at)));
    told.chain(elsewhere(lesson, plan).into_iter().map(|figure| (figure, None))).collect()
}

/// The assumed figures that bear on a statement about some groups, whatever
/// they choose, which rests on some rules (on all if none is named); with
/// `quick`, on quick minutes.
pub fn assumed_of(lesson: &Lesson, groups: &[GroupId], rules: &[Rule], quick: bool) -> Vec<String> {
    let told = told(lesson, &Bears::of_groups(lesson, groups, rules, quick));
    told.into_iter().map(|(figure, _)| figure).collect()
}

fn told(lesson: &Lesson, bears: &Bears) -> Vec<(String, Path)> {
    let mut figures: Vec<(&str, Vec<String>, &Path)> = Vec::new();
    for assumption in lesson.assumed.iter().filter(|a| bears.on(&a.about)) {
        let (figure, of) = assumption
            .text
            .strip_suffix(')')
            .and_then(|text| text.rsplit_once(" ("))
            .map_or((assumption.text.as_str(), None), |(figure, of)| (figure, Some(of)));
        let at = figures.iter().position(|(f, ..)| *f == figure).unwrap_or_else(|| {
            figures.push((figure, Vec::new(), &assumption.at));
            figures.len() - 1
        });
        if let Some(of) = of.filter(|of| !figures[at].1.iter().any(|known| known == of)) {
            figures[at].1.push(of.to_owned());
        }
    }
    let words = |(figure, of, at): (&str, Vec<String>, &Path)| match of.len() {
        0 => (figure.to_owned(), at.clone()),
        _ => (format!("{figure} ({})", list(&in_short(&of))), at.clone()),
    };
    figures.into_iter().map(words).collect()
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
    everything: bool,
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
            everything: true,
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

    fn of_groups(lesson: &Lesson, groups: &[GroupId], rules: &[Rule], quick: bool) -> Self {
        let speak = |of: &[Rule]| rules.is_empty() || rules.iter().any(|rule| of.contains(rule));
        let recipes: BTreeSet<RecipeId> = groups.iter().map(|&g| lesson.group(g).recipe).collect();
        let usable = |o: &OvenId| groups.iter().any(|&g| lesson.may_use_oven(g, *o));
        let tins = |&g: &GroupId| {
            let tins = lesson.group(g).tins.iter();
            tins.map(|&t| lesson.tin_choice_of(g, t).tin).collect::<Vec<_>>()
        };
        let ovens = speak(&[Rule::Shelf, Rule::Temperature, Rule::WarmUp]);
        let bakes = speak(&[Rule::Door, Rule::Temperature]);
        let stock = speak(&[Rule::Tin]);
        Self {
            everything: speak(&[Rule::Door, Rule::DoorHands]),
            ovens: (0..lesson.ovens.len()).map(OvenId).filter(|o| ovens && usable(o)).collect(),
            quick: if quick { recipes.clone() } else { BTreeSet::new() },
            tins: groups.iter().filter(|_| stock).flat_map(tins).collect(),
            recipes: if bakes { recipes } else { BTreeSet::new() },
        }
    }

    fn on(&self, about: &About) -> bool {
        match about {
            About::Everything => self.everything,
            About::Oven(oven) => self.ovens.contains(oven),
            About::Recipe(recipe) => self.recipes.contains(recipe),
            About::QuickMinutes(recipe) => self.quick.contains(recipe),
            About::ClassQuickMinutes => !self.quick.is_empty(),
            About::TinStock(tin) => self.tins.contains(tin),
        }
    }
}
