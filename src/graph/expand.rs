//! From a lesson to whole-minute tasks.

use std::collections::HashMap;
use std::sync::Arc;

use super::expand_class::{adult_pool, class_tasks, near, period_task, pools};
use super::footprint::{Footprint, Pattern, Spot, pattern};
use super::orders::{beforehand, heads_and_tails, orders};
use super::packing::Space;
use super::problem::{
    BakeTask, BegunTin, Choice, Gap, GroupTask, HoldTask, Need, OvenBegun, OvenTask, PeriodTask,
    PoolOf, Problem, ShelfTask, Task, WhenDone,
};
use super::windows::Windows;
use crate::model::group_kind::GroupKind;
use crate::model::lesson::adults_for;
use crate::model::{
    AdultNeed, AtOvens, Begun, BegunBake, Group, GroupId, Hold, KitId, Lesson, LockedTo, Method,
    MethodId, Oven, OvenId, PeriodId, PoolId, RecipeId, RoomId, Step, StepKind, TinChoice,
    TinChoiceId, UnitId,
};
use crate::units::{Celsius, ExactMinutes, Minute};

/// Departure for another method than the group's first.
const OTHER_METHOD: u64 = 100;

/// The lesson as whole-minute tasks, links, resources and choices.
pub fn expand(lesson: &Lesson) -> Problem {
    let periods: Vec<PeriodTask> =
        (0..lesson.periods.len()).map(|i| period_task(lesson, PeriodId(i))).collect();
    let horizon = periods.iter().map(|p| p.end).max().unwrap_or(0);
    let pools = pools(lesson, horizon);
    let (fixed, floating) = class_tasks(lesson, &periods, &pools);
    let heats = heats(lesson);
    let ovens = ovens(lesson, &heats);
    let mut problem = Problem {
        horizon,
        groups: Vec::new(),
        ovens,
        heats,
        pools,
        periods,
        fixed,
        floating,
        call: lesson.rules.call.value.get().max(1),
        tins_per_opening: i32::try_from(lesson.rules.tins_per_opening.value).unwrap_or(4).max(1),
        happened: happened(lesson),
        adult_at_doors: lesson.rules.at_ovens == AtOvens::AtDoor,
        wanted_spare: lesson.rules.wanted_spare.value.get(),
        adult_near: (0..lesson.rooms.len()).map(|r| near(lesson, RoomId(r), horizon)).collect(),
    };
    let mut expander = Expander {
        lesson,
        problem: &problem,
        patterns: HashMap::new(),
        on_shelves: HashMap::new(),
        laid: HashMap::new(),
        options: HashMap::new(),
    };
    let mut groups: Vec<GroupTask> = lesson.attending().map(|g| expander.group(g)).collect();
    for i in 0..groups.len() {
        groups[i].like = (0..i).find(|&j| alike(lesson, &groups[j], &groups[i])).unwrap_or(i);
    }
    problem.groups = groups;
    problem
}

/// The minute of the last thing that happened on the day.
fn happened(lesson: &Lesson) -> Option<i32> {
    let day_starts = lesson.periods.first()?.start_clock;
    let all = lesson.today.iter().flat_map(|t| &t.happened);
    all.filter_map(|h| Some(h.at?.minutes_since(day_starts).get())).max()
}

/// Whether two groups differ in nothing but their names and what is only for
/// people to read.
fn alike(lesson: &Lesson, a: &GroupTask, b: &GroupTask) -> bool {
    let locked = |g: GroupId| lesson.locks.iter().any(|l| l.group == g);
    let unnamed =
        |g: GroupId| Group { name: String::new(), needs: Vec::new(), ..lesson.group(g).clone() };
    !locked(a.group)
        && !locked(b.group)
        && a.adults == b.adults
        && unnamed(a.group) == unnamed(b.group)
}

/// Whole minutes an oven takes from one temperature, or from cold, to another.
fn changes(oven: &Oven, heats: &[Celsius]) -> Vec<Vec<i32>> {
    let from = heats.iter().copied().map(Some).chain(std::iter::once(None));
    let minutes = |from, &to: &Celsius| oven.change_minutes(from, to).rounded_up().get();
    from.map(|from| heats.iter().map(|to| minutes(from, to)).collect()).collect()
}

fn ovens(lesson: &Lesson, heats: &[Celsius]) -> Vec<OvenTask> {
    let on_from = lesson.periods.iter().map(|p| p.ovens_on_from.get()).min().unwrap_or(0);
    let working = lesson.ovens.iter().enumerate().filter(|(_, o)| !o.out_of_order);
    working
        .map(|(i, oven)| OvenTask {
            oven: OvenId(i),
            unit: oven.unit,
            changes: changes(oven, heats),
            on_from: oven.on_from.map_or(on_from, Minute::get),
            out_from: oven.out_from.map(Minute::get),
            begun: lesson.begun.as_ref().map(|begun| oven_begun(begun, i, heats)),
            shelves: oven
                .shelves
                .iter()
                .map(|s| ShelfTask {
                    space: Space {
                        width: s.width.get(),
                        depth: s.depth.get(),
                        gap: oven.gap.value.get(),
                    },
                    clear: s.clear.get(),
                })
                .collect(),
        })
        .collect()
}

/// What an oven is set to in mid-lesson. At a temperature no recipe has any more
/// it counts as off: then it takes longest to be hot.
fn oven_begun(begun: &Begun, oven: usize, heats: &[Celsius]) -> OvenBegun {
    let set = begun.set.get(oven).copied().flatten();
    let known = |(celsius, hot): (Celsius, Minute)| {
        Some((heats.iter().position(|&h| h == celsius)?, hot.get()))
    };
    OvenBegun { by: begun.by.get(), set: set.and_then(known) }
}

/// Footprint and height of a tin.
type TinSize = (Footprint, i32);

/// Where such tins stand on the shelves of every oven, and how many at most.
type OnShelves = (Arc<Vec<Vec<Vec<Spot>>>>, Arc<Vec<Vec<usize>>>);

/// What the orders and times of a choice hang on: its method, its period, and
/// of each task the minutes, when it is done, its lock and what it waits for.
type LaidBy = (RecipeId, MethodId, usize, Vec<(i32, WhenDone, Option<i32>, Option<i32>)>);

/// The orders and times of a choice.
#[derive(Clone)]
struct LaidOut {
    ancestors: Vec<usize>,
    rest: Vec<usize>,
    windows: Windows,
    beforehand: Vec<(usize, i32, i32)>,
}

/// Expands groups; what several have in common is worked out once.
struct Expander<'a> {
    lesson: &'a Lesson,
    problem: &'a Problem,
    patterns: HashMap<(Footprint, Space), Pattern>,
    on_shelves: HashMap<TinSize, OnShelves>,
    laid: HashMap<LaidBy, LaidOut>,
    /// Of groups without locks.
    options: HashMap<GroupKind, Arc<Vec<Choice>>>,
}

impl Expander<'_> {
    fn group(&mut self, id: GroupId) -> GroupTask {
        let lesson = self.lesson;
        let group = lesson.group(id);
        let oven_lock = lesson.locks.iter().filter(|l| l.group == id).find_map(|l| match l.to {
            LockedTo::Oven(oven, shelf) => Some((oven, shelf)),
            _ => None,
        });
        let shelf = oven_lock.and_then(|(_, shelf)| shelf).map(|s| s.0);
        let oven = oven_lock.map(|(oven, _)| oven);
        GroupTask {
            group: id,
            like: 0,
            period: group.period.0,
            room: group.room,
            pupils: i32::try_from(group.pupils).unwrap_or(i32::MAX),
            before_all: false,
            keep_apart: group.keep_apart,
            options: self.options(id),
            ovens: self.ovens_for(id, group, oven),
            shelf,
            begun: self.begun_tins(id),
            adults: adults_for(lesson, id).map(|a| adult_pool(&self.problem.pools, a.0)).collect(),
        }
    }

    /// The bake of a group that has begun.
    fn begun(&self, id: GroupId) -> Option<&BegunBake> {
        self.lesson.begun.as_ref()?.bakes.iter().find(|bake| bake.group == id)
    }

    fn begun_tins(&self, id: GroupId) -> Vec<BegunTin> {
        let tins = self.begun(id).into_iter().flat_map(|bake| &bake.tins);
        let standing = tins.filter_map(|tin| {
            let oven = self.problem.ovens.iter().position(|o| o.oven == tin.oven)?;
            let spot = Spot { x: tin.left.get(), y: tin.front.get(), turned: tin.turned };
            Some(BegunTin { oven, shelf: tin.shelf.0, spot })
        });
        standing.collect()
    }

    /// The options of a group, shared with others of its kind.
    fn options(&mut self, id: GroupId) -> Arc<Vec<Choice>> {
        let lesson = self.lesson;
        if lesson.locks.iter().any(|l| l.group == id) {
            return Arc::new(self.own_options(id));
        }
        let kind = lesson.group(id).kind(lesson.recipe_of(id));
        if let Some(options) = self.options.get(&kind) {
            return Arc::clone(options);
        }
        let options = Arc::new(self.own_options(id));
        self.options.insert(kind, Arc::clone(&options));
        options
    }

    fn own_options(&mut self, id: GroupId) -> Vec<Choice> {
        let lesson = self.lesson;
        let group = lesson.group(id);
        let locked_to = |f: fn(&LockedTo) -> bool| {
            lesson.locks.iter().filter(move |l| l.group == id).map(|l| &l.to).find(|t| f(t))
        };
        let mut options = Vec::new();
        for (place, &method) in group.methods.iter().enumerate() {
            let far = if place == 0 { 0 } else { OTHER_METHOD };
            if let Some(LockedTo::Method(m)) = locked_to(|t| matches!(t, LockedTo::Method(_)))
                && *m != method
            {
                continue;
            }
            if !has_locked_steps(lesson, id, method) {
                continue;
            }
            let locked_tin = locked_to(|t| matches!(t, LockedTo::Tin(_)));
            if lesson.method_of(id, method).bake_steps().is_none() {
                if locked_tin.is_some() {
                    continue;
                }
                options.push(self.choice(id, method, None, far));
                continue;
            }
            for (place, &tin) in group.tins.iter().enumerate() {
                if let Some(LockedTo::Tin(t)) = locked_tin
                    && *t != tin
                {
                    continue;
                }
                let choice = lesson.tin_choice_of(id, tin);
                let place = u64::try_from(place).unwrap_or(u64::MAX);
                if choice.goes_with(method) && !self.too_full(id, choice) {
                    let begun = self.begun(id).map(|bake| bake.celsius);
                    let may = |celsius: &Celsius| begun.is_none_or(|begun| begun == *celsius);
                    for celsius in choice.temperatures().filter(may) {
                        options.push(self.choice(id, method, Some((tin, celsius)), far + place));
                    }
                }
            }
        }
        options.sort_by_key(|o| o.departure);
        options
    }

    fn too_full(&self, id: GroupId, choice: &TinChoice) -> bool {
        let recipe = self.lesson.recipe_of(id);
        let tin = &self.lesson.tins[choice.tin.0];
        match (recipe.batter, tin.capacity) {
            (Some(batter), Some(capacity)) => {
                let room = f64::from(choice.count) * capacity.value.get();
                batter.value.get() * choice.batch > room * recipe.bake.fill_limit.value + 1e-9
            }
            _ => false,
        }
    }

    fn ovens_for(&self, id: GroupId, group: &Group, only: Option<OvenId>) -> Vec<usize> {
        let usable = |o: &OvenTask| {
            self.lesson.may_use_oven(id, o.oven) && only.is_none_or(|only| only == o.oven)
        };
        let mut ovens: Vec<usize> =
            (0..self.problem.ovens.len()).filter(|&i| usable(&self.problem.ovens[i])).collect();
        ovens.sort_by_key(|&i| nearness(group.unit, self.problem.ovens[i].unit));
        ovens
    }

    fn need(&self, id: GroupId, kit: KitId, count: u32) -> Need {
        let lesson = self.lesson;
        let group = lesson.group(id);
        let mut pools: Vec<usize> = (0..lesson.kit_pools.len())
            .filter(|&p| lesson.kit_pools[p].kit == kit && lesson.may_use_pool(id, PoolId(p)))
            .collect();
        pools.sort_by_key(|&p| {
            let pool = &lesson.kit_pools[p];
            (pool.room.is_none(), nearness(group.unit, pool.unit))
        });
        Need {
            pools,
            count: i32::try_from(count).unwrap_or(i32::MAX),
            kept_apart: lesson.kit_kinds[kit.0].touches_food && !lesson.rules.washed_is_unused,
        }
    }

    fn choice(
        &mut self,
        id: GroupId,
        method_id: MethodId,
        baked: Option<(TinChoiceId, Celsius)>,
        departure: u64,
    ) -> Choice {
        let lesson = self.lesson;
        let method = lesson.method_of(id, method_id);
        let tin = baked.map(|(t, celsius)| (lesson.tin_choice_of(id, t), celsius));
        let mut tasks: Vec<Task> =
            (0..method.steps.len()).map(|i| self.task(id, method, i, tin)).collect();
        heads_and_tails(&mut tasks);
        let mut holds: Vec<HoldTask> = method
            .holds
            .iter()
            .map(|h: &Hold| HoldTask {
                need: self.need(id, h.kit, h.count),
                from: h.from.0,
                to: h.to.0,
            })
            .collect();
        if let (Some((from, to)), Some((tin, _))) = (method.tin_held, tin) {
            let of = PoolOf::Tin(tin.tin, lesson.group(id).room);
            if let Some(pool) = self.problem.pools.iter().position(|p| p.of == of) {
                let count = i32::try_from(tin.count).unwrap_or(i32::MAX);
                let kept_apart = !lesson.rules.washed_is_unused;
                let need = Need { pools: vec![pool], count, kept_apart };
                holds.push(HoldTask { need, from: from.0, to: to.0 });
            }
        }
        let bake = tin.and_then(|(t, celsius)| self.bake(id, method, t, celsius, &tasks));
        let laid = self.laid_out(id, method_id, &tasks, bake.as_ref());
        let LaidOut { ancestors, rest, windows, beforehand } = laid;
        Choice {
            method: method_id,
            tin: baked.map(|(tin, _)| tin),
            departure,
            tasks,
            bake,
            holds,
            ancestors,
            rest,
            beforehand,
            windows,
        }
    }

    /// The orders and times of a choice's tasks.
    fn laid_out(
        &mut self,
        id: GroupId,
        method_id: MethodId,
        tasks: &[Task],
        bake: Option<&BakeTask>,
    ) -> LaidOut {
        let group = self.lesson.group(id);
        let of = tasks.iter().map(|t| (t.minutes, t.when, t.locked, t.not_before)).collect();
        let by: LaidBy = (group.recipe, method_id, group.period.0, of);
        if let Some(laid) = self.laid.get(&by) {
            return laid.clone();
        }
        let (ancestors, rest) = orders(self.lesson.method_of(id, method_id), tasks, bake);
        let of_bake = bake.map(|b| [b.load, b.bake, b.out]);
        let windows = Windows::new(tasks, of_bake, &self.problem.periods[group.period.0]);
        let beforehand = beforehand(tasks, &windows);
        let laid = LaidOut { ancestors, rest, windows, beforehand };
        self.laid.insert(by, laid.clone());
        laid
    }

    /// Where tins of a size stand on the shelves.
    fn on_shelves(&mut self, (footprint, height): TinSize) -> OnShelves {
        if let Some(known) = self.on_shelves.get(&(footprint, height)) {
            return known.clone();
        }
        let (mut spots, mut at_most) = (Vec::new(), Vec::new());
        for oven in &self.problem.ovens {
            let of_shelf = oven.shelves.iter().map(|shelf| {
                if height > shelf.clear {
                    return Pattern { spots: Vec::new(), at_most: 0 };
                }
                self.patterns
                    .entry((footprint, shelf.space))
                    .or_insert_with(|| pattern(footprint, shelf.space))
                    .clone()
            });
            let found: Vec<Pattern> = of_shelf.collect();
            at_most.push(found.iter().map(|p| p.at_most).collect());
            spots.push(found.into_iter().map(|p| p.spots).collect());
        }
        let found: OnShelves = (Arc::new(spots), Arc::new(at_most));
        self.on_shelves.insert((footprint, height), found.clone());
        found
    }

    fn task(
        &self,
        id: GroupId,
        method: &Method,
        index: usize,
        tin: Option<(&TinChoice, Celsius)>,
    ) -> Task {
        let lesson = self.lesson;
        let group = lesson.group(id);
        let step = &method.steps[index];
        let (minutes, quick) = lengths(lesson, group, step, tin);
        let when = if group.beforehand.contains(&step.name) && step.may_be_beforehand {
            WhenDone::Beforehand
        } else if group.collected.contains(&step.name) && step.may_be_collected {
            WhenDone::Collected
        } else {
            WhenDone::InLesson
        };
        let here = when == WhenDone::InLesson;
        let pupils = if here { step.pupils.of(group.pupils) } else { 0 };
        let locked = lesson.locks.iter().find_map(|l| match &l.to {
            LockedTo::Start(name, at) if l.group == id && *name == step.name => Some(at.get()),
            _ => None,
        });
        let gap = |task: usize, link: &crate::model::Link| Gap {
            task,
            least: link.least.rounded_up().get(),
            longest: link.longest.map(|m| rounded_down(m.value)),
        };
        Task {
            step: crate::model::StepId(index),
            kind: step.kind,
            minutes,
            quick,
            pupils: i32::try_from(pupils).unwrap_or(i32::MAX),
            needs: if here {
                step.kit.iter().map(|&(kit, count)| self.need(id, kit, count)).collect()
            } else {
                Vec::new()
            },
            with_adult: here && step.adult == AdultNeed::With,
            adult_near: here && step.adult == AdultNeed::Near,
            when,
            locked,
            not_before: lesson.begun.as_ref().filter(|_| here).map(|begun| {
                let of_step = begun.not_before.iter().find(|(g, s, _)| *g == id && *s == step.name);
                of_step.map_or(begun.by, |(_, _, at)| *at).get()
            }),
            before: links(method, |l| (l.to.0 == index).then_some(l.from.0), gap),
            after: links(method, |l| (l.from.0 == index).then_some(l.to.0), gap),
            head: 0,
            tail: 0,
        }
    }

    fn bake(
        &mut self,
        id: GroupId,
        method: &Method,
        choice: &TinChoice,
        celsius: Celsius,
        tasks: &[Task],
    ) -> Option<BakeTask> {
        let (load, bake, out) = method.bake_steps()?;
        let recipe = self.lesson.recipe_of(id);
        let tin = &self.lesson.tins[choice.tin.0];
        let footprint = Footprint::of(tin);
        let shut = recipe.bake.shut.map(|shut| {
            let share = recipe.bake.shut_share * f64::from(tasks[bake.0].minutes);
            let least = shut.value.get().min(share);
            ExactMinutes::new(least).unwrap_or_default().rounded_up().get()
        });
        let height = tin.height.get();
        let (patterns, at_most) = self.on_shelves((footprint, height));
        Some(BakeTask {
            load: load.0,
            bake: bake.0,
            out: out.0,
            tins: i32::try_from(choice.count).unwrap_or(i32::MAX).max(1),
            footprint,
            height,
            heat: heat(&self.problem.heats, celsius),
            own_heat: celsius == choice.celsius,
            shut,
            patterns,
            at_most,
        })
    }
}

/// Whether a method has every step whose start is locked.
fn has_locked_steps(lesson: &Lesson, id: GroupId, method: MethodId) -> bool {
    let method = lesson.method_of(id, method);
    lesson.locks.iter().filter(|l| l.group == id).all(|l| match &l.to {
        LockedTo::Start(name, _) => method.step_named(name).is_some(),
        _ => true,
    })
}

fn nearness(own: Option<UnitId>, unit: Option<UnitId>) -> u8 {
    match unit {
        Some(u) if own == Some(u) => 0,
        None => 1,
        Some(_) => 2,
    }
}

/// The temperatures at which tins of the lesson can bake, each once: first
/// those that recipes name.
fn heats(lesson: &Lesson) -> Vec<Celsius> {
    let tins = || lesson.recipes.iter().flat_map(|r| &r.tins);
    let mut heats: Vec<Celsius> = Vec::new();
    for celsius in tins().map(|t| t.celsius).chain(tins().flat_map(TinChoice::temperatures)) {
        if !heats.contains(&celsius) {
            heats.push(celsius);
        }
    }
    heats
}

fn heat(heats: &[Celsius], celsius: Celsius) -> usize {
    heats.iter().position(|&h| h == celsius).unwrap_or(0)
}

#[allow(clippy::cast_possible_truncation)] // the type bounds it to a day
fn rounded_down(minutes: ExactMinutes) -> i32 {
    (minutes.get() + 1e-6).floor() as i32
}

fn links(
    method: &Method,
    other: impl Fn(&crate::model::Link) -> Option<usize>,
    gap: impl Fn(usize, &crate::model::Link) -> Gap,
) -> Vec<Gap> {
    method.links.iter().filter_map(|l| other(l).map(|task| gap(task, l))).collect()
}

/// Planned whole minutes and quick unrounded ones of a step for a group. A
/// bake without minutes never gets here.
fn lengths(
    lesson: &Lesson,
    group: &Group,
    step: &Step,
    tin: Option<(&TinChoice, Celsius)>,
) -> (i32, f64) {
    if let Some(told) = group.baked_for.filter(|_| step.kind == StepKind::Bake) {
        return (told.get(), f64::from(told.get()));
    }
    let celsius = tin.map_or(Celsius::BAKING, |(_, celsius)| celsius);
    let tin = tin.map(|(tin, _)| tin);
    let Some(three) = lesson.minutes_at(step, tin, celsius) else { return (0, 0.0) };
    let pace = if step.kind.is_hand() { group.pace } else { 1.0 };
    let usual = three.with_caution(lesson.rules.caution).times(pace).rounded_up().get();
    let quick = three.quick().times(pace).get();
    let moved = matches!(step.kind, StepKind::Load | StepKind::TakeOut);
    let openings = match tin {
        Some(tin) if moved => tin.count.div_ceil(lesson.rules.tins_per_opening.value.max(1)),
        _ => 0,
    };
    (usual.max(i32::try_from(openings).unwrap_or(0)), quick)
}
