//! All places at once, for a first look while something is dragged: each is
//! tried with all others where they are, and then with others free to move.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::alone::{has_way, only};
use super::drop::LockChange;
use super::lift::Lift;
use super::others::Others;
use super::put::as_it_is;
use super::why::Case;
use super::{AtHand, Fit, Spot, SpotRow, Thing};
use crate::graph::problem::{Choice, GroupTask, PeriodTask, WhenDone};
use crate::graph::{Problem, expand};
use crate::model::{GroupId, Lesson, LockedTo, OvenId, ShelfId};
use crate::plan::{Plan, Rule};
use crate::planner::explain::windows;
use crate::planner::{Trial, serve_all};
use crate::units::Minute;

/// Plans built before a group is said to have no place even by itself.
const TRIES: u64 = 150;

/// Looks at every minute of the group's period, for a bake at every oven and
/// shelf, and hands over each row as it comes; ends early when `stop` is set.
pub fn spots(
    (_, lesson, plan): AtHand<'_>,
    thing: Thing,
    stop: &AtomicBool,
    mut each: impl FnMut(&SpotRow),
) {
    let group = thing.group();
    let now = as_it_is(lesson, plan, group, stop);
    let places: Vec<Option<(OvenId, ShelfId)>> = match thing {
        Thing::Step(..) | Thing::Row(_) => vec![None],
        Thing::Bake(_) => {
            let ovens = lesson.ovens.iter().enumerate();
            let on = |(o, oven): (usize, &crate::model::Oven)| {
                (0..oven.shelves.len()).map(move |s| Some((OvenId(o), ShelfId(s))))
            };
            ovens.flat_map(on).collect()
        }
    };
    let Some(look) = Look::new(Others::new(lesson, plan, group), &now, thing, stop) else { return };
    let mut known = Known::new();
    for place in places {
        if stop.load(Ordering::Relaxed) {
            return;
        }
        if let Some(fits) = look.row(place, &mut known) {
            each(&SpotRow { place, fits });
        }
    }
}

/// On which side of its bounds something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    InOpening,
    Early,
    Late,
    Else,
}

/// What had to be lifted on each side, and the rule that is told.
type Known = BTreeMap<Side, (Vec<Lift>, Rule)>;

/// What is looked at, with nothing held of the thing itself.
struct Look<'a> {
    table: Others<'a>,
    now: &'a Plan,
    thing: Thing,
    stop: &'a AtomicBool,
    cleared: Lesson,
    /// With all others where they are.
    held: Problem,
    /// With all others free to move.
    free: Problem,
    /// Without others but for those that keep their places in any case.
    alone: Problem,
    staying: Vec<GroupId>,
}

/// The thing at one minute of one place.
struct Variant {
    at: Minute,
    drop: LockChange,
    /// It, as a position in the problems; `None` if bells, links and locks
    /// leave it no way.
    held: Option<usize>,
    free: Option<usize>,
}

impl<'a> Look<'a> {
    fn new(table: Others<'a>, now: &'a Plan, thing: Thing, stop: &'a AtomicBool) -> Option<Self> {
        // A spot that says all it can, so that all of that is let go.
        let place = matches!(thing, Thing::Bake(_)).then_some((OvenId(0), None));
        let spot = Spot { at: Some(Minute::BELL), place };
        let drop = LockChange::of(table.lesson, now, thing, spot);
        let cleared = LockChange { locks: Vec::new(), ..drop }.on_lesson(table.lesson)?;
        let held = expand(&table.held(&cleared)?);
        let free = expand(&cleared);
        let staying = table.staying();
        let alone = expand(&only(&cleared, &staying)?);
        Some(Self { table, now, thing, stop, cleared, held, free, alone, staying })
    }

    fn position(problem: &Problem, group: GroupId) -> Option<usize> {
        problem.groups.iter().position(|g| g.group == group)
    }

    /// `None` if it was stopped.
    fn row(
        &self,
        place: Option<(OvenId, ShelfId)>,
        known: &mut Known,
    ) -> Option<Vec<(Minute, Fit)>> {
        let group = self.table.group;
        let own = &self.table.lesson.periods[self.table.lesson.group(group).period.0];
        let (mut held, mut free) = (self.held.clone(), self.free.clone());
        let minutes = own.start.get()..own.end.get();
        let mut variant = |minute: i32| {
            let at = Minute::new(minute);
            let spot = Spot { at: Some(at), place: place.map(|(oven, shelf)| (oven, Some(shelf))) };
            let drop = LockChange::of(self.table.lesson, self.now, self.thing, spot);
            let add = |problem: &mut Problem| add(&self.cleared, problem, &drop);
            let (held, free) = (add(&mut held), add(&mut free));
            Variant { at, drop, held, free }
        };
        let variants: Vec<Variant> = minutes.map(&mut variant).collect();
        let mut trials = Trials::new(self, &held, &free)?;
        let mut last: Option<(Vec<Lift>, Rule)> = None;
        let mut fits = Vec::new();
        for variant in &variants {
            if self.stop.load(Ordering::Relaxed) {
                return None;
            }
            let fit = match (variant.held, variant.free) {
                (Some(h), Some(f)) => {
                    trials.fit(h, f).unwrap_or_else(|| self.by_itself(variant, &mut last))
                }
                _ => Fit::Refused(self.at_once(variant, place, known)),
            };
            fits.push((variant.at, fit));
        }
        Some(fits)
    }

    /// The rule by which bells, links, locks and ovens leave no way.
    fn at_once(
        &self,
        variant: &Variant,
        place: Option<(OvenId, ShelfId)>,
        known: &mut Known,
    ) -> Rule {
        let group = self.table.group;
        let of = Self::position(&self.free, group).map(|g| &self.free.groups[g]);
        let Some(of) = of else { return Rule::WholeGroup };
        if let Some((oven, shelf)) = place {
            let working = self.free.ovens.iter().position(|o| o.oven == oven);
            let Some(working) = working.filter(|o| of.ovens.contains(o)) else {
                return Rule::OneOven;
            };
            let bakes = of.options.iter().filter_map(|o| o.bake.as_ref());
            let holds = |b: &crate::graph::problem::BakeTask| {
                b.at_most[working]
                    .get(shelf.0)
                    .is_some_and(|&n| n >= usize::try_from(b.tins).unwrap_or(0))
            };
            if !bakes.clone().any(holds) {
                return Rule::Shelf;
            }
        }
        let period = &self.free.periods[of.period];
        let side = |o: &Choice| early_or_late(&self.cleared, of, o, &variant.drop, period);
        let side = of.options.iter().find_map(side).unwrap_or(Side::Else);
        let last = known.get(&side);
        match self.reason(variant, last) {
            Some(found) => known.entry(side).insert_entry(found).get().1,
            None => Rule::Order,
        }
    }

    /// Whether it can be there without the others; else the rule.
    fn by_itself(&self, variant: &Variant, last: &mut Option<(Vec<Lift>, Rule)>) -> Fit {
        let mut alone = self.alone.clone();
        let found = add(&self.cleared, &mut alone, &variant.drop).and_then(|v| {
            let own = Self::position(&alone, self.table.group)?;
            // It stands last, and takes its own place.
            alone.groups[v].like = own;
            alone.groups.swap_remove(own);
            alone.groups.iter().all(has_way).then(|| serve_all(&alone, (TRIES, 1), self.stop))?
        });
        if found.is_some() {
            return Fit::AtACost;
        }
        let reason = self.reason(variant, last.as_ref());
        Fit::Refused(reason.map_or(Rule::Locked, |found| last.insert(found).1))
    }

    /// What has to be lifted, and the rule that is told; what was lifted at the
    /// minute before is tried first.
    fn reason(
        &self,
        variant: &Variant,
        last: Option<&(Vec<Lift>, Rule)>,
    ) -> Option<(Vec<Lift>, Rule)> {
        let after = Arc::new(variant.drop.on_lesson(self.table.lesson)?);
        let staying = self.staying.clone();
        let case = Case { after, drop: &variant.drop, staying, stop: self.stop };
        if let Some((lifts, rule)) = last
            && case.is_enough(lifts)
        {
            return Some((lifts.clone(), *rule));
        }
        case.reason().map(|reason| (reason.lifts, reason.rule))
    }
}

/// On which side of what the steps before or after it leave it, or of a bell,
/// something is.
fn early_or_late(
    lesson: &Lesson,
    group: &GroupTask,
    option: &Choice,
    drop: &LockChange,
    period: &PeriodTask,
) -> Option<Side> {
    let method = lesson.method_of(group.group, option.method);
    let unplaced = vec![i32::MIN; option.tasks.len()];
    drop.locks.iter().find_map(|lock| {
        let LockedTo::Start(name, at) = lock else { return None };
        let task = method.step_named(name)?.0;
        let of = &option.tasks[task];
        let (earliest, latest) = option.windows.of(task, &unplaced, i32::MIN);
        let in_opening = of.kind.is_hand() && of.when == WhenDone::InLesson;
        if at.get() > latest {
            return Some(Side::Late);
        }
        (at.get() < earliest).then_some(match in_opening && at.get() < period.opening_end {
            true => Side::InOpening,
            false => Side::Early,
        })
    })
}

/// Adds the moved group once more, with the locks of a drop; `None` if they
/// leave it no way.
fn add(lesson: &Lesson, problem: &mut Problem, drop: &LockChange) -> Option<usize> {
    let own = problem.groups.iter().find(|g| g.group == drop.group)?;
    let mut group = own.clone();
    let period = &problem.periods[group.period];
    let options = Arc::make_mut(&mut group.options);
    for lock in &drop.locks {
        match lock {
            LockedTo::Method(method) => options.retain(|o| o.method == *method),
            LockedTo::Tin(tin) => options.retain(|o| o.tin.is_none_or(|t| t == *tin)),
            LockedTo::Oven(oven, shelf) => {
                group.ovens.retain(|&o| problem.ovens[o].oven == *oven);
                group.shelf = shelf.map(|s| s.0);
            }
            LockedTo::Start(name, at) => options.retain_mut(|option| {
                let method = lesson.method_of(drop.group, option.method);
                let step = method.step_named(name);
                if let Some(step) = step {
                    option.tasks[step.0].locked = Some(at.get());
                }
                step.is_some()
            }),
        }
    }
    options.iter_mut().for_each(|option| windows(option, period));
    group.like = problem.groups.len();
    let has_way = has_way(&group);
    problem.groups.push(group);
    has_way.then(|| problem.groups.len() - 1)
}

/// Plans built for one row.
struct Trials<'p> {
    table: &'p Others<'p>,
    held: Trial<'p>,
    /// Another that stays as it is, with all others in it.
    base: Option<Trial<'p>>,
    free: Trial<'p>,
    problem: &'p Problem,
    others: Vec<usize>,
    /// Others by their positions where they are free to move.
    loose: Vec<usize>,
    staying: Vec<usize>,
}

impl<'p> Trials<'p> {
    fn new(look: &'p Look<'_>, problem: &'p Problem, loose: &'p Problem) -> Option<Self> {
        let table = &look.table;
        let at = |problem: &Problem, g: &GroupId| Look::position(problem, *g);
        let others: Vec<usize> = table.others.iter().filter_map(|g| at(problem, g)).collect();
        let held = Trial::new(problem)?;
        let mut base = held.clone();
        base.build(&others);
        let base = Some(base).filter(|b| table.are_back(problem, &others, b));
        let mut free = Trial::new(loose)?;
        free.want_floats(&table.floats(loose));
        let all = table.others.iter().filter_map(|g| at(loose, g));
        let all: Vec<usize> = all.collect();
        for &g in &all {
            if let Some(like_now) = as_now(table, loose, g) {
                free.prefer(g, like_now);
            }
        }
        let staying = look.staying.iter().filter(|g| **g != table.group);
        let staying = staying.filter_map(|g| at(loose, g)).collect();
        Some(Self { table, held, base, free, problem, others, loose: all, staying })
    }

    /// What it takes; `None` if it, or another that keeps its place in any
    /// case, found none.
    fn fit(&mut self, held: usize, free: usize) -> Option<Fit> {
        if self.base.as_mut().is_some_and(|b| b.has_room(held)) {
            return Some(Fit::Stays);
        }
        let first: Vec<usize> = std::iter::once(held).chain(self.others.iter().copied()).collect();
        self.held.build(&first);
        if self.held.serves(held) && self.table.are_back(self.problem, &self.others, &self.held) {
            return Some(Fit::Stays);
        }
        let rest = |staying: &[usize]| {
            self.loose.iter().copied().filter(|g| !staying.contains(g)).collect::<Vec<usize>>()
        };
        let own = [free];
        let orders = [
            [&own[..], &self.staying, &rest(&self.staying)].concat(),
            [&self.staying[..], &own, &rest(&self.staying)].concat(),
        ];
        let mut at_a_cost = false;
        for order in orders {
            self.free.build(&order);
            if !self.free.serves(free) || !self.staying.iter().all(|&g| self.free.serves(g)) {
                continue;
            }
            if self.loose.iter().all(|&g| self.free.serves(g)) {
                return Some(Fit::OthersMove);
            }
            at_a_cost = true;
        }
        at_a_cost.then_some(Fit::AtACost)
    }
}

/// What a group has in the plan: its option, by how much its list of ovens is
/// turned, when it loads.
fn as_now(table: &Others<'_>, problem: &Problem, g: usize) -> Option<(usize, usize, i32)> {
    let group = &problem.groups[g];
    let plan = table.plan.plan();
    let choice = plan.choice(group.group)?;
    let load = plan.loads.iter().find(|l| l.group == group.group);
    let same = |o: &Choice| {
        let heat = o.bake.as_ref().map(|b| problem.heats[b.heat]);
        (o.method, o.tin) == (choice.method, choice.tin) && heat == load.map(|l| l.celsius)
    };
    let option = group.options.iter().position(same)?;
    let turn = load.and_then(|l| group.ovens.iter().position(|&o| problem.ovens[o].oven == l.oven));
    Some((option, turn.unwrap_or(0), load.map_or(i32::MIN, |l| l.start.get())))
}
