//! A plan as the shapes of its file.

use super::names::{PlanNames, called};
use super::shapes::{
    BoundsShape, ChoiceShape, ClassPlacementShape, LoadShape, MmShape, NotServedShape, PlanFile,
    RefusalShape, SettingShape, StepPlacementShape, UseShape, WatchShape,
};
use crate::file::format::PLAN_FORMAT;
use crate::model::{AdultId, GroupId, OvenId, PoolId};
use crate::plan::{
    Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting, Place, Plan, Refusal,
    StepPlacement, Stock,
};

/// Numbers in a file begin with 1.
fn from_one(numbers: &[u32]) -> Vec<u32> {
    numbers.iter().map(|n| n.saturating_add(1)).collect()
}

/// Calls what stands in a plan by its names.
pub(super) struct PlanWriter<'a> {
    names: &'a PlanNames<'a>,
    plan: &'a Plan,
}

impl<'a> PlanWriter<'a> {
    /// Of a plan of the lesson whose names these are.
    pub(super) fn new(names: &'a PlanNames<'a>, plan: &'a Plan) -> Self {
        Self { names, plan }
    }

    /// The plan's file.
    pub(super) fn file(&self) -> PlanFile {
        let Plan { choices, steps, loads, uses, class_steps, settings, .. } = self.plan;
        let bounds = self.plan.bounds.map(|b| BoundsShape {
            served_at_most: b.served_at_most,
            departures_at_least: b.departures_at_least,
            shortfall_at_least: b.shortfall_at_least,
        });
        PlanFile {
            format: PLAN_FORMAT,
            choices: choices.iter().map(|c| self.choice(c)).collect(),
            class_steps: class_steps.iter().map(|c| self.class_step(c)).collect(),
            steps: steps.iter().map(|s| self.step(s)).collect(),
            settings: settings.iter().map(|s| self.setting(s)).collect(),
            loads: loads.iter().map(|l| self.load(l)).collect(),
            uses: uses.iter().map(|u| self.kit_use(u)).collect(),
            door_watches: self.plan.door_watches.iter().map(|w| self.watch(w)).collect(),
            not_served: self.plan.not_served.iter().map(|n| self.not_served(n)).collect(),
            bounds,
        }
    }

    fn group(&self, group: GroupId) -> String {
        called(&self.names.groups, group.0)
    }

    fn oven(&self, oven: OvenId) -> String {
        called(&self.names.ovens, oven.0)
    }

    fn adult(&self, adult: AdultId) -> String {
        called(&self.names.adults, adult.0)
    }

    fn choice(&self, choice: &Choice) -> ChoiceShape {
        ChoiceShape {
            group: self.group(choice.group),
            method: called(&self.names.methods(choice.group), choice.method.0),
            tin: choice.tin.map(|t| called(&self.names.labels(choice.group), t.0)),
        }
    }

    fn class_step(&self, placed: &ClassPlacement) -> ClassPlacementShape {
        let lesson = self.names.lesson;
        let period = lesson.class_steps.get(placed.step.0).map_or(0, |s| s.period.0);
        let (names, ids) = self.names.class_steps(period);
        let step = ids.iter().position(|id| *id == placed.step).unwrap_or(placed.step.0);
        ClassPlacementShape {
            period: called(&self.names.periods, period),
            step: called(&names, step),
            start: placed.start.get(),
            end: placed.end.get(),
        }
    }

    fn step(&self, placed: &StepPlacement) -> StepPlacementShape {
        let method = self.plan.choice(placed.group).map(|c| c.method);
        StepPlacementShape {
            group: self.group(placed.group),
            step: called(&self.names.steps(placed.group, method), placed.step.0),
            start: placed.start.get(),
            end: placed.end.get(),
            pupils: from_one(&placed.pupils),
            adult: placed.adult.map(|a| self.adult(a)),
        }
    }

    fn setting(&self, setting: &OvenSetting) -> SettingShape {
        SettingShape {
            oven: self.oven(setting.oven),
            celsius: setting.celsius.get(),
            set_at: setting.set_at.get(),
            hot_from: setting.hot_from.get(),
            until: setting.until.get(),
        }
    }

    fn load(&self, load: &Load) -> LoadShape {
        let (corner, centre) = match load.place {
            Place::Corner { x, y, turned } => (Some((x, y, turned)), None),
            Place::Centre { x, y } => (None, Some((x, y))),
        };
        LoadShape {
            group: self.group(load.group),
            number: load.number.saturating_add(1),
            oven: self.oven(load.oven),
            shelf: u32::try_from(load.shelf.0).unwrap_or(u32::MAX).saturating_add(1),
            start: load.start.get(),
            end: load.end.get(),
            celsius: load.celsius.get(),
            x_mm: corner.map(|(x, _, _)| MmShape::of(x)),
            y_mm: corner.map(|(_, y, _)| MmShape::of(y)),
            centre_mm: centre.map(|(x, y)| (MmShape::of(x), MmShape::of(y))),
            turned: corner.is_some_and(|(_, _, turned)| turned),
        }
    }

    fn kit_use(&self, used: &KitUse) -> UseShape {
        let mut shape = UseShape {
            group: self.group(used.group),
            kit: None,
            room: None,
            unit: None,
            tin: None,
            items: from_one(&used.items),
            start: used.start.get(),
            end: used.end.get(),
        };
        match used.of {
            Stock::Tin(tin) => shape.tin = Some(called(&self.names.tins, tin.0)),
            Stock::Kit(pool) => self.pool(pool, &mut shape),
        }
        shape
    }

    fn pool(&self, id: PoolId, shape: &mut UseShape) {
        let lesson = self.names.lesson;
        let number = || Some(format!("#{}", id.0.saturating_add(1)));
        let Some(pool) = lesson.kit_pools.get(id.0) else {
            shape.kit = number();
            return;
        };
        let unit = pool.unit.and_then(|u| lesson.units.get(u.0)).map(|u| u.name.as_str());
        if self.names.pool(pool.kit.0, pool.room.map(|r| r.0), unit) != Some(id) {
            shape.kit = number();
            return;
        }
        shape.kit = Some(called(&self.names.kit, pool.kit.0));
        shape.room = pool.room.map(|r| called(&self.names.rooms, r.0));
        shape.unit = unit.map(str::to_owned);
    }

    fn watch(&self, watch: &DoorWatch) -> WatchShape {
        WatchShape {
            oven: self.oven(watch.oven),
            minute: watch.minute.get(),
            adult: self.adult(watch.adult),
        }
    }

    fn not_served(&self, group: &NotServed) -> NotServedShape {
        NotServedShape {
            group: self.group(group.group),
            refusal: match group.refusal {
                Refusal::Cannot => RefusalShape::Cannot,
                Refusal::CannotAll => RefusalShape::CannotAll,
                Refusal::NotFound => RefusalShape::NotFound,
                Refusal::LeftOut => RefusalShape::LeftOut,
            },
            by: group.by.into(),
            rules: group.rules.iter().map(|r| r.name().to_owned()).collect(),
            reason: group.reason.clone(),
        }
    }
}
