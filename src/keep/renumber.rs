//! The things of one lesson by the numbers another gives them, found by name.

use crate::model::{
    AdultId, ClassStepId, GroupId, KitPool, Lesson, LockedTo, Method, MethodId, OvenId, PeriodId,
    PoolId, Recipe, ShelfId, StepId, TinChoiceId, TinId,
};
use crate::plan::{
    Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting, Plan, StepPlacement,
    Stock,
};

/// Where each thing of a lesson stands in another; `None` where it has gone.
pub struct Renumber<'a> {
    from: &'a Lesson,
    to: &'a Lesson,
    groups: Moved,
    ovens: Moved,
    adults: Moved,
    periods: Moved,
    tins: Moved,
    pools: Moved,
    class_steps: Moved,
}

/// The new position for each old one.
type Moved = Vec<Option<usize>>;

impl<'a> Renumber<'a> {
    /// From the numbers of one lesson to those of another.
    pub fn new(from: &'a Lesson, to: &'a Lesson) -> Self {
        let periods = moved(&from.periods, &to.periods, |period| period.name.as_str());
        Self {
            from,
            to,
            groups: moved(&from.groups, &to.groups, |group| group.name.as_str()),
            ovens: moved(&from.ovens, &to.ovens, |oven| oven.name.as_str()),
            adults: moved(&from.adults, &to.adults, |adult| adult.name.as_str()),
            tins: moved(&from.tins, &to.tins, |tin| tin.name.as_str()),
            pools: pools(from, to),
            class_steps: class_steps(from, to, &periods),
            periods,
        }
    }

    /// A group.
    pub fn group(&self, id: GroupId) -> Option<GroupId> {
        self.groups.get(id.0).copied().flatten().map(GroupId)
    }

    /// The group that stands there now, by its old number.
    pub fn group_before(&self, id: GroupId) -> Option<GroupId> {
        self.groups.iter().position(|&now| now == Some(id.0)).map(GroupId)
    }

    /// An oven.
    pub fn oven(&self, id: OvenId) -> Option<OvenId> {
        self.ovens.get(id.0).copied().flatten().map(OvenId)
    }

    /// A period.
    pub fn period(&self, id: PeriodId) -> Option<PeriodId> {
        self.periods.get(id.0).copied().flatten().map(PeriodId)
    }

    /// A step of the class.
    pub fn class_step(&self, id: ClassStepId) -> Option<ClassStepId> {
        self.class_steps.get(id.0).copied().flatten().map(ClassStepId)
    }

    /// A method of what a group makes.
    pub fn method(&self, group: GroupId, id: MethodId) -> Option<MethodId> {
        let (from, to) = self.recipes(group)?;
        position(&from.methods, &to.methods, id.0, |method| method.name.as_str()).map(MethodId)
    }

    /// A tin choice of what a group makes.
    pub fn tin_choice(&self, group: GroupId, id: TinChoiceId) -> Option<TinChoiceId> {
        let (from, to) = self.recipes(group)?;
        position(&from.tins, &to.tins, id.0, |tin| tin.label.as_str()).map(TinChoiceId)
    }

    /// A lock of a group that makes the same recipe as before, its minutes as
    /// they are. Where an oven has fewer shelves than the lock says, any will
    /// do.
    pub fn lock(&self, group: GroupId, to: &LockedTo) -> Option<LockedTo> {
        Some(match to {
            LockedTo::Start(step, at) => LockedTo::Start(step.clone(), *at),
            LockedTo::Tin(tin) => LockedTo::Tin(self.tin_choice(group, *tin)?),
            LockedTo::Method(method) => LockedTo::Method(self.method(group, *method)?),
            LockedTo::Oven(oven, shelf) => {
                let oven = self.oven(*oven)?;
                let shelves = self.to.ovens[oven.0].shelves.len();
                LockedTo::Oven(oven, shelf.filter(|s: &ShelfId| s.0 < shelves))
            }
        })
    }

    /// A plan, its minutes as they are; `None` if it speaks of something that
    /// has gone.
    pub fn plan(&self, plan: &Plan) -> Option<Plan> {
        Some(Plan {
            choices: each(&plan.choices, |c| self.choice(c))?,
            steps: each(&plan.steps, |s| self.step(plan, s))?,
            loads: each(&plan.loads, |l| {
                Some(Load { group: self.group(l.group)?, oven: self.oven(l.oven)?, ..l.clone() })
            })?,
            uses: each(&plan.uses, |u| self.kit_use(u))?,
            class_steps: each(&plan.class_steps, |c| {
                Some(ClassPlacement { step: self.class_step(c.step)?, ..*c })
            })?,
            settings: each(&plan.settings, |s| {
                Some(OvenSetting { oven: self.oven(s.oven)?, ..*s })
            })?,
            door_watches: each(&plan.door_watches, |w| {
                Some(DoorWatch { oven: self.oven(w.oven)?, adult: self.adult(w.adult)?, ..*w })
            })?,
            not_served: each(&plan.not_served, |n| {
                Some(NotServed { group: self.group(n.group)?, ..n.clone() })
            })?,
            bounds: plan.bounds,
        })
    }

    fn adult(&self, id: AdultId) -> Option<AdultId> {
        self.adults.get(id.0).copied().flatten().map(AdultId)
    }

    /// What a group made and makes.
    fn recipes(&self, group: GroupId) -> Option<(&'a Recipe, &'a Recipe)> {
        Some((self.from.recipe_of(group), self.to.recipe_of(self.group(group)?)))
    }

    fn choice(&self, choice: &Choice) -> Option<Choice> {
        let tin = match choice.tin {
            None => None,
            Some(tin) => Some(self.tin_choice(choice.group, tin)?),
        };
        let method = self.method(choice.group, choice.method)?;
        Some(Choice { group: self.group(choice.group)?, method, tin })
    }

    fn step(&self, plan: &Plan, placed: &StepPlacement) -> Option<StepPlacement> {
        let method = plan.choice(placed.group)?.method;
        let (from, to) = self.recipes(placed.group)?;
        let (was, is): (&Method, &Method) =
            (from.methods.get(method.0)?, to.methods.get(self.method(placed.group, method)?.0)?);
        let step = position(&was.steps, &is.steps, placed.step.0, |step| step.name.as_str())?;
        let adult = match placed.adult {
            None => None,
            Some(adult) => Some(self.adult(adult)?),
        };
        let group = self.group(placed.group)?;
        Some(StepPlacement { group, step: StepId(step), adult, ..placed.clone() })
    }

    fn kit_use(&self, used: &KitUse) -> Option<KitUse> {
        let of = match used.of {
            Stock::Kit(pool) => Stock::Kit(PoolId(self.pools.get(pool.0).copied().flatten()?)),
            Stock::Tin(tin) => Stock::Tin(TinId(self.tins.get(tin.0).copied().flatten()?)),
        };
        Some(KitUse { group: self.group(used.group)?, of, ..used.clone() })
    }
}

fn each<T>(all: &[T], one: impl Fn(&T) -> Option<T>) -> Option<Vec<T>> {
    all.iter().map(one).collect()
}

fn moved<T>(from: &[T], to: &[T], name: impl Fn(&T) -> &str + Copy) -> Moved {
    (0..from.len()).map(|at| position(from, to, at, name)).collect()
}

/// Where the thing at a position stands in another list. What shares its name
/// with one before it keeps its number.
fn position<T>(from: &[T], to: &[T], at: usize, name: impl Fn(&T) -> &str) -> Option<usize> {
    let own = name(from.get(at)?);
    let named = |list: &[T]| list.iter().position(|thing| name(thing) == own);
    if named(from) == Some(at) { named(to) } else { (at < to.len()).then_some(at) }
}

/// Steps of the class are found within their period.
fn class_steps(from: &Lesson, to: &Lesson, periods: &Moved) -> Moved {
    let of = |lesson: &'_ Lesson, period: usize| -> Vec<usize> {
        let steps = lesson.class_steps.iter().enumerate();
        steps.filter(|(_, s)| s.period.0 == period).map(|(i, _)| i).collect()
    };
    let mut all = vec![None; from.class_steps.len()];
    for (period, now) in periods.iter().enumerate() {
        let Some(now) = now else { continue };
        let (was, is) = (of(from, period), of(to, *now));
        let names = |lesson: &'_ Lesson, ids: &[usize]| -> Vec<String> {
            ids.iter().map(|&i| lesson.class_steps[i].name.clone()).collect()
        };
        let found = moved(&names(from, &was), &names(to, &is), |name| name.as_str());
        for (step, found) in was.iter().zip(found) {
            all[*step] = found.map(|f| is[f]);
        }
    }
    all
}

/// Kit is found by what it is and where: its room, and its unit if it belongs
/// to one.
fn pools(from: &Lesson, to: &Lesson) -> Moved {
    let place = |lesson: &'_ Lesson, pool: &KitPool| -> [Option<String>; 3] {
        [
            Some(lesson.kit_kinds[pool.kit.0].name.clone()),
            pool.room.map(|room| lesson.rooms[room.0].name.clone()),
            pool.unit.map(|unit| lesson.units[unit.0].name.clone()),
        ]
    };
    let places = |lesson: &Lesson| -> Vec<[Option<String>; 3]> {
        lesson.kit_pools.iter().map(|pool| place(lesson, pool)).collect()
    };
    let (was, is) = (places(from), places(to));
    let named = |list: &[[Option<String>; 3]], own| list.iter().position(|place| place == own);
    let one = |(at, own)| match named(&was, own) == Some(at) {
        true => named(&is, own),
        false => (at < is.len()).then_some(at),
    };
    was.iter().enumerate().map(one).collect()
}
