//! A lesson without one family of rules or another, to see which of them
//! stands in the way. What could be done with a rule can be done without it.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::alone::{only, possible};
use super::drop::LockChange;
use crate::graph::Problem;
use crate::graph::expand;
use crate::graph::problem::{Choice, WhenDone};
use crate::model::{GroupId, KitId, Lesson, LessonParts, LockedTo, Phase, TinId};
use crate::plan::why::Family;
use crate::plan::{Plan, Rule};
use crate::planner::explain::{Longer, anew, lift};
use crate::planner::{Trial, serve_all};
use crate::units::Millimetres;

/// Plans built to see whether a lift is enough.
const TRIES: u64 = 60;
/// More pupils than any step takes.
const MANY_PUPILS: i32 = 200;
/// Long before any lesson.
const LONG_AGO: i32 = -100_000;

/// A family of rules that is lifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lift {
    /// The oven it was put into works, and is the group's to use.
    Oven,
    /// Shelves have room.
    Shelf,
    /// Other locks of the group are let go.
    OwnLocks,
    /// Links to what was moved, from what comes before it.
    LinksIn,
    /// The bell.
    Bell,
    /// The opening steps of the class.
    Opening,
    /// Links from what was moved, to what comes after it.
    LinksOut,
    /// All links.
    Links,
    /// Steps of the class between opening and closing.
    ClassStep,
    /// Ovens need no time to reach a temperature.
    WarmUp,
    /// Ovens have all temperatures at a time.
    Temperature,
    /// Doors need not stay shut.
    Door,
    /// Any number of tins goes through an open door, with nobody at it.
    DoorHands,
    /// Adults are there at all times.
    Adults,
    /// Nobody is kept apart.
    KeepApart,
    /// There are pupils enough.
    Pupils,
    /// There is enough of one kind of kit.
    Kit(KitId),
    /// Tins are in stock, and hold what goes in.
    Tin,
    /// Locks of other groups are let go.
    OtherLocks,
}

impl Lift {
    /// Those of which there is one in any lesson, those first that say most
    /// plainly what is wrong.
    const FIRST: [Lift; 16] = [
        Lift::Oven,
        Lift::Shelf,
        Lift::OwnLocks,
        Lift::LinksIn,
        Lift::Bell,
        Lift::Opening,
        Lift::LinksOut,
        Lift::Links,
        Lift::ClassStep,
        Lift::WarmUp,
        Lift::Temperature,
        Lift::Door,
        Lift::DoorHands,
        Lift::Adults,
        Lift::KeepApart,
        Lift::Pupils,
    ];
    /// Those after the kinds of kit.
    const LAST: [Lift; 2] = [Lift::Tin, Lift::OtherLocks];

    /// All there are for a lesson, in the order in which they are tried.
    pub(super) fn all(lesson: &Lesson) -> Vec<Lift> {
        let kit = (0..lesson.kit_kinds.len()).map(|k| Lift::Kit(KitId(k)));
        Lift::FIRST.into_iter().chain(kit).chain(Lift::LAST).collect()
    }

    /// Whether it is about links and bells.
    pub(super) fn is_of_time(self) -> bool {
        use Lift as L;
        matches!(self, L::LinksIn | L::LinksOut | L::Links | L::Bell | L::Opening)
    }

    /// The rules it lifts, the one it is called by first.
    pub(super) fn rules(self) -> &'static [Rule] {
        match self {
            Lift::Oven => &[Rule::OneOven],
            Lift::Shelf => &[Rule::Shelf],
            Lift::OwnLocks | Lift::OtherLocks => &[Rule::Locked],
            Lift::LinksIn | Lift::LinksOut | Lift::Links => &[Rule::Order],
            Lift::Bell => &[Rule::Bell, Rule::Period],
            Lift::Opening => &[Rule::Period],
            Lift::ClassStep => &[Rule::ClassStep],
            Lift::WarmUp => &[Rule::WarmUp],
            Lift::Temperature => &[Rule::Temperature, Rule::WarmUp],
            Lift::Door => &[Rule::Door],
            Lift::DoorHands => &[Rule::DoorHands],
            Lift::Adults => &[Rule::Adults, Rule::DoorHands],
            Lift::KeepApart => &[Rule::KeepApart],
            Lift::Pupils => &[Rule::Pupils],
            Lift::Kit(_) => &[Rule::Kit],
            Lift::Tin => &[Rule::Tin],
        }
    }
}

/// Whose way is looked for, and what was moved.
#[derive(Clone, Copy)]
pub(super) struct LiftQuestion<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) groups: &'a [GroupId],
    pub(super) drop: &'a LockChange,
    pub(super) stop: &'a AtomicBool,
}

/// A plan of the groups without some families of rules, if one is found.
pub(super) fn without(asked: LiftQuestion<'_>, lifts: &[Lift]) -> Option<Plan> {
    let bare = only(asked.lesson, asked.groups)?;
    let mut parts = bare.clone().into_parts();
    lifts.iter().for_each(|l| in_lesson(asked, &mut parts, *l));
    let lifted = Lesson::new(parts).ok()?;
    let mut problem = expand(&lifted);
    lifts.iter().for_each(|l| in_problem(asked, &lifted, &mut problem, *l));
    anew(&mut problem);
    if !possible(&problem) {
        return None;
    }
    let mut plan = serve_all(&problem, (TRIES, 1), asked.stop)?;
    // The class does what it does, whatever is lifted.
    let all = expand(&bare);
    if lifts.iter().any(|l| matches!(l, Lift::Bell | Lift::Opening | Lift::ClassStep)) {
        let mut class = Trial::new(&all)?;
        class.build(&[]);
        plan.class_steps = class.written().class_steps;
    }
    Some(plan)
}

fn in_lesson(asked: LiftQuestion<'_>, parts: &mut LessonParts, lift: Lift) {
    let group = asked.drop.group;
    match lift {
        Lift::Oven => {
            let room = parts.groups[group.0].room;
            let of = parts.locks.iter().filter(|l| l.group == group);
            let ovens: Vec<_> = of
                .filter_map(|l| match l.to {
                    LockedTo::Oven(oven, _) => Some(oven),
                    _ => None,
                })
                .collect();
            for oven in ovens {
                let oven = &mut parts.ovens[oven.0];
                (oven.out_of_order, oven.room, oven.unit) = (false, room, None);
            }
        }
        Lift::Shelf => {
            let large = Millimetres::whole(Millimetres::LARGEST);
            for shelf in parts.ovens.iter_mut().flat_map(|o| &mut o.shelves) {
                (shelf.width, shelf.depth, shelf.clear) = (large, large, large);
            }
        }
        Lift::OwnLocks => {
            parts.locks.retain(|l| l.group != group || asked.drop.locks.contains(&l.to));
        }
        Lift::OtherLocks => parts.locks.retain(|l| l.group == group),
        Lift::Tin => parts.recipes.iter_mut().for_each(|r| r.batter = None),
        _ => {}
    }
}

fn in_problem(asked: LiftQuestion<'_>, lesson: &Lesson, problem: &mut Problem, lift: Lift) {
    let family = |problem: &mut Problem, family| {
        let all: Vec<usize> = (0..problem.groups.len()).collect();
        self::lift(lesson, problem, &all, family, Longer::Twice);
    };
    match lift {
        Lift::LinksIn => links(asked, lesson, problem, |ends| ends == (false, true)),
        Lift::LinksOut => links(asked, lesson, problem, |ends| ends == (true, false)),
        Lift::Links => family(problem, Family::Order),
        Lift::Bell => family(problem, Family::Bell),
        Lift::Opening => opening(lesson, problem),
        Lift::ClassStep => {
            let during = |s: &crate::graph::problem::ClassTask| {
                lesson.class_steps[s.step.0].phase == Phase::During
            };
            problem.fixed.retain(|s| !during(s));
            problem.floating.clear();
        }
        Lift::WarmUp => {
            for oven in &mut problem.ovens {
                oven.on_from = LONG_AGO;
                oven.changes.iter_mut().for_each(|row| row.fill(0));
            }
        }
        Lift::Temperature => family(problem, Family::Temperature),
        Lift::Door => family(problem, Family::Door),
        Lift::DoorHands => family(problem, Family::DoorHands),
        Lift::Adults => family(problem, Family::Adults),
        Lift::KeepApart => family(problem, Family::KeepApart),
        Lift::Pupils => problem.groups.iter_mut().for_each(|g| g.pupils = MANY_PUPILS),
        Lift::Kit(kit) => {
            family(problem, Family::Kit(kit));
            nothing_for_nothing(lesson, problem, kit);
        }
        Lift::Tin => {
            let tins: BTreeSet<TinId> = lesson.tin_pools.iter().map(|p| p.tin).collect();
            tins.into_iter().for_each(|tin| family(problem, Family::Tin(tin)));
        }
        Lift::Oven | Lift::Shelf | Lift::OwnLocks | Lift::OtherLocks => {}
    }
}

/// Where a group may use no such kit at all, it does without.
fn nothing_for_nothing(lesson: &Lesson, problem: &mut Problem, kit: KitId) {
    problem.change_options(|(group, _), option| {
        let method = lesson.method_of(group, option.method);
        for task in option.tasks.iter_mut().filter(|t| t.when == WhenDone::InLesson) {
            let of = &method.steps[task.step.0].kit;
            for (need, _) in task.needs.iter_mut().zip(of).filter(|(_, k)| k.0 == kit) {
                need.count = if need.pools.is_empty() { 0 } else { need.count };
            }
        }
        for (hold, of) in option.holds.iter_mut().zip(&method.holds) {
            if of.kit == kit && hold.need.pools.is_empty() {
                hold.need.count = 0;
            }
        }
    });
}

/// Takes away links of the moved group's steps: `which` is asked for each
/// whether its ends are of what was moved.
fn links(
    asked: LiftQuestion<'_>,
    lesson: &Lesson,
    problem: &mut Problem,
    which: impl Fn((bool, bool)) -> bool,
) {
    for group in problem.groups.iter_mut().filter(|g| g.group == asked.drop.group) {
        for option in Arc::make_mut(&mut group.options) {
            let method = lesson.method_of(group.group, option.method);
            let is = |task: usize| asked.drop.starts.contains(&method.steps[task].name);
            for (i, task) in option.tasks.iter_mut().enumerate() {
                task.before.retain(|gap| !which((is(gap.task), is(i))));
                task.after.retain(|gap| !which((is(i), is(gap.task))));
            }
        }
    }
}

/// Hands may begin at the start bell, or at the first minute that is locked.
fn opening(lesson: &Lesson, problem: &mut Problem) {
    let of_opening =
        |s: &crate::graph::problem::ClassTask| lesson.class_steps[s.step.0].phase == Phase::Opening;
    problem.fixed.retain(|s| !of_opening(s));
    for (p, period) in problem.periods.iter_mut().enumerate() {
        let tasks = problem.groups.iter().filter(|g| g.period == p);
        let tasks = tasks.flat_map(|g| g.options.iter()).flat_map(|o| &o.tasks);
        let locked = tasks.filter(|t| t.when == WhenDone::InLesson).filter_map(|t| t.locked).min();
        let options =
            problem.groups.iter().filter(|g| g.period == p).flat_map(|g| g.options.iter());
        let first = options.filter_map(first_in).chain(locked).min();
        period.start = period.start.min(first.unwrap_or(period.start));
        period.opening_end = period.start;
    }
}

/// When tins go in, if one of the three steps of the bake is locked.
fn first_in(option: &Choice) -> Option<i32> {
    let bake = option.bake.as_ref()?;
    let [load, in_oven, out] = [bake.load, bake.bake, bake.out].map(|t| &option.tasks[t]);
    let by_bake = in_oven.locked.map(|at| at - load.minutes);
    let by_out = out.locked.map(|at| at - in_oven.minutes - load.minutes);
    [load.locked, by_bake, by_out].into_iter().flatten().min()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rules that nobody lifts by hand: without them there is no plan of the
    /// group at all, or none that bakes.
    const ALWAYS_KEPT: [Rule; 3] = [Rule::WholeGroup, Rule::BakeTime, Rule::CoolEnough];

    #[test]
    fn every_rule_can_be_lifted_or_is_always_kept() {
        let all = Lift::FIRST.into_iter().chain(Lift::LAST).chain([Lift::Kit(KitId(0))]);
        let lifted: BTreeSet<Rule> = all.flat_map(|l| l.rules()).copied().collect();
        let kept: BTreeSet<Rule> = ALWAYS_KEPT.into_iter().collect();
        assert!(lifted.is_disjoint(&kept));
        assert_eq!(lifted.union(&kept).count(), Rule::ALL.len());
    }
}
