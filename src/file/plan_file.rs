//! Plans as files, read and written against their lesson.

use std::path::Path as FilePath;

use super::format::PLAN_FORMAT;
use super::load::{read_shapes, read_text};
use super::locate::Locator;
use super::plan_names::{PlanNames, called, meant};
use super::plan_shapes::{
    BoundsShape, ChoiceShape, ClassPlacementShape, LoadShape, MmShape, NotServedShape, PlanFile,
    RefusalShape, SettingShape, StepPlacementShape, UseShape, WatchShape,
};
use super::syntax;
use super::understand::findings::{Findings, quoted};
use super::understand::names::Names;
use crate::finding::{Finding, Path};
use crate::model::{
    AdultId, GroupId, Lesson, MethodId, OvenId, PoolId, ShelfId, StepId, TinChoiceId, TinId,
};
use crate::plan::{
    Bounds, Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting, Place, Plan,
    Refusal, Rule, StepPlacement, Stock,
};
use crate::units::{Celsius, FineMillimetres, Minute};

/// How far from the start bell a minute of a plan may lie: four weeks. Steps beforehand may begin
/// days before, and whoever reads a plan minute by minute must come to an end.
const FARTHEST_MINUTE: i32 = 28 * 24 * 60;

/// The text of a plan's file. Things are called by their names in the lesson.
pub fn write_plan(lesson: &Lesson, plan: &Plan) -> String {
    let names = PlanNames::new(lesson);
    let file = PlanWriter { names: &names, plan }.file();
    // Plain numbers and strings are never refused.
    syntax::written(&file).unwrap_or_else(|error| format!("// {error}\n"))
}

/// Reads a plan of a lesson from the text of its file.
///
/// # Errors
/// Everything in it that the lesson does not know.
pub fn read_plan(lesson: &Lesson, text: &str) -> Result<Plan, Vec<Finding>> {
    match read_what_is_known(lesson, text) {
        Ok((plan, findings)) if findings.is_empty() => Ok(plan),
        Ok((_, findings)) => Err(findings),
        Err(finding) => Err(vec![finding]),
    }
}

/// As [`read_plan`], but hands over what the lesson knows of the plan, beside what
/// it does not.
///
/// # Errors
/// If it is no plan of this format.
pub(super) fn read_what_is_known(
    lesson: &Lesson,
    text: &str,
) -> Result<(Plan, Vec<Finding>), Finding> {
    let text = syntax::without_mark(text);
    let locator = Locator::new(text);
    let file: PlanFile = read_shapes(text, &locator, ("plan", PLAN_FORMAT))?;
    let names = PlanNames::new(lesson);
    let mut reader = PlanReader { names: &names, findings: Findings::default() };
    let plan = reader.plan(&file);
    let mut findings = reader.findings.into_list();
    for finding in &mut findings {
        finding.place = Some(locator.place(&finding.path));
    }
    findings.sort_by_key(|f| f.place);
    Ok((plan, findings))
}

/// Whether a text reads as a plan, of whatever lesson.
pub fn is_plan(text: &str) -> bool {
    let text = syntax::without_mark(text);
    read_shapes::<PlanFile>(text, &Locator::new(text), ("plan", PLAN_FORMAT)).is_ok()
}

/// Reads a plan file of a lesson.
///
/// # Errors
/// As [`read_plan`], and if it cannot be read at all.
pub fn load_plan(path: &FilePath, lesson: &Lesson) -> Result<Plan, Vec<Finding>> {
    read_plan(lesson, &read_text(path).map_err(|f| vec![f])?)
}

/// Numbers in a file begin with 1.
fn from_one(numbers: &[u32]) -> Vec<u32> {
    numbers.iter().map(|n| n.saturating_add(1)).collect()
}

struct PlanWriter<'a> {
    names: &'a PlanNames<'a>,
    plan: &'a Plan,
}

impl PlanWriter<'_> {
    fn file(&self) -> PlanFile {
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

/// Reads shapes; a name that is not known is a finding, and its entry is
/// left out.
struct PlanReader<'a> {
    names: &'a PlanNames<'a>,
    findings: Findings,
}

impl PlanReader<'_> {
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
