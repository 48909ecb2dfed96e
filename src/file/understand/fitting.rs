//! The things a group is to use against those that are there: tins against shelves, kit
//! against stock, steps against pupils.

use super::Builder;
use super::findings::quoted;
use crate::file::format::RoomShape;
use crate::finding::Path;
use crate::model::{
    Group, Oven, PupilsNeeded, Recipe, RoomId, Shelf, Tin, TinChoice, TinChoiceId, UnitId,
};
use crate::units::plain_number;

/// Why a tin cannot be used.
struct Unfit {
    code: &'static str,
    path: Path,
    message: String,
    hint: &'static str,
    /// Told with the recipe already; only worth telling again as an error.
    told: bool,
}

impl Builder<'_> {
    /// Whether a thing of a room and unit may be used by a group.
    pub(super) fn may_use(
        &self,
        group: &Group,
        room: Option<RoomId>,
        unit: Option<UnitId>,
    ) -> bool {
        let own_room = room.is_none_or(|r| r == group.room);
        let own_unit = unit.is_none() || group.unit.is_none() || unit == group.unit;
        own_room && (own_unit || self.shares(group.room))
    }

    fn shares(&self, room: RoomId) -> bool {
        let of_room = self.parts.rooms.get(room.0).is_some_and(|r| r.sharing);
        self.file.rules.sharing.unwrap_or(of_room)
    }

    /// The working ovens a group may use.
    fn ovens_of(&self, group: &Group) -> impl Iterator<Item = &Oven> {
        self.parts
            .ovens
            .iter()
            .filter(|o| !o.out_of_order && self.may_use(group, Some(o.room), o.unit))
    }

    /// The wanted tins that can be used, in order; reports the others.
    pub(super) fn usable_tins(
        &mut self,
        path: &Path,
        group: &Group,
        wanted: Vec<(TinChoiceId, Path)>,
        listed: bool,
    ) -> Vec<TinChoiceId> {
        if self.ovens_of(group).next().is_none() {
            self.report_no_oven(path, group);
            return wanted.into_iter().map(|(t, _)| t).collect();
        }
        let mut usable = Vec::new();
        let mut unfit = Vec::new();
        let recipe = &self.parts.recipes[group.recipe.0];
        for (id, at) in wanted {
            let Some(choice) = recipe.tins.get(id.0) else { continue };
            if !group.methods.iter().any(|&m| choice.goes_with(m)) {
                if listed {
                    unfit.push(wrong_method(choice, at));
                }
                continue;
            }
            match self.unfit(group, recipe, choice, at) {
                None => usable.push(id),
                Some(why) => unfit.push(why),
            }
        }
        for Unfit { code, path, message, hint, told } in unfit {
            if usable.is_empty() {
                let message = format!("{message}; group {} has no other tin", quoted(&group.name));
                self.findings.error(code, &path, message, hint);
            } else if !told {
                self.findings.warning(code, &path, message, hint);
            }
        }
        usable
    }

    fn report_no_oven(&mut self, path: &Path, group: &Group) {
        let in_room = self.parts.ovens.iter().any(|o| o.room == group.room && !o.out_of_order);
        if in_room {
            let message = format!("group {} may use no working oven", quoted(&group.name));
            let hint = "let the units share their ovens: `sharing: true`";
            self.findings.error("no-oven", path, message, hint);
            return;
        }
        let name = self.parts.rooms.get(group.room.0).map_or("", |r| r.name.as_str());
        let message =
            format!("{} has no oven that works, but something is to be baked", quoted(name));
        self.findings.error(
            "no-oven",
            &RoomShape::path(group.room.0).field("ovens"),
            message,
            "add `ovens: [(name: \"Oven\")]`",
        );
    }

    fn unfit(
        &self,
        group: &Group,
        recipe: &Recipe,
        choice: &TinChoice,
        path: Path,
    ) -> Option<Unfit> {
        let label = quoted(&choice.label);
        let unfit =
            |code, message, hint| Unfit { code, path: path.clone(), message, hint, told: false };
        let stated = self.file.recipes.get(group.recipe.0).and_then(|r| {
            let labelled = |t: &&crate::file::format::TinChoiceShape| {
                t.label.as_ref().unwrap_or(&t.tin) == &choice.label
            };
            r.tins.iter().find(labelled)
        });
        // Minutes that make no sense are reported where they stand.
        if self.worked_out
            && choice.minutes.is_none()
            && stated.is_some_and(|t| t.minutes.is_none())
        {
            let message = format!("no bake minutes are known for {label}");
            let hint = "add `minutes:` to this tin in the recipe";
            return Some(Unfit { told: true, ..unfit("tin-without-minutes", message, hint) });
        }
        let tin = self.parts.tins.get(choice.tin.0)?;
        let stands = |s: &Shelf| stands_on(tin, s);
        if !self.ovens_of(group).any(|o| o.shelves.iter().any(stands)) {
            let (long, wide) = tin.rim;
            let message = format!(
                "{label}, {} × {} mm and {} mm high, fits no oven shelf that may be used",
                long.get(),
                wide.get(),
                tin.height.get()
            );
            return Some(unfit(
                "tin-too-large",
                message,
                "measure tin and shelf, or choose another tin",
            ));
        }
        if let Some(message) = over_filled(recipe, choice, tin) {
            return Some(unfit("over-filled", message, "take a smaller batch or more tins"));
        }
        let pools = &self.parts.tin_pools;
        let pool = pools.iter().find(|p| p.room == group.room && p.tin == choice.tin)?;
        (pool.count < choice.count).then(|| {
            let message = format!("{label} takes {} tins; in stock: {}", choice.count, pool.count);
            unfit("too-few-tins", message, "")
        })
    }

    /// Reports steps that need more pupils than the group has.
    pub(super) fn check_pupils(&mut self, path: &Path, group: &Group) {
        let recipe = &self.parts.recipes[group.recipe.0];
        let methods = group.methods.iter().filter_map(|m| recipe.methods.get(m.0));
        let needs = methods.flat_map(|m| &m.steps).filter_map(|s| match s.pupils {
            PupilsNeeded::Count(n) if n > group.pupils => Some((n, &s.name)),
            _ => None,
        });
        if let Some((n, step)) = needs.max_by_key(|(n, _)| *n) {
            let message = format!(
                "the step {} takes {n} pupils, but group {} has {}",
                quoted(step),
                quoted(&group.name),
                group.pupils
            );
            let hint = "give the group more pupils, or let it use another method";
            self.findings.error("too-few-pupils", &path.field("pupils"), message, hint);
        }
    }

    /// Reports steps that need more kit than the group may use.
    pub(super) fn check_kit(&mut self, group: &Group) {
        let file = self.file;
        let Some(recipe) = file.recipes.get(group.recipe.0) else { return };
        let at = Path::root().field("recipes").index(group.recipe.0).field("methods");
        let mut short = Vec::new();
        let mut methods_short = 0;
        for id in &group.methods {
            let Some(method) = recipe.methods.get(id.0) else { continue };
            let path = at.index(id.0);
            let before = short.len();
            for (i, step) in method.steps.iter().enumerate() {
                let path = path.field("steps").index(i).field("kit");
                for (kit, count) in &step.kit.0 {
                    short.extend(self.kit_short(group, kit, *count, &step.name, path.key(kit)));
                }
            }
            for (i, hold) in method.holds.iter().enumerate() {
                let path = path.field("holds").index(i);
                let count = hold.count.unwrap_or(1);
                short.extend(self.kit_short(group, &hold.kit, count, &hold.from, path));
            }
            methods_short += usize::from(short.len() > before);
        }
        let another = methods_short < group.methods.len();
        for (path, message) in short {
            if another {
                let hint = "groups there can use the other methods only";
                self.findings.warning("too-little-kit", &path, message, hint);
            } else {
                self.findings.error("too-little-kit", &path, message, "");
            }
        }
    }

    fn kit_short(
        &self,
        group: &Group,
        kit: &str,
        count: i64,
        step: &str,
        path: Path,
    ) -> Option<(Path, String)> {
        let id = self.kit.position(kit)?;
        let usable =
            |p: &&crate::model::KitPool| p.kit.0 == id && self.may_use(group, p.room, p.unit);
        let there: u32 = self.parts.kit_pools.iter().filter(usable).map(|p| p.count).sum();
        if count <= i64::from(there) {
            return None;
        }
        let room = self.parts.rooms.get(group.room.0).map_or("", |r| r.name.as_str());
        let unit = group.unit.filter(|_| !self.shares(group.room));
        let place = match unit.and_then(|u| self.parts.units.get(u.0)) {
            Some(unit) => format!("at {} in {}", quoted(&unit.name), quoted(room)),
            None => format!("in {}", quoted(room)),
        };
        let message = format!(
            "the step {} needs {count} of the kit {}; {place} {there} can be used",
            quoted(step),
            quoted(kit)
        );
        Some((path, message))
    }
}

fn wrong_method(choice: &TinChoice, path: Path) -> Unfit {
    Unfit {
        code: "tin-method",
        path,
        message: format!("{} goes with none of the group's methods", quoted(&choice.label)),
        hint: "see `methods` of this tin in the recipe",
        told: false,
    }
}

/// Whether a tin stands on a shelf, either way round.
fn stands_on(tin: &Tin, shelf: &Shelf) -> bool {
    let (a, b) = tin.rim;
    let lies = (a <= shelf.width && b <= shelf.depth) || (b <= shelf.width && a <= shelf.depth);
    lies && tin.height <= shelf.clear
}

fn over_filled(recipe: &Recipe, choice: &TinChoice, tin: &Tin) -> Option<String> {
    let mixture = recipe.batter?.value.get() * choice.batch / f64::from(choice.count.max(1));
    let holds = tin.capacity?.value.get();
    let limit = recipe.bake.fill_limit.value;
    (mixture > holds * limit * (1.0 + 1e-9)).then(|| {
        format!(
            "{} ml of mixture in {}, which holds {} ml: {} % full, and {} % is the limit",
            plain_number(mixture.round()),
            quoted(&choice.label),
            plain_number(holds),
            plain_number((100.0 * mixture / holds).round()),
            plain_number((100.0 * limit).round())
        )
    })
}
