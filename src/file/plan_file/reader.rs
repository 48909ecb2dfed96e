//! Shapes of a plan's file, understood as a plan of its lesson.

use super::names::{PlanNames, meant};
use super::shapes::{
    ChoiceShape, ClassPlacementShape, LoadShape, MmShape, NotServedShape, PlanFile, RefusalShape,
    SettingShape, StepPlacementShape, UseShape, WatchShape,
};
use crate::file::understand::findings::{Findings, quoted};
use crate::file::understand::names::Names;
use crate::finding::{Finding, Path};
use crate::model::{
    AdultId, GroupId, MethodId, OvenId, PoolId, ShelfId, StepId, TinChoiceId, TinId,
};
use crate::plan::{
    Bounds, Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting, Place, Plan,
    Refusal, Rule, StepPlacement, Stock,
};
use crate::units::{Celsius, FineMillimetres, Minute};

/// How far from the start bell a minute of a plan may lie: four weeks. Steps beforehand may begin
/// days before, and whoever reads a plan minute by minute must come to an end.
const FARTHEST_MINUTE: i32 = 28 * 24 * 60;

/// Reads shapes; a name that is not known is a finding, and its entry is
/// left out.
pub(super) struct PlanReader<'a> {
    names: &'a PlanNames<'a>,
    findings: Findings,
}

impl<'a> PlanReader<'a> {
    /// Of a plan of the lesson whose names these are.
    pub(super) fn new(names: &'a PlanNames<'a>) -> Self {
        Self { names, findings: Findings::default() }
    }

    /// What the lesson knows of a plan, and what of it is wrong.
    pub(super) fn read(mut self, file: &PlanFile) -> (Plan, Vec<Finding>) {
        let plan = self.plan(file);
        (plan, self.findings.into_list())
    }

    fn plan(&mut self, file: &PlanFile) -> Plan {
        let root = Path::root();
        let mut plan = Plan {
            choices: self.each(&root.field("choices"), &file.choices, Self::choice),
            ..Plan::default()
        };
        let choices = plan.choices.clone();
        let method = |group| choices.iter().find(|c| c.group == group).map(|c| c.method);
        plan.class_steps =
            self.each(&root.field("class_steps"), &file.class_steps, Self::class_step);
        plan.steps = self
            .each(&root.field("steps"), &file.steps, |r, path, shape| r.step(path, shape, method));
        plan.settings = self.each(&root.field("settings"), &file.settings, Self::setting);
        plan.loads = self.each(&root.field("loads"), &file.loads, Self::load);
        plan.uses = self.each(&root.field("uses"), &file.uses, Self::kit_use);
        plan.door_watches = self.each(&root.field("door_watches"), &file.door_watches, Self::watch);
        plan.not_served = self.each(&root.field("not_served"), &file.not_served, Self::not_served);
        plan.bounds = file.bounds.map(|b| Bounds {
            served_at_most: b.served_at_most,
            departures_at_least: b.departures_at_least,
            shortfall_at_least: b.shortfall_at_least,
        });
        plan
    }

    fn each<S, T>(
        &mut self,
        path: &Path,
        shapes: &[S],
        read: impl Fn(&mut Self, &Path, &S) -> Option<T>,
    ) -> Vec<T> {
        let one = |(i, shape)| read(self, &path.index(i), shape);
        shapes.iter().enumerate().filter_map(one).collect()
    }

    fn find(&mut self, path: &Path, names: &Names, name: &str) -> Option<usize> {
        let found = meant(names, name);
        if found.is_none() {
            names.report_unknown(&mut self.findings, path, name);
        }
        found
    }

    fn group(&mut self, path: &Path, name: &str) -> Option<GroupId> {
        self.find(&path.field("group"), &self.names.groups, name).map(GroupId)
    }

    fn oven(&mut self, path: &Path, name: &str) -> Option<OvenId> {
        self.find(&path.field("oven"), &self.names.ovens, name).map(OvenId)
    }

    fn adult(&mut self, path: &Path, name: &str) -> Option<AdultId> {
        self.find(&path.field("adult"), &self.names.adults, name).map(AdultId)
    }

    fn minute(&mut self, path: &Path, field: &str, minute: i32) -> Option<Minute> {
        let range = (-FARTHEST_MINUTE, FARTHEST_MINUTE);
        let what = format!("the minute of `{field}`");
        self.findings.whole(&path.field(field), &what, minute, range).map(Minute::new)
    }

    fn celsius(&mut self, path: &Path, celsius: f64) -> Option<Celsius> {
        let path = path.field("celsius");
        let celsius = self.findings.range(&path, "the temperature in °C", celsius, (-40.0, 400.0));
        celsius.and_then(|c| Celsius::new(c).ok())
    }

    /// A number that begins with 1 in the file, from 0.
    fn number(&mut self, path: &Path, what: &str, number: u32) -> Option<u32> {
        self.findings.count(path, what, i64::from(number), (1, u32::MAX))?.checked_sub(1)
    }

    fn numbers(&mut self, path: &Path, what: &str, numbers: &[u32]) -> Vec<u32> {
        let one = |(i, n): (usize, &u32)| self.number(&path.index(i), what, *n);
        numbers.iter().enumerate().filter_map(one).collect()
    }

    fn choice(&mut self, path: &Path, shape: &ChoiceShape) -> Option<Choice> {
        let group = self.group(path, &shape.group)?;
        let methods = self.names.methods(group);
        let method = self.find(&path.field("method"), &methods, &shape.method).map(MethodId);
        let tin = match &shape.tin {
            None => None,
            Some(label) => {
                let labels = self.names.labels(group);
                Some(TinChoiceId(self.find(&path.field("tin"), &labels, label)?))
            }
        };
        Some(Choice { group, method: method?, tin })
    }

    fn class_step(&mut self, path: &Path, shape: &ClassPlacementShape) -> Option<ClassPlacement> {
        let period = self.find(&path.field("period"), &self.names.periods, &shape.period)?;
        let (names, ids) = self.names.class_steps(period);
        let step = self.find(&path.field("step"), &names, &shape.step)?;
        let start = self.minute(path, "start", shape.start);
        let end = self.minute(path, "end", shape.end);
        Some(ClassPlacement { step: *ids.get(step)?, start: start?, end: end? })
    }

    fn step(
        &mut self,
        path: &Path,
        shape: &StepPlacementShape,
        method: impl Fn(GroupId) -> Option<MethodId>,
    ) -> Option<StepPlacement> {
        let group = self.group(path, &shape.group)?;
        let names = self.names.steps(group, method(group));
        let step = self.find(&path.field("step"), &names, &shape.step).map(StepId);
        let adult = match &shape.adult {
            None => None,
            Some(name) => Some(self.adult(path, name)?),
        };
        let pupils = self.numbers(&path.field("pupils"), "the number of a pupil", &shape.pupils);
        let start = self.minute(path, "start", shape.start);
        let end = self.minute(path, "end", shape.end);
        Some(StepPlacement { group, step: step?, start: start?, end: end?, pupils, adult })
    }

    fn setting(&mut self, path: &Path, shape: &SettingShape) -> Option<OvenSetting> {
        let oven = self.oven(path, &shape.oven);
        let celsius = self.celsius(path, shape.celsius);
        let set_at = self.minute(path, "set_at", shape.set_at);
        let hot_from = self.minute(path, "hot_from", shape.hot_from);
        let until = self.minute(path, "until", shape.until);
        Some(OvenSetting {
            oven: oven?,
            celsius: celsius?,
            set_at: set_at?,
            hot_from: hot_from?,
            until: until?,
        })
    }

    fn load(&mut self, path: &Path, shape: &LoadShape) -> Option<Load> {
        let group = self.group(path, &shape.group);
        let oven = self.oven(path, &shape.oven);
        let number = self.number(&path.field("number"), "the number of a tin", shape.number);
        let shelf = self.number(&path.field("shelf"), "the number of a shelf", shape.shelf);
        let celsius = self.celsius(path, shape.celsius);
        let start = self.minute(path, "start", shape.start);
        let end = self.minute(path, "end", shape.end);
        let place = self.place(path, shape);
        Some(Load {
            group: group?,
            number: number?,
            oven: oven?,
            shelf: ShelfId(usize::try_from(shelf?).ok()?),
            start: start?,
            end: end?,
            celsius: celsius?,
            place: place?,
        })
    }

    /// Where a tin stands: the corner of its rim, or its middle.
    fn place(&mut self, path: &Path, shape: &LoadShape) -> Option<Place> {
        match (shape.x_mm, shape.y_mm, shape.centre_mm) {
            (Some(x), Some(y), None) => {
                let x = self.fine(&path.field("x_mm"), x);
                let y = self.fine(&path.field("y_mm"), y);
                Some(Place::Corner { x: x?, y: y?, turned: shape.turned })
            }
            (None, None, Some((x, y))) if !shape.turned => {
                let path = path.field("centre_mm");
                let x = self.fine(&path.index(0), x);
                let y = self.fine(&path.index(1), y);
                Some(Place::Centre { x: x?, y: y? })
            }
            _ => {
                let message = "either `x_mm` and `y_mm` or `centre_mm` are to be given";
                let hint = "a round tin stands by its middle, which is not turned; any other by \
                            the left front corner of its rim";
                self.findings.error("tin-where", path, message, hint);
                None
            }
        }
    }

    fn fine(&mut self, path: &Path, mm: MmShape) -> Option<FineMillimetres> {
        let mm = self.findings.range(path, "where a tin stands in mm", mm.get(), (-20e3, 20e3))?;
        FineMillimetres::new(mm).ok()
    }

    fn kit_use(&mut self, path: &Path, shape: &UseShape) -> Option<KitUse> {
        let group = self.group(path, &shape.group);
        let of = match (&shape.kit, &shape.tin) {
            (Some(kit), None) => self.pool(path, kit, shape),
            (None, Some(tin)) => {
                let found = self.find(&path.field("tin"), &self.names.tins, tin);
                found.map(|t| Stock::Tin(TinId(t)))
            }
            _ => {
                let message = "either `kit` or `tin` is to be given";
                self.findings.error("use-of-what", path, message, "");
                None
            }
        };
        let items = self.numbers(&path.field("items"), "the number of an item", &shape.items);
        let start = self.minute(path, "start", shape.start);
        let end = self.minute(path, "end", shape.end);
        Some(KitUse { group: group?, of: of?, items, start: start?, end: end? })
    }

    fn pool(&mut self, path: &Path, kit: &str, shape: &UseShape) -> Option<Stock> {
        let names = self.names;
        if names.kit.position(kit).is_none() {
            let number = kit.strip_prefix('#').and_then(|n| n.parse::<usize>().ok());
            let number = number.and_then(|n| n.checked_sub(1));
            if let Some(n) = number.filter(|&n| n < names.lesson.kit_pools.len()) {
                return Some(Stock::Kit(PoolId(n)));
            }
        }
        let kind = self.find(&path.field("kit"), &names.kit, kit)?;
        let room = match &shape.room {
            None => None,
            Some(room) => Some(self.find(&path.field("room"), &names.rooms, room)?),
        };
        let pool = names.pool(kind, room, shape.unit.as_deref());
        if pool.is_none() {
            let message = format!("there is no kit {} in that place", quoted(kit));
            let hint = "give the `room`, and the `unit` if it belongs to one";
            self.findings.error("unknown-name", &path.field("kit"), message, hint);
        }
        pool.map(Stock::Kit)
    }

    fn watch(&mut self, path: &Path, shape: &WatchShape) -> Option<DoorWatch> {
        let oven = self.oven(path, &shape.oven);
        let adult = self.adult(path, &shape.adult);
        let minute = self.minute(path, "minute", shape.minute);
        Some(DoorWatch { oven: oven?, minute: minute?, adult: adult? })
    }

    fn not_served(&mut self, path: &Path, shape: &NotServedShape) -> Option<NotServed> {
        let group = self.group(path, &shape.group);
        let mut rules = Vec::new();
        for (i, name) in shape.rules.iter().enumerate() {
            self.find(&path.field("rules").index(i), &self.names.rules, name);
            rules.extend(Rule::named(name));
        }
        let refusal = match shape.refusal {
            RefusalShape::Cannot => Refusal::Cannot,
            RefusalShape::CannotAll => Refusal::CannotAll,
            RefusalShape::NotFound => Refusal::NotFound,
            RefusalShape::LeftOut => Refusal::LeftOut,
        };
        let (by, reason) = (shape.by.into(), shape.reason.clone());
        Some(NotServed { group: group?, refusal, by, rules, reason })
    }
}
