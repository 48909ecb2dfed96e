//! Groups, one or several from an entry.

use super::Builder;
use super::findings::{listed, quoted};
use super::names::{Names, check_name, expand};
use super::steps::MOST_PUPILS;
use crate::file::format::{GroupShape, RoomShape};
use crate::finding::Path;
use crate::model::{
    About, Attendance, Group, MethodId, PeriodId, RecipeId, RoomId, TinChoiceId, TinId,
};

/// Most groups of a lesson.
pub(super) const MOST_GROUPS: u32 = 60;
/// Pupils of a group, if not said.
const PUPILS: i64 = 2;
/// Most needs of a group.
const MOST_NEEDS: usize = 20;
/// Slowest and quickest pace.
const PACE: (f64, f64) = (0.25, 4.0);

impl Builder<'_> {
    /// Names of adults and groups, which much else refers to.
    pub(super) fn name_adults_and_groups(&mut self) {
        let file = self.file;
        let path = Path::root().field("adults");
        if self.findings.length(&path, "adults", file.adults.len(), 60) {
            for (i, adult) in file.adults.iter().enumerate() {
                let path = path.index(i).field("name");
                self.adults.add(&mut self.findings, &path, &adult.name);
            }
        }
        let path = Path::root().field("groups");
        if file.groups.is_empty() {
            let hint = "add at least one: `groups: [(name: \"Unit 1\", recipe: \"…\")]`";
            self.findings.error("no-groups", &path, "there is no group", hint);
        }
        for (i, shape) in file.groups.iter().enumerate().take(MOST_GROUPS as usize) {
            let path = path.index(i);
            let count = shape.count.map(|count| {
                let path = path.field("count");
                let range = (1, MOST_GROUPS);
                self.findings.count(&path, "the number of groups", count, range).unwrap_or(1)
            });
            let names = expand(&shape.name, count);
            self.members.push(names.len());
            for name in names {
                self.groups.add(&mut self.findings, &path.field("name"), &name);
            }
            let total = self.groups.len();
            if total > MOST_GROUPS as usize {
                let message = format!("that makes {total} groups; {MOST_GROUPS} at most");
                self.findings.error("count", &path, message, "");
            }
        }
        let groups = file.groups.len();
        self.findings.length(&path, "groups", groups, MOST_GROUPS as usize);
    }

    pub(super) fn groups(&mut self) {
        let path = Path::root().field("groups");
        let file = self.file;
        let mut number = 0;
        for (i, shape) in file.groups.iter().enumerate().take(MOST_GROUPS as usize) {
            let (group, sound) = self.group(&path.index(i), shape);
            for _ in 0..self.members[i] {
                let name = self.groups.all().nth(number).unwrap_or_default().to_owned();
                self.parts.groups.push(Group { name, ..group.clone() });
                self.sound.push(sound);
                number += 1;
            }
        }
        self.check_lesson_outside();
        self.assume_tin_stock();
    }

    /// The group an entry describes, and whether its recipe is known.
    fn group(&mut self, path: &Path, shape: &GroupShape) -> (Group, bool) {
        let room = shape
            .room
            .as_ref()
            .and_then(|name| self.rooms.find(&mut self.findings, &path.field("room"), name));
        let room = RoomId(room.unwrap_or(0));
        let unit = shape.unit.as_ref().and_then(|name| {
            let unit = self.unit_of_room(room, name);
            if unit.is_none() {
                self.units[room.0].report_unknown(&mut self.findings, &path.field("unit"), name);
            }
            unit
        });
        let period = shape
            .period
            .as_ref()
            .and_then(|name| self.periods.find(&mut self.findings, &path.field("period"), name));
        let pupils = shape.pupils.unwrap_or(PUPILS);
        let at = path.field("pupils");
        let pupils = self.findings.count(&at, "the number of pupils", pupils, (1, MOST_PUPILS));
        let pace = shape.pace.unwrap_or(1.0);
        let pace = self.findings.range(&path.field("pace"), "the pace", pace, PACE);
        let recipe = self.recipe_of_group(path, shape);
        let mut group = Group {
            name: shape.name.clone(),
            pupils: pupils.unwrap_or(MOST_PUPILS),
            room,
            unit,
            period: PeriodId(period.unwrap_or(0)),
            recipe: recipe.unwrap_or(RecipeId(0)),
            methods: Vec::new(),
            tins: Vec::new(),
            pace: pace.unwrap_or(1.0),
            keep_apart: shape.keep_apart,
            needs: self.needs_of_group(path, shape),
            beforehand: std::collections::BTreeSet::new(),
            collected: std::collections::BTreeSet::new(),
            attendance: if shape.left_out { Attendance::LeftOut } else { Attendance::TakesPart },
            baked_for: None,
        };
        if let Some(recipe) = recipe {
            group.methods = self.methods_of_group(path, shape, recipe);
            group.tins = self.tins_of_group(path, shape, &group);
            self.check_pupils(path, &group);
            self.check_kit(&group);
            self.outside(path, shape, &mut group);
        }
        (group, recipe.is_some())
    }

    fn needs_of_group(&mut self, path: &Path, shape: &GroupShape) -> Vec<String> {
        let path = path.field("needs");
        self.findings.length(&path, "needs of one group", shape.needs.len(), MOST_NEEDS);
        for (i, need) in shape.needs.iter().enumerate().take(MOST_NEEDS) {
            check_name(&mut self.findings, &path.index(i), "need", need);
        }
        shape.needs.clone()
    }

    fn recipe_of_group(&mut self, path: &Path, shape: &GroupShape) -> Option<RecipeId> {
        let at = path.field("recipe");
        let name = shape.recipe.trim();
        let known = self.recipes.position(&shape.recipe).filter(|_| !name.is_empty());
        if known.is_some() {
            return known.map(RecipeId);
        }
        // What several groups lack is one thing to do: it is told of the first.
        let file = self.file;
        let alike: Vec<&GroupShape> =
            file.groups.iter().filter(|g| g.recipe.trim() == name).collect();
        if !alike.first().is_some_and(|first| std::ptr::eq(*first, shape)) {
            return None;
        }
        let groups = match alike.as_slice() {
            [one] => quoted(&one.name),
            all => listed(all.iter().map(|g| g.name.as_str())),
        };
        let (code, message, hint) = match (name, alike.len()) {
            ("", 1) => ("no-recipe", format!("group {groups} has no recipe"), None),
            ("", n) => ("no-recipe", format!("{n} groups have no recipe: {groups}"), None),
            (_, n) => {
                let message = format!("there is no recipe {}", quoted(&shape.recipe));
                let for_whom = if n == 1 {
                    String::new()
                } else {
                    format!(", which {n} groups make: {groups}")
                };
                ("unknown-name", message + &for_whom, Some(self.recipes.suggest(&shape.recipe)))
            }
        };
        let hint = hint.unwrap_or_else(|| match self.recipes.len() {
            0 => "put a recipe into the lesson, then choose it for them".to_owned(),
            _ => format!("name one of: {}", listed(self.recipes.all())),
        });
        self.findings.error(code, &at, message, hint);
        None
    }

    fn methods_of_group(
        &mut self,
        path: &Path,
        shape: &GroupShape,
        recipe: RecipeId,
    ) -> Vec<MethodId> {
        let Some(inside) = self.inside.get(recipe.0) else { return Vec::new() };
        if shape.methods.is_empty() {
            return (0..inside.methods.len()).map(MethodId).collect();
        }
        let mut seen = Names::new("entry for the method");
        let mut methods = Vec::new();
        for (i, name) in shape.methods.iter().enumerate() {
            let path = path.field("methods").index(i);
            seen.add(&mut self.findings, &path, name);
            methods.extend(inside.methods.find(&mut self.findings, &path, name).map(MethodId));
        }
        methods
    }

    /// The tins a group can use, best liked first.
    fn tins_of_group(
        &mut self,
        path: &Path,
        shape: &GroupShape,
        group: &Group,
    ) -> Vec<TinChoiceId> {
        let Some(inside) = self.inside.get(group.recipe.0) else { return Vec::new() };
        let at = path.field("tins");
        let mut wanted = Vec::new();
        if shape.tins.is_empty() {
            wanted.extend((0..inside.labels.len()).map(|t| (TinChoiceId(t), path.clone())));
        } else {
            let mut seen = Names::new("entry for the tin");
            for (i, label) in shape.tins.iter().enumerate() {
                let at = at.index(i);
                seen.add(&mut self.findings, &at, label);
                let found = inside.labels.find(&mut self.findings, &at, label);
                wanted.extend(found.map(|t| (TinChoiceId(t), at)));
            }
        }
        let recipe = &self.parts.recipes[group.recipe.0];
        let baked = |m: &MethodId| recipe.methods.get(m.0).is_some_and(|m| m.tin_held.is_some());
        if !group.methods.iter().any(baked) {
            return Vec::new();
        }
        self.usable_tins(path, group, wanted, !shape.tins.is_empty())
    }

    /// Tins of which the room's stock is not stated are there in any number.
    fn assume_tin_stock(&mut self) {
        let mut uncounted: Vec<(TinId, RoomId)> = Vec::new();
        let attending = |g: &&Group| g.attendance == Attendance::TakesPart;
        for group in self.parts.groups.iter().filter(attending) {
            let Some(recipe) = self.parts.recipes.get(group.recipe.0) else { continue };
            for choice in group.tins.iter().filter_map(|t| recipe.tins.get(t.0)) {
                let pools = &self.parts.tin_pools;
                let counted = pools.iter().any(|p| p.room == group.room && p.tin == choice.tin);
                if !counted && uncounted.iter().all(|(tin, _)| *tin != choice.tin) {
                    uncounted.push((choice.tin, group.room));
                }
            }
        }
        for (tin, room) in uncounted {
            let name = self.parts.tins.get(tin.0).map_or("", |t| t.name.as_str());
            let text = format!("tins in stock: any number of {}", quoted(name));
            let at = RoomShape::path(room.0).field("tins").key(name);
            self.assume(About::TinStock(tin), at, text);
        }
    }
}
