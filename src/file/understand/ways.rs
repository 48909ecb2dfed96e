//! In how many ways the groups can be served: more than can be planned with is
//! told, before anything is worked out for each of them.

use std::collections::{BTreeMap, HashMap, HashSet};

use super::Builder;
use super::findings::quoted;
use crate::finding::Path;
use crate::model::group_kind::GroupKind;
use crate::model::lesson::LockedTo;
use crate::model::{Attendance, Group, GroupId, MethodId};

/// Steps of all ways in which groups of every kind can be served that can be
/// planned with. A class of twenty groups has a tenth of it.
const MOST_STEPS: usize = 20_000;
/// The same of every group, whether others are of its kind or not.
const MOST_IN_ALL: usize = 200_000;

/// The ways of some groups, and the steps in them all.
#[derive(Debug, Clone, Copy, Default)]
struct Ways {
    ways: usize,
    steps: usize,
}

impl Ways {
    fn add(&mut self, ways: usize, steps_of_each: usize) {
        self.ways = self.ways.saturating_add(ways);
        self.steps = self.steps.saturating_add(ways.saturating_mul(steps_of_each));
    }

    fn and(&mut self, other: Ways) {
        self.ways = self.ways.saturating_add(other.ways);
        self.steps = self.steps.saturating_add(other.steps);
    }
}

impl Builder<'_> {
    /// Reports methods and tins that are too many by themselves, whatever the
    /// temperatures.
    pub(super) fn check_ways_as_written(&mut self) {
        let free = self
            .file
            .groups
            .iter()
            .filter(|g| !g.left_out && g.methods.is_empty() && g.tins.is_empty());
        let names: HashSet<&str> = free.map(|g| g.recipe.as_str()).collect();
        let mut of: BTreeMap<usize, Ways> = BTreeMap::new();
        for (id, recipe) in self.parts.recipes.iter().enumerate() {
            if !names.contains(recipe.name.as_str()) {
                continue;
            }
            for (m, method) in recipe.methods.iter().enumerate() {
                let tins = recipe.tins.iter().filter(|t| t.goes_with(MethodId(m)));
                let ways = if method.bake_steps().is_some() { tins.count() } else { 1 };
                of.entry(id).or_default().add(ways, method.steps.len());
            }
        }
        self.report_ways(&of, MOST_STEPS);
    }

    /// Reports ways that are too many with all the temperatures at which tins
    /// can bake beside each other.
    pub(super) fn check_ways(&mut self) {
        if self.findings.any_error() {
            return;
        }
        let mut known: HashMap<GroupKind, Ways> = HashMap::new();
        let mut of: BTreeMap<usize, Ways> = BTreeMap::new();
        let mut in_all: BTreeMap<usize, Ways> = BTreeMap::new();
        for (id, group) in self.parts.groups.iter().enumerate() {
            let recipe = &self.parts.recipes[group.recipe.0];
            if group.attendance == Attendance::LeftOut {
                continue;
            }
            // Other locks take no way away.
            let takes = |to: &LockedTo| matches!(to, LockedTo::Method(_) | LockedTo::Tin(_));
            let locked = self.parts.locks.iter().any(|l| l.group == GroupId(id) && takes(&l.to));
            let kind = (!locked).then(|| group.kind(recipe));
            let ways = match kind.as_ref().and_then(|kind| known.get(kind)) {
                Some(ways) => *ways,
                None => {
                    let ways = self.ways(GroupId(id), group);
                    known.extend(kind.map(|kind| (kind, ways)));
                    of.entry(group.recipe.0).or_default().and(ways);
                    ways
                }
            };
            in_all.entry(group.recipe.0).or_default().and(ways);
        }
        self.report_ways(&of, MOST_STEPS);
        if !self.findings.any_error() {
            self.report_ways(&in_all, MOST_IN_ALL);
        }
    }

    /// The ways in which a group can be served.
    fn ways(&self, id: GroupId, group: &Group) -> Ways {
        let mut all = Ways::default();
        let recipe = &self.parts.recipes[group.recipe.0];
        let locks = || self.parts.locks.iter().filter(|l| l.group == id).map(|l| &l.to);
        let method_held = locks().find_map(|l| match l {
            LockedTo::Method(m) => Some(*m),
            _ => None,
        });
        let tin_held = locks().find_map(|l| match l {
            LockedTo::Tin(t) => Some(*t),
            _ => None,
        });
        for &m in group.methods.iter().filter(|m| method_held.is_none_or(|held| held == **m)) {
            let Some(method) = recipe.methods.get(m.0) else { continue };
            let tins = group.tins.iter().filter(|t| tin_held.is_none_or(|held| held == **t));
            let tins = tins.filter_map(|t| recipe.tins.get(t.0)).filter(|t| t.goes_with(m));
            let ways = if method.bake_steps().is_some() {
                tins.map(|t| t.temperatures().count()).sum()
            } else {
                1
            };
            all.add(ways, method.steps.len());
        }
        all
    }

    fn report_ways(&mut self, of: &BTreeMap<usize, Ways>, most: usize) {
        let all = of.values().map(|w| w.steps).fold(0, usize::saturating_add);
        let Some((&recipe, worst)) = of.iter().max_by_key(|(id, w)| (w.steps, usize::MAX - **id))
        else {
            return;
        };
        if all <= most {
            return;
        }
        let others = match all - worst.steps {
            0 => String::new(),
            _ => format!(", with those of all other recipes {all}"),
        };
        let message = format!(
            "groups can make {} in {} ways, by method, tin and temperature: that is {} steps to \
             place{others}; {most} at most can be planned with",
            quoted(&self.parts.recipes[recipe].name),
            worst.ways,
            worst.steps
        );
        let hint = "name for its groups the few `methods` and `tins` they may use, or take out of \
                    the recipe those that nobody will";
        let path = Path::root().field("recipes").index(recipe);
        self.findings.error("too-many-ways", &path, message, hint);
    }
}
